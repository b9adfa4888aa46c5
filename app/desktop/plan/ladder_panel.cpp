#include "app/desktop/plan/ladder_panel.h"

#include "app/desktop/pages/ladder_page.h"
#include "app/desktop/pages/page_printer.h"
#include "app/desktop/plan/stair_view.h"
#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/labels.h"

#include <QDoubleSpinBox>
#include <QHBoxLayout>
#include <QPushButton>
#include <QScrollArea>
#include <QSignalBlocker>
#include <QVBoxLayout>

namespace rw {

namespace {

constexpr std::size_t stepRuns = 1000;
constexpr double usualProven = 0.85; // of the target, where the plan is faster already

} // namespace

LadderPanel::LadderPanel(PlanSession& session, QWidget* parent)
    : QWidget(parent)
    , session_(session)
    , worker_(
          this,
          [this](std::shared_ptr<const Ladder> ladder) {
              ladder_ = std::move(ladder);
              trouble_.clear();
              draw();
          },
          [this](const QString& sentence) {
              ladder_.reset();
              trouble_ = sentence;
              draw();
          }) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, gridStep, 0, 0);
    column->setSpacing(gridStep);
    column->addWidget(makeBar());
    stair_ = new StairView;
    stair_->setAccessibleName(tr("The steps as a stair over speed"));
    auto* area = new QScrollArea; // over five steps it scrolls sideways
    area->setWidgetResizable(true);
    area->setFrameShape(QFrame::NoFrame);
    area->setFocusPolicy(Qt::NoFocus);
    area->setWidget(stair_);
    column->addWidget(area, 1);
    connect(stair_, &StairView::choiceChanged, this, &LadderPanel::tellChoice);
    connect(stair_, &StairView::columnWanted, area,
            [area](int left, int right) { area->ensureVisible((left + right) / 2, 0, (right - left) / 2, 0); });
    makePrinting();
    connect(&session_, &PlanSession::replaced, this, [this] { proven_.reset(); });
    connect(&session_, &PlanSession::inputChanged, this, [this] { stale_ = true; });
    connect(&session_, &PlanSession::outcomeChanged, this, &LadderPanel::ask);
    connect(&session_.desk().units, &Units::changed, this, [this] {
        showUnits();
        draw();
    });
    showUnits();
    draw();
}

LadderPanel::~LadderPanel() = default;

QWidget* LadderPanel::makeBar() {
    auto* bar = new QWidget;
    auto* row = new QHBoxLayout(bar);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(gridStep);
    note_ = new ShortLabel(Type::Small, Tone::Soft);
    row->addWidget(note_, 1);
    provenField_ = new QDoubleSpinBox;
    provenField_->setDecimals(1);
    provenField_->setRange(0.1, 2000.0);
    provenField_->setKeyboardTracking(false);
    provenField_->setAccessibleName(tr("Proven speed"));
    stepField_ = new QDoubleSpinBox;
    stepField_->setDecimals(0);
    stepField_->setRange(1.0, 50.0);
    stepField_->setValue(LadderOptions{}.step * 100.0);
    stepField_->setSuffix(QStringLiteral(" %"));
    stepField_->setKeyboardTracking(false);
    stepField_->setAccessibleName(tr("Largest step"));
    print_ = new QPushButton(tr("Print…"));
    row->addWidget(new TextLabel(tr("proven"), Type::Small, Tone::Soft));
    row->addWidget(provenField_);
    row->addWidget(new TextLabel(tr("steps of at most"), Type::Small, Tone::Soft));
    row->addWidget(stepField_);
    put_ = new QPushButton(tr("Put it on the bench"));
    put_->setObjectName(QStringLiteral("ladderBench"));
    row->addWidget(put_);
    row->addWidget(print_);
    connect(put_, &QPushButton::clicked, this, &LadderPanel::putOnBench);
    connect(provenField_, &QDoubleSpinBox::valueChanged, this,
            [this](double shown) { setProven(session_.units().of(Dimension::Speed).inside(shown)); });
    connect(stepField_, &QDoubleSpinBox::valueChanged, this, [this] {
        stale_ = true;
        ask();
    });
    return bar;
}

