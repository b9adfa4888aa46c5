#include "app/desktop/plan/power_panel.h"

#include "app/desktop/plan/size_panel.h"
#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/figure_table.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/labels.h"
#include "app/desktop/shared/limit_texts.h"
#include "app/desktop/shared/value_table_model.h"
#include "plotting/chart.h"
#include "storage/choose_set.h"

#include <QHBoxLayout>
#include <QItemSelectionModel>
#include <QPushButton>
#include <QVBoxLayout>

#include <algorithm>

namespace rw {

namespace {

constexpr std::size_t quickRuns = 200; // of each row's spread: a chance to 3 %

// The setup's own parts with what is on the bench, kept or not; the rest of the bench goes along.
template<class Values>
void takeBench(std::vector<ChoosePart<Values>>& parts, const Values& kept, const Values& now) {
    for (ChoosePart<Values>& part : parts)
        if (part.values == kept) part.values = now;
}

PowerAnswer answerFor(const PlanInput& input, const std::string& garage, const std::string& setup,
                      const std::string& venue, const std::stop_token& stop) {
    PowerAnswer out;
    if (garage.empty()) { // what is on the bench alone
        out.set.base = input;
        out.set.motors = {{"motor", "", input.motor, input.uncertainty}};
        out.set.controllers = {{"controller", "", input.controller, input.uncertainty}};
        out.set.packs = {{"pack", "", input.pack, input.uncertainty}};
    } else {
        Garage file = Garage::open(garage);
        out.set = chooseSet(file, parseId(setup, "setup"), parseId(venue, "venue"));
        const PlanInput kept = out.set.base;
        out.set.base = input;
        out.set.base.gears.pinions = kept.gears.pinions;
        out.set.base.gears.spurs = kept.gears.spurs;
        takeBench(out.set.motors, kept.motor, input.motor);
        takeBench(out.set.controllers, kept.controller, input.controller);
        takeBench(out.set.packs, kept.pack, input.pack);
    }
    out.result = choosePower(out.set, {.rank = {}, .runs = quickRuns, .work = {stop, {}, 0}});
    return out;
}

bool sameParts(const PlanInput& a, const PlanInput& b) {
    return a.motor == b.motor && a.controller == b.controller && a.pack == b.pack &&
           a.gears.pinion_teeth == b.gears.pinion_teeth && a.gears.spur_teeth == b.gears.spur_teeth;
}

} // namespace

PowerPanel::PowerPanel(PlanSession& session, QWidget* parent)
    : QWidget(parent)
    , session_(session)
    , worker_(
          this,
          [this](std::shared_ptr<const PowerAnswer> answer) {
              answer_ = std::move(answer);
              trouble_.clear();
              picked_ = -1;
              draw();
          },
          [this](const QString& sentence) {
              answer_.reset();
              trouble_ = sentence;
              draw();
          }) {
    size_ = new SizePanel(session);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, gridStep, 0, 0);
    column->setSpacing(2 * gridStep);
    column->addWidget(makeOwned(), 10);
    column->addWidget(size_, 11);
    connect(&session_, &PlanSession::inputChanged, this, [this] { stale_ = true; });
    connect(&session_, &PlanSession::outcomeChanged, this, &PowerPanel::ask);
    connect(&session_.desk().garage, &GarageSession::changed, this, [this] {
        stale_ = true;
        ask();
    });
    connect(&session_.desk().units, &Units::changed, this, &PowerPanel::draw);
    draw();
}

PowerPanel::~PowerPanel() = default;

QWidget* PowerPanel::makeOwned() {
    auto* owned = new QWidget;
    auto* column = new QVBoxLayout(owned);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(gridStep);
    auto* both = new QHBoxLayout;
    both->setSpacing(3 * gridStep);
    auto* left = new QVBoxLayout;
    left->setSpacing(gridStep);
    auto* head = new QHBoxLayout;
    auto* question = new ShortLabel(Type::Strong);
    question->setText(tr("Which of what you own"));
    head->addWidget(question);
    head->addStretch(1);
    note_ = new ShortLabel(Type::Small, Tone::Soft);
    head->addWidget(note_);
    left->addLayout(head);
    model_ = new ValueTableModel(3, this);
    table_ = new FigureTable;
    table_->setModel(model_);
    table_->setAccessibleName(tr("Motors, controllers and packs of the garage, each with its best gears"));
    table_->setSelectionMode(QAbstractItemView::SingleSelection);
    left->addWidget(table_, 1);
    both->addLayout(left, 13);
    auto* right = new QVBoxLayout;
    right->setSpacing(gridStep);
    right->addWidget(new TextLabel(tr("Fast against safe"), Type::Strong));
    chart_ = new Chart;
    chart_->setAccessibleName(tr("Speed of every combination against what is left of its tightest limit"));
    right->addWidget(chart_, 1);
    both->addLayout(right, 8);
    auto* foot = new QHBoxLayout;
    foot->setSpacing(gridStep);
    change_ = new TextLabel(QString(), Type::Small, Tone::Soft);
    change_->setWordWrap(true);
    put_ = new QPushButton(tr("Put it on the bench"));
    foot->addWidget(change_, 1);
    foot->addWidget(put_);
    column->addLayout(both, 1);
    column->addLayout(foot);
    connect(table_->selectionModel(), &QItemSelectionModel::currentRowChanged, this,
            [this](const QModelIndex& now) { pick(now.row()); });
    connect(table_, &FigureTable::rowActivated, this, &PowerPanel::pick);
    connect(put_, &QPushButton::clicked, this, &PowerPanel::putOnBench);
    return owned;
}

