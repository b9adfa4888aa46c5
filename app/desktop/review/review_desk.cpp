#include "app/desktop/review/review_desk.h"

#include "app/desktop/review/review_edit.h"
#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/jobs.h"
#include "storage/log_record.h"

#include <QFileInfo>

#include <algorithm>
#include <utility>

namespace rw {

namespace {

constexpr double airAround = 0.15; // of a span, on either side, where it is brought into view

Range withAir(Range span, double least) {
    const double air = std::max(airAround * span.span(), 0.5 * (least - span.span()));
    return {span.from - std::max(0.0, air), span.to + std::max(0.0, air)};
}

// A stopped piece of work delivers nothing: its answer is stale by then.
template<class Work>
ReviewData unlessStopped(Work work) {
    try {
        return work();
    } catch (const Stopped&) {
        return {};
    }
}

} // namespace

ReviewDesk::ReviewDesk(const Desk& desk, QUndoStack& undo, QObject* parent)
    : QObject(parent)
    , desk_(desk)
    , undo_(undo)
    , reader_(
          this,
          [this](const DataPtr& data) {
              loading_.clear();
              endJob();
              adopt(data);
              emit busyChanged();
              readNext();
          },
          [this](const QString& sentence) {
              loading_.clear();
              endJob();
              emit busyChanged();
              emit complained(tr("The log was not opened"), sentence);
              readNext();
          })
    , judge_(
          this,
          [this](const DataPtr& data) {
              asked_.reset();
              adopt(data);
          },
          [this](const QString& sentence) {
              asked_.reset();
              emit busyChanged();
              emit complained(tr("The log was not judged anew"), sentence);
          }) {
    connect(&desk_.bench, &Bench::changed, this, [this] {
        if (againstBench_ && data_ && !data_->ownPlan) judge(latestOptions());
    });
}

ReviewDesk::~ReviewDesk() { endJob(); }

bool ReviewDesk::busy() const { return reader_.busy() || judge_.busy(); }

void ReviewDesk::endJob() {
    if (job_ != 0) desk_.jobs.end(job_);
    job_ = 0;
}

std::vector<ColumnMap> ReviewDesk::ownMaps() const {
    std::vector<ColumnMap> maps;
    if (!desk_.garage.isOpen()) return maps;
    try {
        for (const Part& part : desk_.garage.garage().parts(ItemKind::ColumnMap)) {
            maps.push_back(readColumnMap(part.document, part.name));
        }
    } catch (const std::exception&) {
        return maps; // a map that cannot be read is no reason not to read a log: columns are matched as without it
    }
    return maps;
}

void ReviewDesk::setPlan(ReviewOptions& options, const std::optional<PlanInput>& own) const {
    options.plan = own;
    if (!own && againstBench_ && !desk_.bench.empty()) options.plan = *desk_.bench.content().input;
}

void ReviewDesk::readNext() {
    if (waiting_.empty() || reader_.busy()) return;
    Wanted next = std::move(waiting_.front());
    waiting_.erase(waiting_.begin());
    read(std::move(next));
}

void ReviewDesk::open(const QString& path) {
    Wanted wanted;
    wanted.source.path = QFileInfo(path).absoluteFilePath().toStdString();
    read(std::move(wanted));
}

void ReviewDesk::openKept(Id log) {
    if (!desk_.garage.isOpen()) return;
    try {
        Garage& garage = desk_.garage.garage();
        const StoredLog stored = garage.log(log);
        Wanted wanted;
        wanted.source = {stored.name, garage.path(), log};
        wanted.options.edits = readReviewEdits(stored.edits);
        if (stored.columnMap) wanted.import.map = readColumnMap(garage.part(*stored.columnMap).document, stored.name);
        if (stored.setup && stored.outing) {
            const auto venue = garage.outing(*stored.outing).venue;
            if (venue) wanted.ownPlan = garage.planInput(*stored.setup, *venue, *stored.outing);
        }
        read(std::move(wanted));
    } catch (const std::exception& error) {
        emit complained(tr("The log was not opened"), QString::fromUtf8(error.what()));
    }
}

void ReviewDesk::readAgain(const ImportOptions& import) {
    if (!data_) return;
    read({data_->id, data_->source, import, data_->options, data_->ownPlan});
}

void ReviewDesk::read(Wanted wanted) {
    if (reader_.busy()) return waiting_.push_back(std::move(wanted));
    if (wanted.id == 0) { // open already: read again with what was said of it
        const auto same =
            std::find_if(logs_.begin(), logs_.end(), [&](const DataPtr& log) { return log->source == wanted.source; });
        if (same != logs_.end()) {
            const DataPtr before = *same;
            wanted = {before->id, before->source, before->import, before->options, before->ownPlan};
        } else {
            wanted.id = ++lastId_;
        }
    }
    setPlan(wanted.options, wanted.ownPlan);
    endJob();
    loading_ = QFileInfo(QString::fromStdString(wanted.source.path)).fileName();
    job_ = desk_.jobs.begin(tr("Reading %1").arg(loading_), [this] {
        reader_.cancel();
        waiting_.clear();
        loading_.clear();
        endJob();
        emit busyChanged();
    });
    const auto told = [this, job = job_](double share) {
        QMetaObject::invokeMethod(this, [this, job, share] { desk_.jobs.progress(job, share); });
    };
    reader_.ask([wanted = std::move(wanted), maps = ownMaps(), told](std::stop_token stop) {
        return unlessStopped([&] {
            ReviewData data = readReview(wanted.source, wanted.import, wanted.options, maps, stop, told);
            data.id = wanted.id;
            data.ownPlan = wanted.ownPlan;
            return data;
        });
    });
    emit busyChanged();
}

// Another log is in view: nothing of what was seen of the one before holds.
void ReviewDesk::lookAnew(const DataPtr& data) {
    constexpr double smallestSpan = 0.02; // s; below that there is nothing to see in any log
    asked_.reset();
    pass_.reset();
    axis_.setPinned(false);
    axis_.setAnchor(std::nullopt);
    axis_.setCursor(std::nullopt);
    axis_.setBounds(data->span());
    axis_.setSmallestSpan(smallestSpan);
}

void ReviewDesk::adopt(const DataPtr& data) {
    if (data->log == nullptr) return;
    const auto same = std::find_if(logs_.begin(), logs_.end(), [&](const DataPtr& log) { return log->id == data->id; });
    const bool known = same != logs_.end();
    const bool sameRows = known && (*same)->log == data->log;
    DataPtr before;
    if (known)
        before = std::exchange(*same, data);
    else
        logs_.push_back(data);
    const bool wasShown = data_ != nullptr && data_->id == data->id;
    if (sameRows && !wasShown) return emit logsChanged(); // shares its rows with what was before
    data_ = data;
    if (pass_ && *pass_ >= data->review->passes.size()) pass_.reset();
    if (!sameRows) {
        lookAnew(data);
    } else { // a moved boundary may lengthen or shorten the axis: what is seen stays
        const Range seen = axis_.range();
        axis_.setBounds(data->span());
        axis_.setRange(seen);
    }
    emit dataChanged();
    emit logsChanged();
    emit passChosen();
    emit busyChanged();
    if (!known) emit opened(data->source.kept ? QString() : QString::fromStdString(data->source.path));
    letGo(std::move(before));
}

void ReviewDesk::letGo(DataPtr data) {
    lettingGo_ = std::jthread([held = std::move(data)]() mutable { held.reset(); });
}

void ReviewDesk::show(int id) {
    for (const DataPtr& log : logs_) {
        if (log->id != id || log == data_) continue;
        data_ = log;
        lookAnew(log);
        emit dataChanged();
        emit logsChanged();
        emit passChosen();
        return;
    }
}

void ReviewDesk::closeLog(int id) {
    const auto log =
        std::find_if(logs_.begin(), logs_.end(), [id](const DataPtr& candidate) { return candidate->id == id; });
    if (log == logs_.end()) return;
    DataPtr closed = std::move(*log);
    logs_.erase(log);
    if (data_ && data_->id == id) {
        data_.reset();
        pass_.reset();
        if (logs_.empty()) {
            emit dataChanged();
            emit passChosen();
        } else {
            show(logs_.back()->id);
        }
    }
    emit logsChanged();
    letGo(std::move(closed));
}

ReviewOptions ReviewDesk::latestOptions() const { return asked_ ? *asked_ : data_ ? data_->options : ReviewOptions{}; }

void ReviewDesk::judge(ReviewOptions options) {
    if (!data_) return;
    setPlan(options, data_->ownPlan);
    asked_ = options;
    judge_.ask([base = data_, options = std::move(options)](std::stop_token stop) {
        return unlessStopped([&] { return reviewAgain(*base, options, stop); });
    });
    emit busyChanged();
}

void ReviewDesk::setTrack(const QString& path) {
    if (!data_) return;
    ReviewOptions options = latestOptions();
    options.track = readGpsFile(path.toStdString());
    judge(std::move(options));
}

void ReviewDesk::setJudging(const std::vector<int>& cells, std::optional<double> cutoffCell, double trackNudge) {
    if (!data_) return;
    ReviewOptions options = latestOptions();
    options.cells = cells;
    options.cutoffCell = cutoffCell;
    options.trackNudge = trackNudge;
    judge(std::move(options));
}

void ReviewDesk::setAgainstBench(bool on) {
    if (on == againstBench_) return;
    againstBench_ = on;
    if (data_) judge(latestOptions());
}

void ReviewDesk::choosePass(std::optional<std::size_t> pass) {
    if (pass == pass_ || (pass && (!data_ || *pass >= data_->review->passes.size()))) return;
    pass_ = pass;
    emit passChosen();
}

void ReviewDesk::goToPass(std::size_t pass) {
    if (!data_ || pass >= data_->review->passes.size()) return;
    choosePass(pass);
    axis_.setRange(withAir(data_->spanOfPass(pass), 4.0));
}

void ReviewDesk::goToSession(std::size_t session) {
    if (!data_ || session >= data_->review->sessions.size()) return;
    axis_.setRange(data_->spanOfSession(session));
}

void ReviewDesk::goToFinding(std::size_t finding) {
    if (!data_ || finding >= data_->review->findings.size()) return;
    const Finding& what = data_->review->findings[finding];
    if (what.pass) choosePass(*what.pass);
    axis_.setRange(withAir(data_->spanOfFinding(what), 4.0));
    axis_.setAnchor(std::nullopt);
    axis_.setPinned(true);
    axis_.setCursor(data_->axisTime(what.session, what.at));
    emit findingShown(static_cast<int>(finding));
}

ReviewEdits ReviewDesk::edits() const { return latestOptions().edits; }

void ReviewDesk::edit(const QString& text, ReviewEdits edits) {
    const ReviewEdits before = this->edits();
    if (!data_ || edits == before) return;
    undo_.push(new EditCommand(*this, data_->id, before, std::move(edits), text));
}

void ReviewDesk::setEdits(int log, const ReviewEdits& edits) {
    show(log);
    if (!data_ || data_->id != log) return; // closed since
    ReviewOptions options = latestOptions();
    options.edits = edits;
    judge(std::move(options));
}

} // namespace rw
