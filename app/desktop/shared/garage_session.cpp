#include "app/desktop/shared/garage_session.h"

#include "app/desktop/shared/settings.h"
#include "core/stopped.h"
#include "storage/sample_garage.h"

#include <QDir>
#include <QFile>
#include <QFileInfo>
#include <QGuiApplication>
#include <QStandardPaths>

#include <chrono>

namespace rw {

namespace {

constexpr int pollMilliseconds = 1000;
// The interface thread waits no longer for another program that commits; longer work belongs to a thread of its own.
constexpr std::chrono::milliseconds patience{400};
constexpr qint64 checkedAtOnce = qint64{16} * 1024 * 1024; // bytes: checked within a few milliseconds

GarageOptions ownOptions() {
    GarageOptions options;
    options.wait = patience;
    return options;
}

QString dataFolder() { return QStandardPaths::writableLocation(QStandardPaths::AppDataLocation); }

} // namespace

GarageSession::GarageSession(Settings& settings, Jobs& jobs)
    : settings_(settings)
    , runner_(jobs) {
    timer_.setInterval(pollMilliseconds);
    connect(&timer_, &QTimer::timeout, this, &GarageSession::poll);
    connect(qGuiApp, &QGuiApplication::applicationStateChanged, this, [this](Qt::ApplicationState state) {
        if (state == Qt::ApplicationActive) poll();
    });
}

QString GarageSession::path() const { return garage_ ? QString::fromStdString(garage_->path()) : QString(); }

bool GarageSession::writable() const {
    return garage_ && garage_->access() == Garage::Access::ReadWrite && garage_->inPlace();
}

bool GarageSession::open(const QString& path) {
    if (QFileInfo(path).size() > checkedAtOnce) return openBeside(path);
    try {
        adopt(Garage::open(path.toStdString(), ownOptions()));
    } catch (const std::exception& error) {
        emit complained(tr("The garage did not open"), QString::fromUtf8(error.what()));
        return false;
    }
    tellCondition();
    return true;
}

bool GarageSession::openBeside(const QString& path) {
    const auto work = [this, path](const WorkOptions&) -> JobRunner::Done {
        const auto garage = std::make_shared<Garage>(Garage::open(path.toStdString(), ownOptions()));
        return [this, garage] {
            adopt(std::move(*garage));
            tellCondition();
        };
    };
    const QString title = tr("The garage did not open");
    const bool begun =
        runner_.run(tr("Checking %1").arg(QFileInfo(path).fileName()), work,
                    {[this, title](const QString& sentence) { emit complained(title, sentence); }, [] {}});
    if (!begun) emit complained(title, tr("Another one is being opened: wait for it."));
    return begun;
}

void GarageSession::tellCondition() {
    for (const std::string& problem : garage_->problems())
        emit complained(tr("This garage is damaged"), QString::fromStdString(problem));
    if (garage_->access() == Garage::Access::ReadOnly)
        emit complained(
            tr("Open for reading only"),
            tr("%1 or its folder may not be written to, so nothing can be changed here. Keep a copy of it elsewhere to "
               "work on.")
                .arg(QFileInfo(path()).fileName()));
}

bool GarageSession::create(const QString& path) {
    try {
        QDir().mkpath(QFileInfo(path).absolutePath());
        adopt(Garage::create(path.toStdString(), ownOptions()));
    } catch (const std::exception& error) {
        emit complained(tr("No garage was made"), QString::fromUtf8(error.what()));
        return false;
    }
    return true;
}

bool GarageSession::openDefault() {
    return QFileInfo::exists(defaultPath()) ? open(defaultPath()) : create(defaultPath());
}

void GarageSession::openSample(const QString& path) {
    if (QFileInfo::exists(path)) return void(open(path));
    QDir().mkpath(QFileInfo(path).absolutePath());
    const auto work = [this, path](const WorkOptions& options) -> JobRunner::Done {
        (void)createSampleGarage(path.toStdString(), [&options](double share) {
            throwIfStopped(options.stop);
            options.progress(share);
        });
        return [this, path] { open(path); };
    };
    const auto failed = [this](const QString& sentence) {
        emit complained(tr("The sample garage was not made"), sentence);
    };
    (void)runner_.run(tr("Making the sample garage"), work,
                      {failed, [failed] { failed(tr("it was stopped")); }}); // asked for twice, it is made once
}

void GarageSession::close() {
    timer_.stop();
    garage_.reset();
    emit opened();
}

bool GarageSession::attempt(const QString& what, const std::function<void(Garage&)>& action) {
    if (!garage_) {
        emit complained(what, tr("No garage is open: open one or make one under File."));
        return false;
    }
    try {
        action(*garage_);
        poll();
    } catch (const std::exception& error) {
        emit complained(what, QString::fromUtf8(error.what()));
        return false;
    }
    return true;
}

bool GarageSession::change(const QString& what, const std::function<void(Garage&)>& action) {
    if (!attempt(what, action)) return false;
    emit stepMade();
    return true;
}

QString GarageSession::defaultPath() { return dataFolder() + QStringLiteral("/garage.runwright"); }
QString GarageSession::samplePath() { return dataFolder() + QStringLiteral("/sample.runwright"); }

bool GarageSession::looksLikeGarage(const QString& path) {
    QFile file(path);
    return file.open(QIODevice::ReadOnly) && file.read(16) == QByteArray("SQLite format 3\0", 16);
}

void GarageSession::adopt(Garage garage) {
    garage_.emplace(std::move(garage));
    stale_ = false;
    trouble_.clear();
    wasInPlace_ = true;
    try {
        seen_ = garage_->changeCounter();
    } catch (const GarageError&) { // someone commits at this very moment
        stale_ = true;
    }
    settings_.setGarageFile(path());
    timer_.start();
    emit opened();
}

bool GarageSession::noteWhetherInPlace() {
    if (std::exchange(wasInPlace_, garage_->inPlace()) == garage_->inPlace()) return false;
    const QString file = QFileInfo(path()).fileName();
    if (wasInPlace_)
        emit complained(tr("The garage is back"), tr("%1 is where it was; changes are kept again.").arg(file));
    else if (QFileInfo::exists(path()))
        emit complained(
            tr("The garage was replaced"),
            tr("Another file lies at %1 now. Open it to go on; what this window still shows can be kept with “Keep a "
               "copy…” in the Garage menu.")
                .arg(path()));
    else
        emit complained(
            tr("The garage is gone"),
            tr("%1 was moved or deleted while it was open, so changes cannot be kept. Put it back, or keep what this "
               "window still holds with “Keep a copy…” in the Garage menu.")
                .arg(path()));
    return true;
}

bool GarageSession::look(const std::function<void(Garage&)>& question) {
    if (!garage_) return false;
    try {
        question(*garage_);
    } catch (const std::exception& error) {
        stale_ = true;
        const QString sentence = QString::fromUtf8(error.what());
        if (std::exchange(trouble_, sentence) != sentence) emit complained(tr("The garage does not answer"), sentence);
        return false;
    }
    return true;
}

// Another window or program may have written: views refresh when the counter grew. A garage that is locked at this
// moment is asked again at the next tick.
void GarageSession::poll() {
    if (!garage_) return;
    bool news = noteWhetherInPlace();
    try {
        const std::uint64_t now = garage_->changeCounter();
        news = news || now != seen_ || stale_;
        seen_ = now;
    } catch (const GarageError&) {
        return;
    }
    if (!news) return;
    stale_ = false;
    emit changed();
    if (!stale_) trouble_.clear();
}

} // namespace rw
