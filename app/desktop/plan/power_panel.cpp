#include "app/desktop/plan/power_panel.h"

#include "app/desktop/plan/power_beside.h"
#include "app/desktop/plan/size_panel.h"
#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/figure_table.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/plan_words.h"
#include "app/desktop/shared/widgets.h"
#include "plotting/chart.h"
#include "storage/choose_set.h"

#include <QHeaderView>
#include <QItemSelectionModel>

#include <algorithm>
#include <array>

namespace rw {

namespace {

constexpr std::size_t quickRuns = 200; // of each row's spread: a chance to 3 %
constexpr int roomBeside = 110 * gridStep, leastBeside = 66 * gridStep, leastStacked = 112 * gridStep;
constexpr std::array dispensable{9, 6}; // breaks, case: a narrow table does without, the card says them

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

// "six-cell motor no. 1" is a "six-cell no. 1" where the column says that it is a motor.
QString shortName(const std::string& name, const QString& kind) {
    QStringList words = QString::fromStdString(name).split(u' ', Qt::SkipEmptyParts);
    const QStringList whole = words;
    words.removeAll(kind);
    return (words.isEmpty() ? whole : words).join(u' ');
}

} // namespace

PowerPanel::PowerPanel(PlanSession& session)
    : session_(session)
    , watch_(this, session, [this] { ask(); })
    , worker_(this, [this](std::shared_ptr<const PowerAnswer> answer, const QString& why) {
        answer_ = std::move(answer);
        trouble_ = why;
        if (answer_) picked_ = -1;
        draw();
    }) {
    size_ = new SizePanel(session);
    card_ = new PowerCard;
    auto* page = new QWidget;
    column_ = laid(columnIn(page, 2 * gridStep, {0, gridStep, 0, 0}), {grow(makeOwned(), 10), grow(size_, 11)});
    area_ = scrolled(page); // a low or narrow window scrolls rather than squeeze its charts
    columnIn(this)->addWidget(area_);
    takeCard();
    connect(card_, &PowerCard::putWanted, this, &PowerPanel::putOnBench);
    connect(&session_.desk().garage, &GarageSession::changed, this, [this] { watch_.again(); });
    connect(&session_.desk().units, &Units::changed, this, &PowerPanel::draw);
    draw();
}

QWidget* PowerPanel::makeOwned() {
    auto* owned = new QWidget;
    owned_ = new QBoxLayout(QBoxLayout::LeftToRight, owned);
    owned_->setContentsMargins(0, 0, 0, 0);
    owned_->setSpacing(3 * gridStep);
    const auto headed = [](const QString& head, ShortLabel* beside, QWidget* below) {
        auto* line = laid(rowOf(), {new TextLabel(head, Type::Strong), slack(1), beside});
        return laid(columnOf(gridStep / 2), {line, grow(below)});
    };
    count_ = new ShortLabel(Type::Small, Tone::Soft);
    table_ = new ValueTable(3, tr("Motors, controllers and packs of the garage, each with its best gears"));
    table_->setMinimumHeight(24 * gridStep);
    table_->horizontalHeader()->setSectionResizeMode(QHeaderView::Fixed);
    connect(table_, &FigureTable::resized, this, &PowerPanel::fitColumns);
    note_ = new ShortLabel(Type::Small, Tone::Soft);
    auto* legend = new ShortLabel(Type::Small, Tone::Soft);
    legend->setText({}, tr("line: unbeaten in both"));
    chart_ = named(new Chart, tr("Speed of every combination against what is left of its tightest limit"));
    chart_->setMinimumHeight(26 * gridStep);
    lay(*owned_, {grow(laid(headed(tr("Which of what you own"), count_, table_), {note_}), 22),
                  grow(headed(tr("Fast against safe"), legend, chart_), 11)});
    connect(table_->selectionModel(), &QItemSelectionModel::currentRowChanged, this,
            [this](const QModelIndex& now) { pick(now.row()); });
    connect(table_, &FigureTable::rowActivated, this, &PowerPanel::pick);
    connect(chart_, &Chart::pointClicked, this, [this](int series, int index) {
        const auto line = static_cast<std::size_t>(series), point = static_cast<std::size_t>(index);
        if (line < pointRows_.size() && point < pointRows_[line].size())
            table_->setCurrentIndex(table_->model()->index(static_cast<int>(pointRows_[line][point]), 0));
    });
    return owned;
}

void PowerPanel::takeCard() { column_->insertWidget(1, card_); }

bool PowerPanel::busy() const { return worker_.busy() || size_->busy(); }

// The picture beside the table where there is room, else under it.
void PowerPanel::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    const bool beside = width() >= roomBeside;
    owned_->setDirection(beside ? QBoxLayout::LeftToRight : QBoxLayout::TopToBottom);
    area_->widget()->setMinimumHeight(beside ? leastBeside : leastStacked);
    fitColumns();
}

