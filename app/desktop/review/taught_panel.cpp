#include "app/desktop/review/taught_panel.h"

#include "app/desktop/review/bar_table.h"
#include "app/desktop/review/keeping.h"
#include "app/desktop/review/residual_view.h"
#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/bench_source.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/garage_text.h"
#include "app/desktop/shared/widgets.h"

#include <QCheckBox>
#include <QStackedWidget>

#include <algorithm>

namespace rw {

namespace {

enum Page { StartPage, ResultPage };

QString sentences(const std::vector<std::string>& all) {
    QStringList lines;
    for (const std::string& one : all)
        lines << QString::fromStdString(one);
    return lines.join(QLatin1Char('\n'));
}

} // namespace

TaughtPanel::TaughtPanel(ReviewDesk& review)
    : review_(review)
    , pages_(new QStackedWidget)
    , runner_(review.desk().jobs) {
    makeButtons();
    lay(*pages_, {makeStart(), makeResult()});
    columnIn(this, usualSpacing, {0, gridStep, 0, 0})->addWidget(pages_);
    connect(&review, &ReviewDesk::dataChanged, this, &TaughtPanel::refresh);
    connect(&review.desk().units, &Units::changed, this, &TaughtPanel::fill);
    connect(&review.desk().garage, &GarageSession::opened, this, &TaughtPanel::refresh);
    connect(&runner_, &JobRunner::busyChanged, this, &TaughtPanel::refresh);
    refresh();
}

void TaughtPanel::makeButtons() {
    start_ = button(tr("Learn from this log"), this, &TaughtPanel::learn);
    again_ = button(tr("Learn again"), this, &TaughtPanel::learn);
    bench_ = button(tr("Put it on the bench"), this, &TaughtPanel::putOnBench);
    bench_->setDefault(true);
    bench_->setToolTip(tr("The learned values and their ± in place of those on the bench; undo takes them back"));
    keep_ = button(tr("Keep in the garage…"), this, &TaughtPanel::keepInGarage);
    keep_->setToolTip(tr("A new revision of the setup, and the parts that you choose"));
    coast_ = new QCheckBox(tr("It rolled out after the throttle closed"));
    coast_->setToolTip(tr("Nobody braked: then drag and rolling resistance are told by the rolling out too"));
    trust_ = new QCheckBox(tr("The sensors are calibrated"));
    trust_->setToolTip(tr("Voltage and current as logged; else their gains are estimated with the rest"));
}

QWidget* TaughtPanel::makeStart() {
    why_ = new TextLabel(QString(), Type::Body, Tone::Soft);
    return emptyPage(tr("What did this day teach?"), {why_, coast_, trust_, start_});
}

QWidget* TaughtPanel::makeLast() {
    auto* side = new QWidget;
    lastHead_ = new TextLabel(QString(), Type::Heading);
    lastWords_ = paragraph({}, Type::Small, Tone::Soft);
    foretold_ = new BarTable(tr("The last pass foretold"), 2, -1);
    residuals_ = new ResidualView(review_.desk().units);
    followed_ = new BarTable(tr("How closely the model follows"), 1, -1);
    lay(*columnIn(side, gridStep), {lastHead_, foretold_, lastWords_, gap(gridStep), residuals_, followed_, slack(1)});
    return side;
}

QWidget* TaughtPanel::makeResult() {
    auto* inside = new QWidget;
    summary_ = new TextLabel(QString(), Type::Small, Tone::Soft);
    dayWords_ = paragraph({}, Type::Small, Tone::Soft);
    notes_ = paragraph({}, Type::Body, Tone::Warn);
    restNotes_ = paragraph({}, Type::Body, Tone::Warn);
    moreNotes_ = new FoldHead(tr("Where the model does not follow"), true);
    connect(moreNotes_, &FoldHead::toggled, restNotes_, &QWidget::setVisible);
    first_ = paragraph({}, Type::Body, Tone::Warn);
    zone_ = paragraph({}, Type::Small, Tone::Soft);
    parameters_ = new BarTable(tr("What was learned"), 1, 7);
    changes_ = new BarTable(tr("What to change next"), 1, -1);
    zoneBars_ = new BarTable(tr("What it does to the plan"), 1, -1);
    connect(changes_, &BarTable::chosen, this, [this](int change) { putChange(static_cast<std::size_t>(change)); });
    auto* bar = laid(rowOf(gridStep), {grow(summary_), again_, keep_, bench_});
    auto* left = laid(columnOf(gridStep), {parameters_, dayWords_, zoneBars_});
    nextPart_ = new QWidget;
    lay(*columnIn(nextPart_, gridStep),
        {thinRule(Qt::Horizontal), new TextLabel(tr("What to change next"), Type::Heading),
         new TextLabel(tr("One thing at a time; a click puts it on the bench, undo takes it back"), Type::Small,
                       Tone::Soft),
         first_, changes_});
    lay(*left, {nextPart_, slack(1)});
    auto* page = laid(columnIn(inside, gridStep, {0, 0, gridStep, gridStep}), {bar, notes_, moreNotes_, restNotes_});
    columns_ = laid(rowOf(3 * gridStep), {grow(left, 58), grow(makeLast(), 42)});
    page->addLayout(columns_);
    return scrolled(inside);
}

// Side by side where there is room for whole tables, else one under the other.
void TaughtPanel::resizeEvent(QResizeEvent* event) {
    constexpr int roomForTwo = 150 * gridStep;
    columns_->setDirection(width() < roomForTwo ? QBoxLayout::TopToBottom : QBoxLayout::LeftToRight);
    QWidget::resizeEvent(event);
}

void TaughtPanel::refresh() {
    const auto log = review_.data();
    if (day_ && (!log || log->review != day_->data->review)) day_.reset(); // of another log, or judged otherwise since
    const QString why = log ? whyNothingToLearn(*log) : QString();
    if (log)
        why_->setText(why.isEmpty()
                          ? tr("The plan's uncertain values, back from %1: which of them this log narrows, how "
                               "the last pass would have been foretold, and what to change next.")
                                .arg(counted(log->review->passes.size(), tr("pass"), tr("passes")))
                          : why);
    rw::setVisible(why.isEmpty(), {coast_, trust_});
    start_->setEnabled(why.isEmpty() && !busy());
    again_->setEnabled(!busy());
    start_->setText(busy() ? tr("Learning …") : tr("Learn from this log"));
    const bool usable = day_ && day_->learned && !busy();
    bench_->setEnabled(usable);
    keep_->setEnabled(usable && log->source.kept && log->context.setup && review_.desk().garage.writable());
    pages_->setCurrentIndex(day_ ? ResultPage : StartPage);
}

void TaughtPanel::learn() {
    const auto log = review_.data();
    if (!log || busy() || !whyNothingToLearn(*log).isEmpty()) return;
    const auto work = [this, log, wish = LearnWish{coast_->isChecked(), trust_->isChecked()}](
                          const WorkOptions& options) -> JobRunner::Done {
        auto day = std::make_shared<const DayTaught>(learnFrom(log, wish, options));
        return [this, day] { setDay(day); };
    };
    (void)runner_.run(tr("Learning from the log"), work,
                      {[this](const QString& sentence) {
                           emit review_.desk().voice.complained(tr("Nothing was learned"), withLabels(sentence));
                       },
                       [this] { emit review_.desk().voice.said(tr("Learning was stopped.")); }});
}

void TaughtPanel::setDay(std::shared_ptr<const DayTaught> day) {
    day_ = std::move(day);
    refresh();
    fill();
}

void TaughtPanel::fillZone() {
    const UnitView speed = review_.desk().units.of(Dimension::Speed);
    TaughtTable table;
    table.header = {tr("What it does to the plan: timed zone, nine in ten"), QString(), speed.symbol};
    table.barColumn = 1;
    if (day_->before && day_->after) {
        const ZoneBand &before = *day_->before, &after = *day_->after;
        const Range axis{std::min(before.low, after.low), std::max(before.high, after.high)};
        for (const auto& [name, band] : {std::pair(tr("before"), before), std::pair(tr("after"), after)}) {
            const bool first = table.rows.empty();
            const QString words = spanText(speed.shown(band.low), speed.shown(band.high), 1);
            table.add({{name}, {}, {words, band.mean, Tone::Ink, !first}},
                      BarCell{.axis = axis, .solid = Range{band.low, band.high}, .tick = band.mean, .grey = first});
        }
    }
    zoneBars_->setVisible(!table.rows.empty());
    zoneBars_->setTable(std::move(table));
}

void TaughtPanel::fill() {
    if (!day_) return;
    const LearnReport& report = day_->report;
    const Units& units = review_.desk().units;
    const auto determined = std::ranges::count_if(report.parameters, &LearnedParameter::determined);
    summary_->setText(
        tr("%1 of %2 determined · pale: before, solid: after, 95 %").arg(determined).arg(report.parameters.size()));
    fillNotes();
    parameters_->setTable(parameterRows(report, units));
    dayWords_->tell(dayWords(report, units));
    fillZone();
    first_->tell(sentences(day_->next.first));
    nextPart_->setVisible(!day_->next.changes.empty());
    changes_->setTable(changeRows(day_->next, day_->plan.drive.target_mps, units));
    const bool told = report.foretold.has_value();
    lastHead_->setText(told ? tr("Pass %1, foretold from those before it").arg(report.foretold->pass.pass + 1)
                            : tr("Foretold"));
    lastWords_->setText(told             ? tr("Bar: foretold, nine in ten. Diamond: seen.")
                        : report.belongs ? tr("With fewer than two passes nothing can be foretold and compared.")
                                         : tr("Logs that do not belong to this plan foretell nothing."));
    foretold_->setVisible(told);
    if (told) foretold_->setTable(foretoldRows(*report.foretold, units));
    residuals_->setDay(day_);
    followed_->setTable(residualRows(report, units));
}

// The first sentences, which weigh most, and what was left out; the rest is folded.
void TaughtPanel::fillNotes() {
    constexpr std::size_t open = 2;
    const std::vector<std::string>& all = day_->report.notes;
    const auto rest = all.begin() + static_cast<std::ptrdiff_t>(std::min(open, all.size()));
    std::vector<std::string> first(all.begin(), rest);
    std::ranges::copy(leftOutWords(day_->report), std::back_inserter(first));
    notes_->tell(sentences(first));
    restNotes_->setText(sentences({rest, all.end()}));
    moreNotes_->setSummary(counted(static_cast<std::size_t>(all.end() - rest), tr("more"), tr("more")));
    moreNotes_->setVisible(rest != all.end());
    restNotes_->setVisible(moreNotes_->isVisibleTo(this) && moreNotes_->isChecked());
    bench_->setDefault(day_->report.belongs);
}

bool TaughtPanel::benchHoldsSetup() const {
    const Bench& bench = review_.desk().bench;
    if (bench.empty()) return false;
    if (!day_->data->source.kept) return true; // it was judged by the bench
    const auto setup = idFromText(bench.content().setupId.toStdString());
    return setup && setup == day_->data->context.setup;
}

void TaughtPanel::putOnBench() {
    if (!day_ || !day_->learned) return;
    Bench& bench = review_.desk().bench;
    const LogContext& context = day_->data->context;
    if (!benchHoldsSetup() && context.setup && review_.desk().garage.isOpen()) {
        const bool done = review_.desk().garage.look([&](Garage& garage) {
            std::optional<Id> venue = context.venue;
            if (!venue && context.outing) venue = garage.outing(*context.outing).venue;
            if (!venue) throw GarageError(GarageError::Kind::NotFound, tr("the outing names no venue").toStdString());
            bench.put(benchFromSetup(garage, *context.setup, *venue));
        });
        if (!done) return;
    }
    if (bench.empty())
        return emit review_.desk().voice.complained(tr("Put it on the bench"),
                                                    tr("The bench is empty: put the setup on it first."));
    bench.suggest(learnedPlan(*bench.content().input, day_->report), tr("what the day taught"));
    emit review_.desk().voice.said(tr("On the bench now, with what the log taught; undo in Plan takes it back."));
}

void TaughtPanel::putChange(std::size_t index) {
    if (!day_ || !day_->learned || index >= day_->next.changes.size()) return;
    const NextChange& change = day_->next.changes[index];
    if (!benchHoldsSetup()) putOnBench();
    Bench& bench = review_.desk().bench;
    if (bench.empty()) return;
    bench.suggest(withChange(learnedPlan(*bench.content().input, day_->report), change),
                  QString::fromStdString(change.change));
    emit review_.desk().voice.said(
        tr("On the bench: %1. Undo in Plan takes it back.").arg(QString::fromStdString(change.change)));
}

void TaughtPanel::keepInGarage() {
    if (!day_ || !day_->learned) return;
    GarageSession& session = review_.desk().garage;
    std::unique_ptr<AcceptDialog> dialog;
    if (!session.look([&](Garage& garage) { dialog = std::make_unique<AcceptDialog>(garage, *day_, this); })) return;
    if (dialog->exec() != QDialog::Accepted) return;
    Id revision{ItemKind::Setup, 0};
    const bool done = session.change(tr("Keeping what was learned"), [&](Garage& garage) {
        Fit fit = fitRecord(day_->report, learnJson(day_->report), *day_->data->context.setup, day_->passes);
        revision = garage.acceptFit(garage.addFit(fit), dialog->acceptance());
    });
    if (!done) return;
    session.look([&](Garage& garage) {
        emit review_.desk().voice.said(tr("Kept: %1, revision %2.")
                                           .arg(QString::fromStdString(garage.setup(revision).name))
                                           .arg(garage.setup(revision).revision));
    });
}

} // namespace rw
