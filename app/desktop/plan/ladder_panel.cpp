#include "app/desktop/plan/ladder_panel.h"

#include "app/desktop/pages/ladder_page.h"
#include "app/desktop/pages/page_printer.h"
#include "app/desktop/plan/stair_view.h"
#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/caution_texts.h"
#include "app/desktop/shared/figure_table.h"
#include "app/desktop/shared/labels.h"
#include "app/desktop/shared/value_table_model.h"
#include "plotting/look.h"

#include <QDoubleSpinBox>
#include <QHBoxLayout>
#include <QPushButton>
#include <QSignalBlocker>
#include <QVBoxLayout>

#include <algorithm>

namespace rw {

namespace {

constexpr std::size_t stepRuns = 1000;
constexpr double usualProven = 0.85; // of the target, where the plan is faster already

const LadderFigure* figureOf(const LadderStep& step, std::string_view name) {
    const auto found =
        std::find_if(step.expect.begin(), step.expect.end(), [&](const LadderFigure& f) { return f.figure == name; });
    return found == step.expect.end() ? nullptr : &*found;
}

template<class List>
QString conditionText(const List& list, std::string_view name, bool stops, const Units& units) {
    for (const LadderCondition& condition : list)
        if (condition.figure == name) return ladderCondition(condition, stops, units);
    return {};
}

QString percent(double share) { return figure(share * 100.0, 0) + QStringLiteral(" %"); }

} // namespace

LadderPanel::LadderPanel(PlanSession& session, QWidget* parent)
    : QWidget(parent)
    , session_(session)
    , worker_(
          this,
          [this](std::shared_ptr<const Ladder> ladder) {
              if (ladder->stopped) return;
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
    column->addWidget(stair_, 4);
    model_ = new ValueTableModel(1, this);
    table_ = new FigureTable;
    table_->setModel(model_);
    table_->setAccessibleName(tr("Each step: its change, what to expect, when to go on, when to stop"));
    column->addWidget(table_, 6);
    note_ = new TextLabel(QString(), Type::Small, Tone::Soft);
    note_->setWordWrap(true);
    column->addWidget(note_);
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
    title_ = new TextLabel(QString(), Type::Strong);
    row->addWidget(title_, 1);
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
    row->addWidget(print_);
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
        const BenchContent content = session_.desk().bench.content();
        LadderPageHead head{content.name, content.venue, asked_, session_.input().drive.target_mps.value_or(0.0)};
        return PageOrder{tr("ladder %1").arg(content.name), true,
                         [head, ladder = ladder_, units = session_.desk().units.copy()](const WorkOptions&) {
                             return makeLadderPage(head, *ladder, *units);
                         }};
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
    return mean && *mean < target ? *mean : usualProven * target;
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
    const auto target = session_.input().drive.target_mps;
    if (!target) {
        worker_.cancel();
        draw();
        return;
    }
    showUnits();
    asked_ = provenNow();
    worker_.ask([input = session_.shared(), proven = asked_, target = *target,
                 step = stepField_->value() / 100.0](std::stop_token stop) {
        return climbLadder(*input, proven, target, {step, stepRuns, {stop, {}, 0}});
    });
    draw();
}

void LadderPanel::draw() {
    const auto target = session_.empty() ? std::nullopt : session_.input().drive.target_mps;
    const bool any = ladder_ && target;
    printer_->setEnabled(any && !ladder_->steps.empty());
    print_->setEnabled(any && !ladder_->steps.empty());
    const QString ends = any ? tr("%1 to %2")
                                   .arg(session_.units().figure(Dimension::Speed, asked_, 1),
                                        session_.units().text(Dimension::Speed, *target, 1))
                             : QString();
    const auto count = any ? static_cast<int>(ladder_->steps.size()) : 0;
    title_->setText(!any         ? tr("Ladder")
                    : count == 1 ? tr("%1 in one step").arg(ends)
                                 : tr("%1 in %2 steps").arg(ends).arg(count));
    QString note = cautionLine();
    if (any && ladder_->blocked) note = ladderBlockText(*ladder_->blocked, session_.units()) + QLatin1Char(' ') + note;
    if (!trouble_.isEmpty()) note = trouble_;
    note_->setText(note);
    drawStair();
    drawSteps();
}

void LadderPanel::drawStair() {
    const Units& units = session_.units();
    const UnitView speed = units.of(Dimension::Speed);
    const double target = session_.empty() ? 0.0 : session_.input().drive.target_mps.value_or(0.0); // 0: none
    std::vector<StairTread> treads;
    if (ladder_ && target > 0.0) {
        const auto tread = [&](double mean, double low, double high, const QString& change) {
            const QString detail = high > low ? units.figure(Dimension::Speed, low, 1) + QStringLiteral(" … ") +
                                                    units.figure(Dimension::Speed, high, 1)
                                              : QString();
            treads.push_back({units.figure(Dimension::Speed, mean, 1), detail, change, speed.shown(low),
                              speed.shown(mean), speed.shown(high), false});
        };
        tread(asked_, asked_, asked_, tr("proven"));
        for (const LadderStep& step : ladder_->steps) {
            const LadderFigure* f = figureOf(step, "zone_mean_mps");
            const QString change = QString::fromStdString(step.change);
            tread(f ? f->mean : step.speed, f ? f->p05 : step.speed, f ? f->p95 : step.speed,
                  step.risky() ? QStringLiteral("▲ ") + change : change);
        }
        if (ladder_->blocked) {
            const double there = ladder_->blocked->speed;
            tread(there, there, there, tr("nothing makes it within limits"));
            treads.back().blocked = true;
        }
    }
    const QString empty = !trouble_.isEmpty() ? trouble_
                          : target > 0.0      ? tr("…")
                                              : tr("Set a target under Drive to see the steps to it.");
    stair_->setStair(std::move(treads), target > 0.0 ? std::optional(speed.shown(target)) : std::nullopt,
                     tr("timed zone, %1").arg(speed.symbol), empty);
}

void LadderPanel::drawSteps() {
    if (!ladder_ || ladder_->steps.empty()) {
        model_->setRows({}, {});
        return;
    }
    const Units& units = session_.units();
    QStringList header{QString()};
    std::vector<ValueCell> change{{tr("change")}}, chances{{tr("makes it · breaks a limit")}},
        waits{{tr("wait before the next pass")}};
    int number = 0;
    for (const LadderStep& step : ladder_->steps) {
        header << tr("%1. %2").arg(++number).arg(units.text(Dimension::Speed, step.speed, 1));
        change.push_back({QString::fromStdString(step.change), {}, Tone::Ink, true});
        chances.push_back({percent(step.targetProbability) + QStringLiteral(" · ") +
                               (step.risky() ? QStringLiteral("▲ ") : QString()) + percent(step.limitProbability),
                           step.limitProbability, step.risky() ? Tone::Bad : Tone::Ink, false,
                           step.risky() ? tr("More than one in ten: not advised.") : QString()});
        waits.push_back({step.wait_s ? tr("%1 min").arg(figure(*step.wait_s / 60.0, 1)) : tr("none is enough")});
    }
    std::vector<std::vector<ValueCell>> rows{change, chances};
    const LadderStep& first = ladder_->steps.front();
    for (const LadderFigure& f : first.expect) {
        std::vector<ValueCell> expect{{ladderFigureLabel(f.figure, units)}}, goOn{{tr("   go on if")}},
            stop{{tr("   stop if"), {}, Tone::Bad}};
        bool watched = f.figure == "zone_mean_mps", conditions = false;
        for (const LadderStep& step : ladder_->steps) {
            const LadderFigure* figure = figureOf(step, f.figure);
            const QString go = conditionText(step.goOnIf, f.figure, false, units);
            const QString end = conditionText(step.stopIf, f.figure, true, units);
            expect.push_back({figure ? ladderFigure(f.figure, figure->mean, units) : QString(), {}, Tone::Ink, true});
            goOn.push_back({go});
            stop.push_back({end, {}, Tone::Bad});
            conditions = conditions || !go.isEmpty();
        }
        if (!watched && !conditions) continue;
        rows.push_back(expect);
        if (!conditions) continue;
        rows.push_back(goOn);
        rows.push_back(stop);
    }
    rows.push_back(waits);
    model_->setRows(header, std::move(rows));
    table_->resizeColumnsToContents();
}

} // namespace rw