void PowerPanel::ask() {
    const BenchContent bench = session_.desk().bench.content();
    GarageSession& garage = session_.desk().garage;
    const bool kept = garage.isOpen() && !bench.setupId.isEmpty() && !bench.venueId.isEmpty();
    worker_.ask([input = session_.shared(), path = kept ? garage.path().toStdString() : std::string(),
                 setup = bench.setupId.toStdString(), venue = bench.venueId.toStdString()](
                    const std::stop_token& stop) { return answerFor(*input, path, setup, venue, stop); });
}

const ChooseRow* PowerPanel::picked() const { return answer_ ? atRow(answer_->result.rows, picked_) : nullptr; }

QString PowerPanel::nameOf(const ChooseRow& row) const {
    const QString motor = shortName(answer_->set.motors[row.motor].name, tr("motor"));
    const QString pack = shortName(answer_->set.packs[row.pack].name, tr("pack"));
    return motor.isEmpty() ? tr("on the bench") : motor + QStringLiteral(" · ") + pack;
}

void PowerPanel::pick(int row) {
    if (row == picked_) return;
    picked_ = row;
    if (table_->currentIndex().row() != row) table_->selectRow(row);
    drawTradeOff();
    tellPicked();
}

void PowerPanel::putOnBench() {
    const ChooseRow* row = picked();
    if (!row) return;
    PlanInput next = row->plan;
    next.gears.pinions = session_.input().gears.pinions; // the list of the bench stays
    next.gears.spurs = session_.input().gears.spurs;
    session_.step(tr("fit %1").arg(nameOf(*row)), std::move(next));
}

void PowerPanel::draw() {
    drawNote();
    drawTable();
    drawTradeOff();
    tellPicked();
}

void PowerPanel::drawNote() {
    count_->setText({});
    note_->setText({});
    if (!trouble_.isEmpty()) return note_->setText({}, trouble_);
    if (!answer_ || session_.empty()) return;
    const auto rows = static_cast<qsizetype>(answer_->result.rows.size());
    const auto out = static_cast<qsizetype>(answer_->result.leftOut.size());
    count_->setText({}, rows == 1 ? tr("one combination") : tr("%1 combinations").arg(rows));
    QString text = tr("Each with its best gear pair.");
    if (out > 0)
        text = tr("%1 left out: %2. ").arg(out).arg(QString::fromStdString(answer_->result.leftOut.front().why)) + text;
    if (session_.desk().bench.content().setupId.isEmpty())
        text = tr("Take a setup from the garage to try all its parts.");
    note_->setText({}, text);
}

