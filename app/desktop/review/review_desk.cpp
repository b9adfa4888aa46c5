#include "app/desktop/review/review_desk.h"

#include "app/desktop/bench.h"
#include "app/desktop/garage_session.h"
#include "app/desktop/jobs.h"
#include "app/desktop/review/review_edit.h"

#include <QFileInfo>

#include <algorithm>

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
          this, [this](const DataPtr& data) { adopt(data); },
          [this](const QString& sentence) {
              emit busyChanged();
              emit complained(tr("The log was not judged anew"), sentence);
          }) {
    connect(&desk_.bench, &Bench::changed, this, [this] {
        if (againstBench_ && data_) judge(data_->options);
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

ReviewOptions ReviewDesk::currentOptions() const {
    ReviewOptions options;
    if (againstBench_ && !desk_.bench.empty()) options.plan = *desk_.bench.content().input;
    return options;
}

void ReviewDesk::readNext() {
    if (!waiting_.isEmpty() && !reader_.busy()) open(waiting_.takeFirst());
}

void ReviewDesk::open(const QString& path) {
    if (reader_.busy()) return waiting_.append(path);
    const std::string wanted = QFileInfo(path).absoluteFilePath().toStdString();
    const auto same = std::find_if(logs_.begin(), logs_.end(), [&](const DataPtr& log) { return log->path == wanted; });
    if (same == logs_.end()) return read(QString::fromStdString(wanted), {}, currentOptions(), ++lastId_);
    const DataPtr before = *same;
    read(QString::fromStdString(wanted), before->import, before->options, before->id);
}

void ReviewDesk::readAgain(const ImportOptions& import) {
    if (data_) read(QString::fromStdString(data_->path), import, data_->options, data_->id);
}

void ReviewDesk::read(const QString& path, const ImportOptions& import, const ReviewOptions& options, int id) {
    endJob();
    loading_ = QFileInfo(path).fileName();
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
    reader_.ask([=, maps = ownMaps(), file = path.toStdString()](std::stop_token stop) {
        return unlessStopped([&] {
            ReviewData data = readReview(file, import, options, maps, stop, told);
            data.id = id;
            return data;
        });
    });
    emit busyChanged();
}

void ReviewDesk::adopt(const DataPtr& data) {
    if (data->log == nullptr) return;
    const auto same = std::find_if(logs_.begin(), logs_.end(), [&](const DataPtr& log) { return log->id == data->id; });
    const bool known = same != logs_.end();
    const bool sameRows = known && (*same)->log == data->log;
    if (known) *same = data;
    else logs_.push_back(data);
    const bool wasShown = data_ != nullptr && data_->id == data->id;
    if (sameRows && !wasShown) return emit logsChanged();
    data_ = data;
    if (pass_ && *pass_ >= data->review->passes.size()) pass_.reset();
    if (!sameRows) {
        pass_.reset();
        axis_.setPinned(false);
        axis_.setAnchor(std::nullopt);
        axis_.setCursor(std::nullopt);
        axis_.setBounds(data->span());
        axis_.setSmallestSpan(0.02);
    }
    emit dataChanged();
    emit logsChanged();
    emit passChosen();
    emit busyChanged();
    if (!known) emit opened(QString::fromStdString(data->path));
}

void ReviewDesk::show(int id) {
    for (const DataPtr& log : logs_) {
        if (log->id != id || log == data_) continue;
        data_ = log;
        pass_.reset();
        axis_.setPinned(false);
        axis_.setAnchor(std::nullopt);
        axis_.setCursor(std::nullopt);
        axis_.setBounds(log->span());
        axis_.setSmallestSpan(0.02);
        emit dataChanged();
        emit logsChanged();
        emit passChosen();
        return;
    }
}

void ReviewDesk::closeLog(int id) {
    std::erase_if(logs_, [id](const DataPtr& log) { return log->id == id; });
    if (data_ && data_->id == id) {
        data_.reset();
        if (!logs_.empty()) return show(logs_.back()->id);
        pass_.reset();
        emit dataChanged();
        emit passChosen();
    }
    emit logsChanged();
}

void ReviewDesk::judge(const ReviewOptions& wanted) {
    if (!data_) return;
    ReviewOptions options = wanted;
    options.plan.reset();
    if (againstBench_ && !desk_.bench.empty()) options.plan = *desk_.bench.content().input;
    judge_.ask([base = data_, options](std::stop_token stop) {
        return unlessStopped([&] { return reviewAgain(*base, options, stop); });
    });
    emit busyChanged();
}

void ReviewDesk::setTrack(const QString& path) {
    if (!data_) return;
    ReviewOptions options = data_->options;
    options.track = readGpsFile(path.toStdString());
    judge(options);
}

void ReviewDesk::setJudging(const std::vector<int>& cells, std::optional<double> cutoffCell, double trackNudge) {
    if (!data_) return;
    ReviewOptions options = data_->options;
    options.cells = cells;
    options.cutoffCell = cutoffCell;
    options.trackNudge = trackNudge;
    judge(options);
}

void ReviewDesk::setAgainstBench(bool on) {
    if (on == againstBench_) return;
    againstBench_ = on;
    if (data_) judge(data_->options);
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

ReviewEdits ReviewDesk::edits() const { return data_ ? data_->options.edits : ReviewEdits{}; }

void ReviewDesk::edit(const QString& text, ReviewEdits edits) {
    if (!data_ || edits == data_->options.edits) return;
    undo_.push(new EditCommand(*this, data_->id, data_->options.edits, std::move(edits), text));
}

void ReviewDesk::setEdits(int log, const ReviewEdits& edits) {
    show(log);
    if (!data_ || data_->id != log) return; // closed since
    ReviewOptions options = data_->options;
    options.edits = edits;
    judge(options);
}

} // namespace rw
