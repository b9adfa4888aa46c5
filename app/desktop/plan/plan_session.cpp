#include "app/desktop/plan/plan_session.h"

#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/limit_texts.h"

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

PlanSession::PlanSession(const Desk& desk, QObject* parent)
    : QObject(parent)
    , desk_(desk)
    , worker_(
          this, [this](std::shared_ptr<const PlanOutcome> outcome) { deliver(std::move(outcome)); },
          [this](const QString& sentence) {
              const QString own = QStringLiteral("plan input: ");
              problem_ = withLabels(sentence.startsWith(own) ? sentence.mid(own.size()) : sentence);
              current_ = false;
              emit outcomeChanged();
          })
    , rivalWorker_(
          this,
          [this](std::shared_ptr<const PlanOutcome> outcome) {
              rival_ = std::move(outcome);
              emit rivalChanged();
          },
          [this](const QString& sentence) { emit complained(tr("That plan cannot be compared with"), sentence); }) {
    connect(&desk_.bench, &Bench::replaced, this, &PlanSession::takeBench);
    if (!desk_.bench.empty()) takeBench();
}

PlanSession::~PlanSession() = default;

std::vector<const PlanField*> PlanSession::changes() const {
    return empty() ? std::vector<const PlanField*>{} : differences(*kept_, *input_);
}

bool PlanSession::modified() const { return !empty() && *kept_ != *input_; }

void PlanSession::edit(const QString& what, const QString& key, PlanInput next) {
    if (empty() || next == *input_) return;
    undo_.push(new SetInput(*this, what, key, editSerial_, std::make_shared<const PlanInput>(std::move(next))));
}

void PlanSession::putBack(const PlanField& field) {
    if (empty()) return;
    PlanInput next = *input_;
    copyField(field, *kept_, next);
    endEdit();
    edit(tr("put back %1").arg(fieldLabel(field)), {}, std::move(next));
}

void PlanSession::putBackAll() {
    if (empty()) return;
    endEdit();
    edit(tr("put everything back"), {}, *kept_);
}

void PlanSession::markKept() { markKept(*input_); }

void PlanSession::markKept(PlanInput kept) {
    kept_ = std::make_shared<const PlanInput>(std::move(kept));
    tellBench();
    emit keptChanged();
}

void PlanSession::apply(std::shared_ptr<const PlanInput> input) {
    input_ = std::move(input);
    tellBench();
    emit inputChanged();
    compute();
}

void PlanSession::takeBench() {
    input_ = kept_ = desk_.bench.content().input;
    undo_.clear();
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
    desk_.bench.change(std::move(content));
}

void PlanSession::compute() {
    current_ = false;
    if (empty()) {
        worker_.cancel();
        emit outcomeChanged();
        return;
    }
    worker_.ask([input = input_](const std::stop_token&) { return planOutcome(*input); });
}

void PlanSession::deliver(std::shared_ptr<const PlanOutcome> outcome) {
    outcome_ = std::move(outcome);
    current_ = true;
    problem_.clear();
    Expectation expected = desk_.bench.expectation();
    expected.zoneMean = std::nullopt;
    expected.tightest.clear();
    expected.tightestMargin = std::nullopt;
    if (!outcome_->result.passes.empty()) expected.zoneMean = outcome_->result.passes.front().zoneMean;
    if (!outcome_->result.margins.empty()) {
        expected.tightest = limitTitle(outcome_->result.margins.front().limit);
        expected.tightestMargin = outcome_->result.margins.front().margin;
    }
    desk_.bench.expect(std::move(expected));
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
