#include "app/desktop/shared/garage_session.h"

#include "app/desktop/shared/jobs.h"
#include "app/desktop/shared/settings.h"
#include "core/error.h"
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

QString dataFolder() { return QStandardPaths::writableLocation(QStandardPaths::AppDataLocation); }

} // namespace

GarageSession::GarageSession(Settings& settings, Jobs& jobs, QObject* parent)
    : QObject(parent)
    , settings_(settings)
    , jobs_(jobs) {
    timer_.setInterval(pollMilliseconds);
    connect(&timer_, &QTimer::timeout, this, &GarageSession::poll);
    connect(qGuiApp, &QGuiApplication::applicationStateChanged, this, [this](Qt::ApplicationState state) {
        if (state == Qt::ApplicationActive) poll();
    });
}

GarageSession::~GarageSession() = default;

QString GarageSession::path() const { return garage_ ? QString::fromStdString(garage_->path()) : QString(); }

bool GarageSession::writable() const {
    return garage_ && garage_->access() == Garage::Access::ReadWrite && garage_->inPlace();
}

bool GarageSession::open(const QString& path) {
    try {
        GarageOptions options;
        options.wait = patience;
        adopt(Garage::open(path.toStdString(), options));
    } catch (const std::exception& error) {
        emit complained(tr("The garage did not open"), QString::fromUtf8(error.what()));
        return false;
    }
    for (const std::string& problem : garage_->problems())
        emit complained(tr("This garage is damaged"), QString::fromStdString(problem));
    if (garage_->access() == Garage::Access::ReadOnly)
        emit complained(
            tr("Open for reading only"),
            tr("%1 or its folder may not be written to, so nothing can be changed here. Keep a copy of it elsewhere to "
               "work on.")
                .arg(QFileInfo(path).fileName()));
    return true;
}

bool GarageSession::create(const QString& path) {
    try {
        QDir().mkpath(QFileInfo(path).absolutePath());
        GarageOptions options;
        options.wait = patience;
        adopt(Garage::create(path.toStdString(), options));
    } catch (const std::exception& error) {
        emit complained(tr("No garage was made"), QString::fromUtf8(error.what()));
        return false;
    }
    return true;
}

void GarageSession::openSample(const QString& path) {
    if (QFileInfo::exists(path)) {
        open(path);
        return;
    }
    if (std::exchange(makingSample_, true)) return;
    QDir().mkpath(QFileInfo(path).absolutePath());
    const int job = jobs_.begin(tr("Making the sample garage"), [this] { worker_.request_stop(); });
    worker_ = std::jthread([this, job, path](const std::stop_token& stop) {
        QString trouble;
        try {
            (void)createSampleGarage(path.toStdString(), [this, job, &stop](double share) {
                if (stop.stop_requested())
                    throw GarageError(GarageError::Kind::Stopped, tr("it was stopped").toStdString());
                QMetaObject::invokeMethod(this, [this, job, share] { jobs_.progress(job, share); });
            });
        } catch (const std::exception& error) {
            trouble = QString::fromUtf8(error.what());
        }
        QMetaObject::invokeMethod(this, [this, job, path, trouble] {
            makingSample_ = false;
            jobs_.end(job);
            if (trouble.isEmpty())
                open(path);
            else
                emit complained(tr("The sample garage was not made"), trouble);
        });
    });
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