void LadderPanel::makePrinting() {
    const PageWords words{tr("Print &ladder…"), tr("Sa&ve ladder as PDF or HTML…"),
                          tr("The steps to the target, to tick off"), false};
    const auto order = [this] {
        return PageOrder{tr("ladder %1").arg(session_.desk().bench.content().name), true,
                         [sheet = sheet()](const WorkOptions&) { return makeLadderPage(sheet); }};
    };
    printer_ = new PagePrinter(session_.desk(), this, words, order, this);
    printer_->setEnabled(false);
    connect(print_, &QPushButton::clicked, printer_, &PagePrinter::print);
}

void LadderPanel::showEvent(QShowEvent* event) {
    QWidget::showEvent(event);
    wanted_ = true;
    ask();
}

void LadderPanel::hideEvent(QHideEvent* event) {
    QWidget::hideEvent(event);
    wanted_ = false;
}

void LadderPanel::setProven(double metresPerSecond) {
    proven_ = metresPerSecond;
    showUnits();
    stale_ = true;
    ask();
}

// What the person said; else what the plan as it is promises, or somewhat less than the target.
double LadderPanel::provenNow() const {
    if (proven_) return *proven_;
    const double target = session_.input().drive.target_mps.value_or(0.0);
    const auto outcome = session_.outcome();
    const auto mean = outcome ? outcome->result.passes.front().zoneMean : std::nullopt;
    return mean && (target <= 0.0 || *mean < target) ? *mean : usualProven * target;
}

void LadderPanel::showUnits() {
    const QSignalBlocker quiet(provenField_);
    const UnitView speed = session_.units().of(Dimension::Speed);
    provenField_->setSuffix(QStringLiteral(" ") + speed.symbol);
    if (!session_.empty()) provenField_->setValue(speed.shown(provenNow()));
}

void LadderPanel::ask() {
    if (!wanted_ || !stale_ || session_.empty() || !session_.current()) return;
    stale_ = false;
    ladder_.reset();
    trouble_.clear();
    showUnits();
    const auto target = session_.input().drive.target_mps;
    if (!target) {
        worker_.cancel();
        draw();
        return;
    }
    asked_ = provenNow();
    start_ = session_.input();
    worker_.ask([input = session_.shared(), proven = asked_, target = *target,
                 step = stepField_->value() / 100.0](std::stop_token stop) {
        return climbLadder(*input, proven, target, {step, stepRuns, {stop, {}, 0}});
    });
    draw();
}

LadderSheet LadderPanel::sheet() const {
    const BenchContent content = session_.desk().bench.content();
    LadderHead head{content.name, content.venue, asked_, session_.input().drive.target_mps.value_or(0.0), start_};
    return ladderSheet(head, *ladder_, session_.units());
}

void LadderPanel::draw() {
    const auto target = session_.empty() ? std::nullopt : session_.input().drive.target_mps;
    const bool any = ladder_ && target;
    printer_->setEnabled(any);
    print_->setEnabled(any);
    if (any)
        stair_->setSheet(sheet());
    else
        stair_->setEmpty(!trouble_.isEmpty() ? trouble_
                         : target            ? tr("…")
                                             : tr("Set a target under Drive to see the steps to it."));
}

// What the button would do, in words beside it. A step that is likely to break a limit is never offered by itself.
void LadderPanel::tellChoice() {
    const auto chosen = stair_->chosen();
    put_->setEnabled(chosen.has_value());
    QString words;
    if (chosen) {
        const LadderColumn& column = stair_->sheet().columns[*chosen];
        words = column.head + QStringLiteral(": ") + column.change;
        if (column.risky) words = tr("▲ %1, likely to break a limit").arg(words);
    } else if (ladder_ && !ladder_->steps.empty()) {
        words = tr("▲ The first step is likely to break a limit.");
    }
    note_->setText({}, words);
}

void LadderPanel::putOnBench() {
    const auto chosen = stair_->chosen();
    if (!chosen || !ladder_ || session_.empty()) return;
    PlanInput next = ladder_->steps[*chosen].plan;
    next.drive.target_mps = session_.input().drive.target_mps;
    proven_ = asked_; // what is on the bench now is not proven by being there
    session_.endEdit();
    session_.edit(tr("step %1 of the ladder").arg(*chosen + 1), {}, std::move(next));
}

} // namespace rw
