#include "app/desktop/plan/bench_recovery.h"

#include "app/desktop/plan/plan_session.h"
#include "app/desktop/shared/settings.h"
#include "app/desktop/shared/widgets.h"
#include "core/plan/plan_json.h"

#include <QDir>
#include <QFile>
#include <QJsonDocument>
#include <QJsonObject>
#include <QSaveFile>

namespace rw {

namespace {

constexpr int idleMilliseconds = 400; // after the last change
constexpr int mostPrograms = 8;       // running at once, each with a file of its own
constexpr qint64 largestFile = qint64{8} * 1024 * 1024;

struct NamedText {
    const char* key;
    QString BenchContent::*text;
};
constexpr NamedText texts[] = {{"name", &BenchContent::name},
                               {"vehicle", &BenchContent::vehicle},
                               {"motor", &BenchContent::motor},
                               {"controller", &BenchContent::controller},
                               {"pack", &BenchContent::pack},
                               {"tyre", &BenchContent::tyre},
                               {"venue", &BenchContent::venue},
                               {"setup_id", &BenchContent::setupId},
                               {"vehicle_id", &BenchContent::vehicleId},
                               {"venue_id", &BenchContent::venueId},
                               {"pack_id", &BenchContent::packId},
                               {"motor_id", &BenchContent::motorId},
                               {"file", &BenchContent::file}};

QString planText(const PlanInput& input) { return QString::fromStdString(writePlanInput(input)); }

QByteArray document(const BenchContent& content, const PlanInput& kept, const PlanInput& input, const QString& garage) {
    QJsonObject out{{QStringLiteral("garage"), garage},
                    {QStringLiteral("revision"), content.revision},
                    {QStringLiteral("pack_series"), content.packSeries},
                    {QStringLiteral("pack_parallel"), content.packParallel},
                    {QStringLiteral("pack_capacity_Ah"), content.packCapacity_Ah},
                    {QStringLiteral("kept"), planText(kept)},
                    {QStringLiteral("input"), planText(input)}};
    for (const NamedText& row : texts)
        out.insert(QLatin1String(row.key), content.*row.text);
    QJsonObject sources;
    for (const auto& [key, source] : content.sources)
        sources.insert(key, source);
    out.insert(QStringLiteral("sources"), sources);
    return QJsonDocument(out).toJson(QJsonDocument::Compact);
}

// Whole or not at all: a kill while it is written leaves the one before.
bool writeWhole(const QString& path, const QByteArray& bytes) {
    QSaveFile file(path);
    return file.open(QIODevice::WriteOnly) && file.write(bytes) == bytes.size() && file.commit();
}

} // namespace

BenchRecovery::BenchRecovery(PlanSession& session)
    : session_(session)
    , worker_(std::make_unique<LatestWorker<bool>>(this, [](const std::shared_ptr<const bool>&, const QString&) {})) {
    takeSlot();
    once(soon_, idleMilliseconds, this, &BenchRecovery::write);
    connect(&session_, &PlanSession::inputChanged, this, &BenchRecovery::writeSoon);
    connect(&session_, &PlanSession::keptChanged, this, &BenchRecovery::writeSoon);
}

// What is kept or given up leaves nothing behind; a file that is being written is waited for.
BenchRecovery::~BenchRecovery() {
    worker_.reset();
    if (!file_.isEmpty() && (forgotten_ || !session_.modified())) QFile::remove(file_);
}

void BenchRecovery::takeSlot() {
    const QString folder = session_.desk().settings.stateFolder();
    if (folder.isEmpty() || !QDir().mkpath(folder)) return;
    for (int slot = 1; slot <= mostPrograms; ++slot) {
        const QString path = folder + QStringLiteral("/bench-%1.json").arg(slot);
        auto lock = std::make_unique<QLockFile>(path + QStringLiteral(".lock"));
        lock->setStaleLockTime(0); // only the end of the program that holds it frees it
        if (!lock->tryLock()) continue;
        lock_ = std::move(lock);
        file_ = path;
        return;
    }
}

std::optional<BenchRecovery::Left> BenchRecovery::read() const {
    QFile file(file_);
    if (file_.isEmpty() || !file.open(QIODevice::ReadOnly) || file.size() > largestFile) return std::nullopt;
    const QJsonObject in = QJsonDocument::fromJson(file.readAll()).object();
    const auto plan = [&in](const char* key) {
        return readPlanInput(in.value(QLatin1String(key)).toString().toStdString(), "bench");
    };
    try {
        Left left;
        left.content.input = std::make_shared<const PlanInput>(plan("kept"));
        left.input = plan("input");
        for (const NamedText& row : texts)
            left.content.*row.text = in.value(QLatin1String(row.key)).toString();
        left.content.revision = in.value(QStringLiteral("revision")).toInt();
        left.content.packSeries = in.value(QStringLiteral("pack_series")).toInt();
        left.content.packParallel = in.value(QStringLiteral("pack_parallel")).toInt();
        left.content.packCapacity_Ah = in.value(QStringLiteral("pack_capacity_Ah")).toDouble();
        const QJsonObject sources = in.value(QStringLiteral("sources")).toObject();
        for (auto source = sources.begin(); source != sources.end(); ++source)
            left.content.sources[source.key()] = source.value().toString();
        if (in.value(QStringLiteral("garage")).toString() != session_.desk().settings.garageFile()) {
            for (QString BenchContent::*id : {&BenchContent::setupId, &BenchContent::vehicleId, &BenchContent::venueId,
                                              &BenchContent::packId, &BenchContent::motorId})
                (left.content.*id).clear(); // they mean other things in another garage
            left.content.revision = 0;
        }
        return left;
    } catch (const std::exception&) {
        return std::nullopt; // damaged: nothing that could be put back
    }
}

void BenchRecovery::restore() {
    if (!session_.empty()) return;
    const std::optional<Left> left = read();
    if (!left) return;
    session_.desk().bench.put(left->content);
    session_.endEdit();
    session_.edit(tr("bring back what was not kept"), {}, left->input);
    session_.endEdit();
    const auto count = session_.changes().size();
    const QString sentence =
        count == 1 ? tr("One change that was not kept is back on the bench; Ctrl+Z drops it.")
                   : tr("%1 changes that were not kept are back on the bench; Ctrl+Z drops them.").arg(count);
    // Once the window listens.
    QMetaObject::invokeMethod(
        this, [this, sentence] { emit session_.desk().voice.said(sentence); }, Qt::QueuedConnection);
}

void BenchRecovery::forget() {
    soon_.stop();
    forgotten_ = true;
}

void BenchRecovery::writeSoon() {
    forgotten_ = false; // changed again: the window stayed
    if (!file_.isEmpty()) soon_.start();
}

// Off the interface thread: a disk may take its time.
void BenchRecovery::write() {
    const bool wanted = session_.modified();
    worker_->ask([wanted, path = file_, content = session_.desk().bench.content(), kept = session_.sharedKept(),
                  input = session_.shared(), garage = session_.desk().settings.garageFile()](const std::stop_token&) {
        return wanted ? writeWhole(path, document(content, *kept, *input, garage)) : QFile::remove(path);
    });
}

} // namespace rw
