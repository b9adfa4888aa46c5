#include "app/desktop/review/review_desk.h"

#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/undo_step.h"

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

LogContext withSaid(LogContext context, const ImportOptions& import) {
    context.said.polePairs = import.polePairs;
    context.said.rate_Hz = import.rate_Hz;
    return context;
}

} // namespace

ReviewDesk::ReviewDesk(const Desk& desk, QUndoStack& undo)
    : desk_(desk)
    , undo_(undo)
    , reader_(desk.jobs)
    , judge_(this, [this](const DataPtr& data, const QString& why) {
        asked_.reset();
        if (data) return adopt(data);
        emit busyChanged();
        emit complained(tr("The log was not judged anew"), why);
    }) {
    connect(&desk_.bench, &Bench::changed, this, [this] {
        if (againstBench_ && data_ && !data_->source.kept) judge(latestContext());
    });
    connect(&reader_, &JobRunner::busyChanged, this, [this] {
        if (!reader_.busy()) loading_.clear();
        emit busyChanged();
    });
}

// A log that is kept is judged by what the garage knows of it; any other by the bench, where one lies there.
Judging ReviewDesk::judgingBy(LogContext context, bool kept) const {
    Judging judging;
    judging.context = std::move(context);
    if (desk_.garage.isOpen()) judging.garage = desk_.garage.path().toStdString();
    if (kept) return judging;
    judging.context.setup.reset();
    judging.context.venue.reset();
    if (!againstBench_ || desk_.bench.empty()) return judging;
    const BenchContent& bench = desk_.bench.content();
    judging.bench = *bench.input;
    if (judging.garage.empty()) return judging;
    judging.context.setup = idFromText(bench.setupId.toStdString());
    if (judging.context.setup) judging.context.venue = idFromText(bench.venueId.toStdString());
    return judging;
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

void ReviewDesk::openKept(Id log, std::optional<std::size_t> pass) {
    desk_.garage.look([&](Garage& garage) {
        Wanted wanted;
        wanted.source = {garage.log(log).name, garage.path(), log};
        wanted.pass = pass;
        read(std::move(wanted));
    });
}

void ReviewDesk::readAgain(const ImportOptions& import) {
    if (data_) read({data_->id, data_->source, withSaid(data_->context, import), import, {}});
}

void ReviewDesk::readMapped(const LogSource& source, const ImportOptions& import) {
    read({0, source, withSaid({}, import), import, {}});
}

ReviewDesk::DataPtr ReviewDesk::find(int id) const {
    const auto log = std::ranges::find(logs_, id, &ReviewData::id);
    return log == logs_.end() ? nullptr : *log;
}

void ReviewDesk::read(Wanted wanted) {
    if (reader_.busy()) return waiting_.push_back(std::move(wanted));
    if (wanted.id == 0) { // open already: read again with what was said of it
        const auto same = std::ranges::find(logs_, wanted.source, &ReviewData::source);
        if (same == logs_.end())
            wanted.id = ++lastId_;
        else
            wanted = {(*same)->id, wanted.source, (*same)->context, wanted.import, wanted.pass};
    }
    loading_ = QFileInfo(QString::fromStdString(wanted.source.path)).fileName();
    Judging judging = judgingBy(wanted.context, wanted.source.kept.has_value());
    judging.import = wanted.import;
    const auto work = [this, wanted, judging](const WorkOptions& options) -> JobRunner::Done {
        try {
            auto data =
                std::make_shared<ReviewData>(readReview(wanted.source, judging, options.stop, options.progress));
            data->id = wanted.id;
            return [this, data, pass = wanted.pass] {
                adopt(data);
                if (pass) goToPass(*pass);
                readNext();
            };
        } catch (const ImportRefusal& refusal) {
            auto refused = std::make_shared<const RefusedLog>(
                RefusedLog{wanted.source, QString::fromUtf8(refusal.what()), refusal.survey()});
            return [this, refused] {
                emit mappingWanted(refused);
                readNext();
            };
        }
    };
    const auto failed = [this](const QString& sentence) {
        emit complained(tr("The log was not opened"), sentence);
        readNext();
    };
    (void)reader_.run(tr("Reading %1").arg(loading_), work, {failed, [this] { waiting_.clear(); }});
}

void ReviewDesk::setNote(std::size_t pass, const PassNote& note) {
    if (!data_ || pass >= data_->noted.size()) return;
    const bool done = desk_.garage.change(tr("Noting the pass"), [&](Garage& garage) {
        if (note.direction != data_->noted[pass].direction) garage.notePass(note.pass, note.direction, note.words);
        garage.noteSpeeds(note.pass, note.speeds);
    });
    if (!done) return;
    auto noted = std::make_shared<ReviewData>(*data_);
    noted->noted[pass] = note;
    adopt(noted);
}

void ReviewDesk::becomeKept(const std::shared_ptr<ReviewData>& kept) {
    if (find(kept->id)) adopt(kept); // else closed since
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
    const auto same = std::ranges::find(logs_, data->id, &ReviewData::id);
    const bool known = same != logs_.end();
    const bool sameRows = known && (*same)->log == data->log;
    const bool sameAxis = known && (*same)->log->rows() == data->log->rows() && (*same)->span() == data->span();
    DataPtr before;
    if (known)
        before = std::exchange(*same, data);
    else
        logs_.push_back(data);
    const bool wasShown = data_ != nullptr && data_->id == data->id;
    if (sameRows && !wasShown) return emit logsChanged(); // shares its rows with what was before
    data_ = data;
    if (pass_ && *pass_ >= data->review->passes.size()) pass_.reset();
    if (!wasShown || (!sameRows && !sameAxis)) {
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
    const DataPtr log = find(id);
    if (!log || log == data_) return;
    data_ = log;
    lookAnew(log);
    emit dataChanged();
    emit logsChanged();
    emit passChosen();
}

void ReviewDesk::closeLog(int id) {
    const auto log = std::ranges::find(logs_, id, &ReviewData::id);
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

LogContext ReviewDesk::latestContext() const { return asked_ ? *asked_ : data_ ? data_->context : LogContext{}; }

void ReviewDesk::judge(LogContext context) {
    if (!data_) return;
    Judging judging = judgingBy(std::move(context), data_->source.kept.has_value());
    asked_ = judging.context;
    judge_.ask([base = data_, judging = std::move(judging)](std::stop_token stop) {
        return reviewAgain(*base, judging, std::move(stop));
    });
    emit busyChanged();
}

void ReviewDesk::setTrack(const QString& path) {
    if (!data_) return;
    LogContext context = latestContext();
    context.track = readGpsFile(path.toStdString());
    judge(std::move(context));
}

void ReviewDesk::setJudging(const LogSaid& said) {
    if (!data_) return;
    LogContext context = latestContext();
    context.said = said;
    judge(std::move(context));
}

void ReviewDesk::setAgainstBench(bool on) {
    if (on == againstBench_) return;
    againstBench_ = on;
    if (data_) judge(latestContext());
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

void ReviewDesk::edit(const QString& text, const ReviewEdits& edits) {
    const ReviewEdits before = this->edits();
    if (!data_ || edits == before) return;
    const auto become = [this, log = data_->id](const ReviewEdits& wanted) {
        return [this, log, wanted] { setEdits(log, wanted); };
    };
    undo_.push(new UndoStep(text, become(before), become(edits)));
}

void ReviewDesk::setEdits(int log, const ReviewEdits& edits) {
    show(log);
    if (!data_ || data_->id != log) return; // closed since
    LogContext context = latestContext();
    context.edits = edits;
    judge(std::move(context));
}

} // namespace rw
