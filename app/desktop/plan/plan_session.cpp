#include "app/desktop/plan/plan_session.h"

#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/undo_step.h"
#include "storage/values.h"

#include <QUndoCommand>

#include <utility>

namespace rw {

// One undo step: the whole input before and after. Inputs are small and shared.
class SetInput : public QUndoCommand {
public:
    SetInput(PlanSession& session, const QString& what, const QString& key, int serial,
             std::shared_ptr<const PlanInput> next)
        : QUndoCommand(what)
        , session_(session)
        , key_(key)
        , serial_(serial)
        , before_(session.input_)
        , after_(std::move(next)) {}

    void undo() override { session_.apply(before_); }
    void redo() override { session_.apply(after_); }
    [[nodiscard]] int id() const override { return 1; }
    bool mergeWith(const QUndoCommand* command) override {
        const auto* other = static_cast<const SetInput*>(command);
        if (key_.isEmpty() || other->key_ != key_ || other->serial_ != serial_) return false;
        after_ = other->after_;
        setObsolete(*after_ == *before_);
        return true;
    }

private:
    PlanSession& session_;
    QString key_;
    int serial_;
    std::shared_ptr<const PlanInput> before_, after_;
};

namespace {

constexpr int mostSteps = 500; // of undo; each holds an input or two

void copyUncertainty(const std::string& key, const PlanInput& from, PlanInput& to) {
    to.uncertainty.erase(key);
    if (const auto found = from.uncertainty.find(key); found != from.uncertainty.end()) to.uncertainty.insert(*found);
}

// The setup's changes on top of the same setup at another venue.
PlanInput withSetupChanges(const PlanInput& kept, const PlanInput& changed, PlanInput next) {
    for (const PlanField& field : planFields()) {
        if (!belongsToSetup(field)) continue;
        if (!fieldEqual(field, kept, changed)) copyField(field, changed, next);
        copyUncertainty(field.key(), changed, next);
    }
    next.correlation = changed.correlation;
    return next;
}

QString changesText(std::size_t count) {
    return count == 1 ? PlanSession::tr("One change that was not kept")
                      : PlanSession::tr("%1 changes that were not kept").arg(count);
}

} // namespace

bool belongsToSetup(const PlanField& field) {
    return field.group != "air" && field.group != "wind" && field.group != "venue";
}

PlanSession::PlanSession(const Desk& desk)
    : desk_(desk)
    , worker_(this,
              [this](std::shared_ptr<const PlanOutcome> outcome, const QString& why) {
                  if (outcome) return deliver(std::move(outcome));
                  const QString own = QStringLiteral("plan input: ");
                  problem_ = withLabels(why.startsWith(own) ? why.mid(own.size()) : why);
                  current_ = false;
                  emit outcomeChanged();
              })
    , rivalWorker_(this, [this](std::shared_ptr<const PlanOutcome> outcome, const QString& why) {
        if (!outcome) return emit desk_.voice.complained(tr("That plan cannot be compared with"), why);
        rival_ = std::move(outcome);
        emit rivalChanged();
    }) {
    undo_.setUndoLimit(mostSteps);
    connect(&desk_.bench, &Bench::replaced, this, &PlanSession::takeBench);
    connect(&desk_.bench, &Bench::changed, this, [this] { content_ = desk_.bench.content(); });
    connect(&desk_.bench, &Bench::suggested, this, [this](const PlanInput& input, const QString& what) {
        endEdit();
        edit(what, {}, input);
    });
    if (!desk_.bench.empty()) takeBench();
}

std::vector<const PlanField*> PlanSession::changes() const {
    return empty() ? std::vector<const PlanField*>{} : differences(*kept_, *input_);
}

bool PlanSession::differs() const { return !empty() && *kept_ != *input_; }

bool PlanSession::modified() const { return differs() && (!keptElsewhere_ || *keptElsewhere_ != *input_); }

void PlanSession::edit(const QString& what, const QString& key, PlanInput next) {
    if (empty() || next == *input_) return;
    undo_.push(new SetInput(*this, what, key, editSerial_, std::make_shared<const PlanInput>(std::move(next))));
}

void PlanSession::editValue(const PlanField& field, const QString& what, PlanInput next) {
    if (empty()) return;
    const std::string key = field.key();
    const std::optional<double> value = field.get ? field.get(next) : std::nullopt;
    if (fieldEqual(field, next, *given_)) {
        copyUncertainty(key, *given_, next);
    } else if (given_->uncertainty.contains(key) || wasMeasured(field)) {
        next.uncertainty.erase(key);
        if (const auto width = value ? guessWidth(field, *value) : std::nullopt) next.uncertainty[key] = *width;
    }
    settleCorrelations(next);
    edit(what, QString::fromStdString(key), std::move(next));
}

void PlanSession::settleCorrelations(PlanInput& next) const {
    const auto asGiven = [&](const std::string& key) {
        const auto now = next.uncertainty.find(key);
        const auto then = given_->uncertainty.find(key);
        return now != next.uncertainty.end() && then != given_->uncertainty.end() && now->second == then->second;
    };
    next.correlation.clear();
    for (const KeyCorrelation& pair : given_->correlation)
        if (asGiven(pair.first) && asGiven(pair.second)) next.correlation.push_back(pair);
}

QString PlanSession::keptSource(const PlanField& field) const {
    const auto& sources = desk_.bench.content().sources;
    const auto found = sources.find(QString::fromStdString(field.key()));
    return found == sources.end() ? QString() : found->second;
}

bool PlanSession::wasMeasured(const PlanField& field) const {
    const QString source = keptSource(field);
    return source.startsWith(QString::fromUtf8(sourceName(Source::Measured))) ||
           source.startsWith(QString::fromUtf8(sourceName(Source::Fitted)));
}

QString PlanSession::sourceOf(const PlanField& field) const {
    QString kept = keptSource(field);
    if (empty() || kept.isEmpty() || fieldEqual(field, *given_, *input_)) return kept;
    return tr("guess, changed on the bench; kept is: %1").arg(kept);
}

void PlanSession::putBack(const PlanField& field) {
    if (empty()) return;
    PlanInput next = *input_;
    copyField(field, *kept_, next);
    copyUncertainty(field.key(), *kept_, next);
    settleCorrelations(next);
    endEdit();
    edit(tr("put back %1").arg(fieldLabel(field)), {}, std::move(next));
}

void PlanSession::putBackAll() {
    if (empty()) return;
    endEdit();
    edit(tr("put everything back"), {}, *kept_);
}

void PlanSession::markKept(PlanInput kept) {
    given_ = kept_ = std::make_shared<const PlanInput>(std::move(kept));
    keptElsewhere_.reset();
    tellBench();
    emit keptChanged();
}

void PlanSession::apply(std::shared_ptr<const PlanInput> input) {
    input_ = std::move(input);
    tellBench();
    emit inputChanged();
    compute();
}

void PlanSession::markKeptAs(const QString& name) {
    keptElsewhere_ = input_;
    keptAs_ = name;
    tellBench();
    emit keptChanged();
}

void PlanSession::exchange(const QString& what, BenchContent content, const std::function<void(PlanInput&)>& fit) {
    endEdit();
    const auto fitted = [&fit](PlanInput input) {
        fit(input);
        return std::make_shared<const PlanInput>(std::move(input));
    };
    push(what, {std::move(content), fitted(*input_), kept_, fitted(*given_)});
}

void PlanSession::takeBench() {
    if (showing_) return;
    const BenchContent& content = desk_.bench.content();
    State next{content, content.input, content.input, content.input};
    if (empty() || !content.input) {
        undo_.clear();
        return show(next);
    }
    const bool sameSetup = !content_.setupId.isEmpty() && content_.setupId == content.setupId;
    if (sameSetup && content_.venueId != content.venueId)
        next.input = std::make_shared<const PlanInput>(withSetupChanges(*kept_, *input_, *next.kept));
    else if (modified())
        emit desk_.voice.said(
            tr("%1 went with %2; in Plan, Ctrl+Z brings them back.")
                .arg(changesText(changes().size()), content_.name.isEmpty() ? tr("the plan") : content_.name));
    endEdit();
    push(tr("put %1 on the bench").arg(content.name), next);
}

// Another thing on the bench is one step as well: what lay there before comes back with all its changes.
void PlanSession::push(const QString& what, const State& next) {
    undo_.push(new UndoStep(
        what, [this, before = State{content_, input_, kept_, given_}] { show(before); }, [this, next] { show(next); }));
}

void PlanSession::show(const State& state) {
    input_ = state.input;
    kept_ = state.kept;
    given_ = state.given;
    keptElsewhere_.reset();
    BenchContent content = state.content;
    content.input = input_;
    content.changes = static_cast<int>(changes().size());
    content.keptAs.clear();
    const bool asked = std::exchange(showing_, true);
    desk_.bench.put(std::move(content));
    showing_ = asked;
    startAnew();
}

void PlanSession::startAnew() {
    outcome_.reset();
    current_ = false;
    problem_.clear();
    stopComparing();
    emit replaced();
    emit inputChanged();
    compute();
}

void PlanSession::tellBench() {
    BenchContent content = desk_.bench.content();
    content.input = input_;
    content.changes = static_cast<int>(changes().size());
    content.keptAs = keptElsewhere_ && *keptElsewhere_ == *input_ ? keptAs_ : QString();
    desk_.bench.change(std::move(content));
}

void PlanSession::compute() {
    current_ = false;
    if (empty()) {
        worker_.cancel();
        return emit outcomeChanged();
    }
    worker_.ask([input = input_](const std::stop_token&) { return planOutcome(*input); });
}

void PlanSession::deliver(std::shared_ptr<const PlanOutcome> outcome) {
    outcome_ = std::move(outcome);
    current_ = true;
    problem_.clear();
    Expectation expected = desk_.bench.expectation();
    const auto& passes = outcome_->result.passes;
    expected.zoneMean = passes.empty() ? std::nullopt : passes.front().zoneMean;
    desk_.bench.expect(expected);
    emit outcomeChanged();
}

void PlanSession::compareWith(const QString& name, const PlanInput& input) {
    rivalName_ = name;
    rivalWorker_.ask([input](const std::stop_token&) { return planOutcome(input); });
}

void PlanSession::stopComparing() {
    rivalWorker_.cancel();
    rivalName_.clear();
    if (std::exchange(rival_, nullptr)) emit rivalChanged();
}

} // namespace rw
