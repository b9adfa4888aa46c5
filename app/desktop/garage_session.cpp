#include "app/desktop/garage_session.h"

#include "app/desktop/jobs.h"
#include "app/desktop/settings.h"
#include "core/error.h"
#include "storage/sample_garage.h"

#include <QDir>
#include <QFile>
#include <QFileInfo>
#include <QStandardPaths>

namespace rw {

namespace {

constexpr int pollMilliseconds = 1000;

QString dataFolder() { return QStandardPaths::writableLocation(QStandardPaths::AppDataLocation); }

} // namespace

GarageSession::GarageSession(Settings& settings, Jobs& jobs, QObject* parent)
    : QObject(parent)
    , settings_(settings)
    , jobs_(jobs) {
    timer_.setInterval(pollMilliseconds);
    connect(&timer_, &QTimer::timeout, this, &GarageSession::poll);
}

GarageSession::~GarageSession() = default;

QString GarageSession::path() const { return garage_ ? QString::fromStdString(garage_->path()) : QString(); }

bool GarageSession::writable() const { return garage_ && garage_->access() == Garage::Access::ReadWrite; }

bool GarageSession::open(const QString& path) {
    try {
        adopt(Garage::open(path.toStdString()));
    } catch (const std::exception& error) {
        emit complained(tr("The garage did not open"), QString::fromUtf8(error.what()));
        return false;
    }
    for (const std::string& problem : garage_->problems())
        emit complained(tr("This garage is damaged"), QString::fromStdString(problem));
    return true;
}

bool GarageSession::create(const QString& path) {
    try {
        QDir().mkpath(QFileInfo(path).absolutePath());
        adopt(Garage::create(path.toStdString()));
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
    QDir().mkpath(QFileInfo(path).absolutePath());
    const int job = jobs_.begin(tr("Making the sample garage"), nullptr);
    // Made beside its place and moved there whole: a half-made sample never looks like a garage.
    const QString half = path + QStringLiteral(".part");
    QFile::remove(half);
    worker_ = std::jthread([this, job, path, half] {
        QString trouble;
        try {
            const auto told = [this, job](double share) {
                QMetaObject::invokeMethod(this, [this, job, share] { jobs_.progress(job, share); });
            };
            (void)createSampleGarage(half.toStdString(), told);
        } catch (const std::exception& error) {
            trouble = QString::fromUtf8(error.what());
        }
        QMetaObject::invokeMethod(this, [this, job, path, half, trouble] {
            jobs_.end(job);
            if (!trouble.isEmpty()) {
                QFile::remove(half);
                emit complained(tr("The sample garage was not made"), trouble);
            } else if (QFile::rename(half, path)) {
                open(path);
            }
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
    seen_ = garage_->changeCounter();
    settings_.setGarageFile(path());
    timer_.start();
    emit opened();
}

// Another window or program may have written: views refresh when the counter grew. A garage that is locked at this
// moment is asked again at the next tick; one that is gone says so when it is used.
void GarageSession::poll() {
    if (!garage_) return;
    try {
        const std::uint64_t now = garage_->changeCounter();
        if (now == seen_) return;
        seen_ = now;
    } catch (const GarageError&) {
        return;
    }
    emit changed();
}

} // namespace rw