void PowerPanel::drawTable() {
    if (!answer_ || session_.empty()) return table_->setRows({}, {});
    const Units& units = session_.units();
    ValueRows rows;
    const auto target = session_.input().drive.target_mps;
    const auto chance = [](std::optional<double> share) { return share ? shareText(*share) : QStringLiteral("–"); };
    const QStringList header{tr("motor"),
                             tr("controller"),
                             tr("pack"),
                             tr("gears"),
                             units.symbol(Dimension::Speed),
                             tr("peak %1").arg(units.symbol(Dimension::Current)),
                             tr("case %1").arg(units.symbol(Dimension::Temperature)),
                             tr("tightest, left"),
                             target ? tr("makes %1").arg(units.figure(Dimension::Speed, *target, 0)) : tr("makes it"),
                             tr("breaks")};
    for (const ChooseRow& row : answer_->result.rows) {
        const Tone tone = row.withinLimits ? Tone::Ink : Tone::Soft;
        const auto name = [&](const std::string& text, const QString& kind) {
            return ValueCell{shortName(text, kind), {}, tone, false, QString::fromStdString(text)};
        };
        const auto cell = [&](const QString& text, QVariant raw = {}) { return ValueCell{text, std::move(raw), tone}; };
        rows.push_back({name(answer_->set.motors[row.motor].name, header[0]),
                        name(answer_->set.controllers[row.controller].name, header[1]),
                        name(answer_->set.packs[row.pack].name, header[2]), cell(pairText(row.pinion, row.spur)),
                        cell(units.figure(Dimension::Speed, row.zoneMean, 1), rawOf(row.zoneMean)),
                        cell(units.figure(Dimension::Current, row.peakPackCurrent, 0), row.peakPackCurrent),
                        cell(units.figure(Dimension::Temperature, row.caseSoakPeak, 0), row.caseSoakPeak),
                        ValueCell{limitLeft(row.tightest.limit, row.tightest.margin), row.tightest.margin,
                                  row.tightest.margin < 0.0 ? Tone::Bad : tone, true},
                        cell(chance(row.targetProbability)), cell(chance(row.limitProbability))});
    }
    table_->setRows(header, std::move(rows));
    fitColumns();
    if (picked_ >= 0) table_->selectRow(picked_);
}

// Figures have the room that they need, names share the rest: nothing scrolls sideways.
void PowerPanel::fitColumns() {
    if (table_->model()->rowCount() == 0) return;
    constexpr int names = 3, leastName = 7 * gridStep, enoughForNames = 28 * gridStep;
    const auto needed = [this](int column) { return table_->neededWidth(column); };
    int figures = 0, whole = 0, left = table_->viewport()->width();
    for (int column = names; column < table_->model()->columnCount(); ++column)
        figures += needed(column);
    for (int column = 0; column < names; ++column)
        whole += needed(column);
    for (const int column : dispensable) {
        const bool hidden = left - figures < std::min(whole, enoughForNames);
        if (hidden) figures -= needed(column);
        table_->setColumnHidden(column, hidden);
    }
    left -= figures;
    // The widest give way first, down to one width for all.
    int widest = left;
    const auto taken = [&](int most) {
        int sum = 0;
        for (int column = 0; column < names; ++column)
            sum += std::min(needed(column), most);
        return sum;
    };
    while (widest > leastName && taken(widest) > left)
        --widest;
    const int spare = std::max(0, left - taken(widest)) / names;
    for (int column = 0; column < names; ++column)
        table_->setColumnWidth(column, std::min(needed(column), widest) + spare);
    for (int column = names; column < table_->model()->columnCount(); ++column)
        table_->setColumnWidth(column, needed(column));
}

void PowerPanel::drawTradeOff() {
    PowerPicture picture;
    if (answer_ && !session_.empty() && !answer_->result.rows.empty())
        picture = powerPicture(
            answer_->result, [this](const ChooseRow& row) { return nameOf(row); }, session_.input(), picked(),
            session_.units());
    else
        picture.content.empty = trouble_.isEmpty() ? tr("Nothing to choose from yet.") : trouble_;
    pointRows_ = std::move(picture.rows);
    chart_->setContent(std::move(picture.content));
}

void PowerPanel::tellPicked() {
    const ChooseRow* row = picked();
    card_->show(row, row ? nameOf(*row) : QString(), session_);
}

} // namespace rw