bool PowerPanel::busy() const { return worker_.busy() || size_->busy(); }

void PowerPanel::showEvent(QShowEvent* event) {
    QWidget::showEvent(event);
    wanted_ = true;
    ask();
}

void PowerPanel::hideEvent(QHideEvent* event) {
    QWidget::hideEvent(event);
    wanted_ = false;
}

void PowerPanel::ask() {
    if (!wanted_ || !stale_ || session_.empty() || !session_.current()) return;
    stale_ = false;
    const BenchContent bench = session_.desk().bench.content();
    GarageSession& garage = session_.desk().garage;
    const bool kept = garage.isOpen() && !bench.setupId.isEmpty() && !bench.venueId.isEmpty();
    worker_.ask([input = session_.shared(), path = kept ? garage.path().toStdString() : std::string(),
                 setup = bench.setupId.toStdString(), venue = bench.venueId.toStdString()](
                    const std::stop_token& stop) { return answerFor(*input, path, setup, venue, stop); });
}

const ChooseRow* PowerPanel::picked() const {
    if (!answer_ || picked_ < 0 || picked_ >= static_cast<int>(answer_->result.rows.size())) return nullptr;
    return &answer_->result.rows[static_cast<std::size_t>(picked_)];
}

QString PowerPanel::nameOf(const ChooseRow& row) const {
    const QString motor = QString::fromStdString(answer_->set.motors[row.motor].name);
    const QString pack = QString::fromStdString(answer_->set.packs[row.pack].name);
    return motor.isEmpty() ? tr("on the bench") : motor + QStringLiteral(" · ") + pack;
}

void PowerPanel::pick(int row) {
    if (row == picked_) return;
    picked_ = row;
    drawTradeOff();
    tellPicked();
}

void PowerPanel::putOnBench() {
    const ChooseRow* row = picked();
    if (!row) return;
    session_.endEdit();
    PlanInput next = row->plan;
    next.gears.pinions = session_.input().gears.pinions; // the list of the bench stays
    next.gears.spurs = session_.input().gears.spurs;
    session_.edit(tr("fit %1").arg(nameOf(*row)), {}, std::move(next));
}

void PowerPanel::draw() {
    if (!trouble_.isEmpty()) {
        note_->setText(trouble_);
    } else if (!answer_ || session_.empty()) {
        note_->setText({});
    } else {
        const auto rows = static_cast<qsizetype>(answer_->result.rows.size());
        const auto out = static_cast<qsizetype>(answer_->result.leftOut.size());
        QString text = rows == 1 ? tr("one combination") : tr("%1 combinations").arg(rows);
        if (out > 0)
            text += tr(" · %1 left out: %2").arg(out).arg(QString::fromStdString(answer_->result.leftOut.front().why));
        if (session_.desk().bench.content().setupId.isEmpty())
            text = tr("Take a setup from the garage to try all its parts.");
        note_->setText(text);
    }
    drawTable();
    drawTradeOff();
    tellPicked();
}

void PowerPanel::drawTable() {
    if (!answer_ || session_.empty()) {
        model_->setRows({}, {});
        return;
    }
    const Units& units = session_.units();
    std::vector<std::vector<ValueCell>> rows;
    const auto target = session_.input().drive.target_mps;
    const auto chance = [](std::optional<double> share) {
        return share ? figure(*share * 100.0, 0) + QStringLiteral(" %") : QStringLiteral("–");
    };
    for (const ChooseRow& row : answer_->result.rows) {
        const Tone tone = row.withinLimits ? Tone::Ink : Tone::Soft;
        const QString left = limitShort(row.tightest.limit) + QLatin1Char(' ') + limitTexts(row.tightest, units).left;
        const auto cell = [&](const QString& text, QVariant raw = {}) { return ValueCell{text, std::move(raw), tone}; };
        rows.push_back(
            {cell(QString::fromStdString(answer_->set.motors[row.motor].name)),
             cell(QString::fromStdString(answer_->set.controllers[row.controller].name)),
             cell(QString::fromStdString(answer_->set.packs[row.pack].name)),
             cell(QStringLiteral("%1/%2").arg(row.pinion).arg(row.spur)),
             cell(units.figure(Dimension::Speed, row.zoneMean, 1), row.zoneMean ? QVariant(*row.zoneMean) : QVariant()),
             cell(units.figure(Dimension::Current, row.peakPackCurrent, 0), row.peakPackCurrent),
             cell(units.figure(Dimension::Temperature, row.caseSoakPeak, 0), row.caseSoakPeak),
             ValueCell{left, row.tightest.margin, row.tightest.margin < 0.0 ? Tone::Bad : tone, true},
             cell(chance(row.targetProbability)), cell(chance(row.limitProbability))});
    }
    model_->setRows({tr("motor"), tr("controller"), tr("pack"), tr("gears"), units.symbol(Dimension::Speed),
                     tr("peak %1").arg(units.symbol(Dimension::Current)),
                     tr("case %1").arg(units.symbol(Dimension::Temperature)), tr("tightest"),
                     target ? tr("makes %1").arg(units.figure(Dimension::Speed, *target, 0)) : tr("makes it"),
                     tr("breaks")},
                    std::move(rows));
    table_->resizeColumnsToContents();
    constexpr int widestName = 13 * gridStep; // the figures matter more; the whole name is in the row's words
    for (int column = 0; column < 3; ++column)
        table_->setColumnWidth(column, std::min(table_->columnWidth(column), widestName));
}

void PowerPanel::drawTradeOff() {
    const UnitView speed = session_.units().of(Dimension::Speed);
    ChartContent content;
    content.x = {.title = tr("zone speed"), .unit = speed.symbol, .decimals = 1};
    content.y = {.title = tr("left of the tightest limit"), .unit = QStringLiteral("%"), .decimals = 0};
    if (!answer_ || session_.empty() || answer_->result.rows.empty()) {
        content.empty = trouble_.isEmpty() ? tr("Nothing to choose from yet.") : trouble_;
        chart_->setContent(std::move(content));
        return;
    }
    ChartSeries all{.name = {}, .muted = true, .line = LineKind::None, .point = PointKind::Disc, .freeForm = true};
    ChartSeries efficient{.name = tr("unbeaten in both"),
                          .hue = Hue::Speed,
                          .line = LineKind::Solid,
                          .point = PointKind::Disc,
                          .freeForm = true};
    const auto& rows = answer_->result.rows;
    const auto add = [&](ChartSeries& series, const ChooseRow& row) {
        series.x.push_back(speed.shown(*row.zoneMean));
        series.y.push_back(row.tightest.margin * 100.0);
        series.notes.push_back(nameOf(row));
    };
    for (const ChooseRow& row : rows)
        if (row.zoneMean) add(all, row);
    std::vector<const ChooseRow*> joined;
    for (const std::size_t index : answer_->result.efficient)
        joined.push_back(&rows[index]);
    std::sort(joined.begin(), joined.end(), [](auto* a, auto* b) { return *a->zoneMean < *b->zoneMean; });
    for (const ChooseRow* row : joined)
        add(efficient, *row);
    for (const ChooseRow& row : rows)
        if (row.zoneMean && sameParts(row.plan, session_.input()))
            content.markers.push_back(
                {.x = speed.shown(*row.zoneMean), .y = row.tightest.margin * 100.0, .label = tr("on the bench")});
    if (const ChooseRow* row = picked(); row && row->zoneMean && !sameParts(row->plan, session_.input()))
        content.markers.push_back(
            {.x = speed.shown(*row->zoneMean), .y = row->tightest.margin * 100.0, .label = nameOf(*row)});
    if (const auto target = session_.input().drive.target_mps)
        content.regions.push_back(
            {.from = speed.shown(*target), .to = speed.shown(*target) * 1.0005, .label = tr("target")});
    content.limits.push_back({.value = 0.0, .label = tr("over a limit below"), .broken = true});
    content.series = {std::move(all), std::move(efficient)};
    chart_->setContent(std::move(content));
}

// What the picked row would change, in words beside the button.
void PowerPanel::tellPicked() {
    const ChooseRow* row = picked();
    const auto outcome = session_.outcome();
    put_->setEnabled(row && !session_.empty() && !sameParts(row->plan, session_.input()));
    if (!row || !outcome || outcome->result.margins.empty()) {
        change_->setText(row ? QString() : tr("Pick a row to see what it would change."));
        return;
    }
    const Units& units = session_.units();
    const PassResult& now = outcome->result.passes.front();
    QStringList words{tr("%1: %2, %3; was %4, %5.")
                          .arg(nameOf(*row), limitTitle(row->tightest.limit), limitTexts(row->tightest, units).left,
                               limitTitle(outcome->result.margins.front().limit),
                               limitTexts(outcome->result.margins.front(), units).left),
                      tr("Pack %1 → %2, motor %3 → %4.")
                          .arg(units.figure(Dimension::Current, now.peakPackCurrent, 0),
                               units.text(Dimension::Current, row->peakPackCurrent, 0),
                               units.figure(Dimension::Temperature, now.caseSoakPeak, 0),
                               units.text(Dimension::Temperature, row->caseSoakPeak, 0))};
    for (const std::string& note : row->notes)
        words << QString::fromStdString(note);
    change_->setText(words.join(QLatin1Char(' ')));
}

} // namespace rw
