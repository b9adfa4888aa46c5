#include "app/desktop/plan/size_panel.h"

#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/figure_table.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/plan_words.h"
#include "app/desktop/shared/widgets.h"
#include "core/choose/changed_plan.h"
#include "core/plan/reach_binding.h"
#include "plotting/map_chart.h"

#include <QHeaderView>

#include <algorithm>
#include <limits>
#include <utility>

namespace rw {

namespace {

constexpr double nothing = std::numeric_limits<double>::quiet_NaN();
constexpr std::size_t quickRuns = 500;

SizeAnswer sized(const PlanInput& input, const SizeOptions& options) {
    SizeAnswer out{sizePower(input, *input.drive.target_mps, options), {}};
    if (out.map.best) out.best = simulatePlan(out.map.best->plan).passes.front();
    return out;
}

// Every other cell and few windings: there within the blink of an eye.
SizeOptions firstLook() {
    SizeOptions out;
    out.cellStep = 2, out.kvSteps = 6, out.refined = false, out.runs = 0;
    return out;
}

SizeOptions whole() {
    SizeOptions out;
    out.runs = quickRuns;
    return out;
}

} // namespace

SizePanel::SizePanel(PlanSession& session)
    : session_(session)
    , watch_(this, session, [this] { ask(); })
    , coarse_(this,
              [this](std::shared_ptr<const SizeAnswer> answer, const QString&) {
                  take(std::move(answer));
                  if (answer_) ask(fine_, whole());
              })
    , fine_(this, [this](std::shared_ptr<const SizeAnswer> answer, const QString&) { take(std::move(answer)); }) {
    title_ = new ShortLabel(Type::Strong);
    title_->setSizePolicy(QSizePolicy::Minimum, QSizePolicy::Preferred); // the legend gives way first
    auto* legend = new ShortLabel(Type::Small, Tone::Soft);
    legend->setText({}, tr("10 % a shade · heavy line: nothing left"));
    chart_ = named(new MapChart, tr("What is left of the tightest limit over cells and speed constant"));
    chart_->setReadout([this](int x, int y) { return readout(x, y); });
    auto* left = laid(columnOf(gridStep / 2), {laid(new QHBoxLayout, {title_, slack(1), legend}), grow(chart_)});
    lay(*rowIn(this, 3 * gridStep), {grow(left, 13), grow(makeFigures(), 8)});
    connect(chart_, &MapChart::placeClicked, this, &SizePanel::choose);
    connect(&session_.desk().units, &Units::changed, this, &SizePanel::draw);
    draw();
}

QWidget* SizePanel::makeFigures() {
    auto* side = new QWidget;
    which_ = new TextLabel(QString(), Type::Strong);
    figures_ = new ValueTable(1, tr("Figures of the place on the map"), QAbstractItemView::ExtendedSelection);
    figures_->horizontalHeader()->hide();
    note_ = paragraph({}, Type::Small, Tone::Soft);
    put_ = tagged(button(tr("Put it on the bench"), this, &SizePanel::putOnBench), "sizeBench");
    lay(*columnIn(side, gridStep / 2), {which_, grow(figures_), note_, Piece(put_, 0, Qt::AlignLeft)});
    return side;
}

// First a coarse picture, then the whole one.
void SizePanel::ask() {
    fine_.cancel();
    if (!session_.input().drive.target_mps) {
        coarse_.cancel();
        return take(nullptr);
    }
    ask(coarse_, firstLook());
}

void SizePanel::ask(LatestWorker<SizeAnswer>& worker, const SizeOptions& options) {
    worker.ask([input = session_.shared(), options](std::stop_token stop) {
        SizeOptions now = options;
        now.work.stop = std::move(stop);
        return sized(*input, now);
    });
}

void SizePanel::take(std::shared_ptr<const SizeAnswer> answer) {
    if (!answer || !answer_ || answer->map.kv.size() != answer_->map.kv.size()) chosen_.reset();
    answer_ = std::move(answer);
    draw();
}

std::optional<SizePanel::Place> SizePanel::place() const {
    if (!answer_) return std::nullopt;
    const SizeMap& all = answer_->map;
    if (chosen_) {
        const auto row = static_cast<std::size_t>(chosen_->first), column = static_cast<std::size_t>(chosen_->second);
        const auto& cell = all.map[row][column];
        if (!cell) return std::nullopt;
        return Place{all.cells[row], all.kv[column], *cell};
    }
    if (!all.best || !answer_->best) return std::nullopt;
    return Place{all.best->cells,
                 all.best->kv,
                 {all.best->tightest.margin, all.best->tightest.limit, all.best->overallRatio,
                  answer_->best->peakPackCurrent, answer_->best->caseSoakPeak}};
}

void SizePanel::choose(int cellsIndex, int kvIndex) {
    if (!answer_) return;
    chosen_ = std::pair(cellsIndex, kvIndex);
    chart_->setChosen(chosen_);
    drawFigures();
}

void SizePanel::putOnBench() {
    const auto at = place();
    if (!at || session_.empty()) return;
    PlanInput next = withRatio(woundFor(withCells(session_.input(), at->cells), at->kv), at->cell.overallRatio);
    session_.step(tr("%1 cells, %2 rpm/V").arg(at->cells).arg(figure(at->kv, 0)), std::move(next));
}

QString SizePanel::readout(int cellsIndex, int kvIndex) const {
    if (!answer_) return {};
    const SizeMap& all = answer_->map;
    const auto& cell = all.map[static_cast<std::size_t>(cellsIndex)][static_cast<std::size_t>(kvIndex)];
    const QString where = tr("%1 cells, %2 rpm/V")
                              .arg(all.cells[static_cast<std::size_t>(cellsIndex)])
                              .arg(figure(all.kv[static_cast<std::size_t>(kvIndex)], 0));
    if (!cell) return tr("%1: does not make the target").arg(where);
    return tr("%1: %2, %3 % left").arg(where, limitTitle(cell->limit), figure(cell->margin * 100.0, 0));
}

void SizePanel::draw() {
    MapContent content;
    content.x = {.title = tr("cells in series"), .unit = {}, .decimals = 0};
    content.y = {.title = tr("speed constant"), .unit = QStringLiteral("rpm/V"), .decimals = 0};
    const auto target = session_.empty() ? std::nullopt : session_.input().drive.target_mps;
    title_->setText(target ? tr("What to buy or wind for %1").arg(session_.units().text(Dimension::Speed, *target, 0))
                           : tr("What to buy or wind"));
    if (!answer_ || !target) {
        content.empty = target ? tr("…") : tr("Set a target under Drive to see which winding makes it.");
        chart_->setContent(std::move(content));
        return drawFigures();
    }
    const SizeMap& all = answer_->map;
    for (const int cells : all.cells)
        content.xs.push_back(cells);
    content.ys = all.kv;
    content.outside = tr("does not make %1").arg(session_.units().text(Dimension::Speed, *target, 0));
    content.level = shareText;
    std::vector<std::pair<std::string_view, bool>> regions; // limit, over it
    for (const auto& line : all.map) {
        content.z.emplace_back();
        content.region.emplace_back();
        for (const auto& cell : line) {
            content.z.back().push_back(cell ? cell->margin : nothing);
            if (!cell) {
                content.region.back().push_back(-1);
                continue;
            }
            const std::pair region(cell->limit, cell->margin < 0.0);
            auto known = std::find(regions.begin(), regions.end(), region);
            if (known == regions.end()) known = regions.insert(regions.end(), region);
            content.region.back().push_back(static_cast<int>(known - regions.begin()));
        }
    }
    for (const auto& [limit, over] : regions)
        content.names.push_back((over ? tr("%1 over") : tr("%1 binds")).arg(limitShort(limit)));
    addPoints(content);
    chart_->setContent(std::move(content));
    chart_->setChosen(chosen_);
    drawFigures();
}

// The owned motors at their speed constants, the bench's own as a ring, the best as a diamond.
void SizePanel::addPoints(MapContent& content) {
    const PlanInput& in = session_.input();
    const double cells = in.pack.series, own = in.motor.kv_rpm_per_V;
    QString bench = tr("on the bench");
    int owners = 0;
    session_.desk().garage.look([&](Garage& garage) {
        for (const Part& part : garage.parts(ItemKind::Motor)) {
            const auto kv = part.values.find("motor.kv_rpm_per_V");
            if (kv == part.values.end() || !kv->second.number) continue;
            const double at = *kv->second.number;
            if (at < content.ys.front() || at > content.ys.back()) continue;
            const QString name = QString::fromStdString(part.name);
            if (at == own) // the bench's point is this one's; two of them are nobody's
                bench = std::exchange(owners, owners + 1) == 0 ? name : tr("on the bench");
            else
                content.points.push_back({cells, at, name, MapPoint::Kind::Disc});
        }
    });
    content.points.push_back({cells, own, bench, MapPoint::Kind::Ring});
    if (const auto& best = answer_->map.best)
        content.points.push_back({static_cast<double>(best->cells), best->kv, tr("best"), MapPoint::Kind::Diamond});
}

void SizePanel::drawFigures() {
    const auto at = place();
    put_->setEnabled(at.has_value());
    which_->setText(chosen_ ? tr("Chosen place") : tr("Best place"));
    put_->setVisible(at.has_value());
    if (!at) return tellNothing();
    const Units& units = session_.units();
    ValueRows rows{{{tr("cells in series")}, {QString::number(at->cells), at->cells}},
                   {{tr("speed constant, rpm/V")}, {figure(at->kv, 0), at->kv}},
                   {{tr("overall ratio")}, {figure(at->cell.overallRatio, 2), at->cell.overallRatio}},
                   {{tr("left of %1").arg(limitShort(at->cell.limit))},
                    {shareText(at->cell.margin), at->cell.margin, at->cell.margin < 0.0 ? Tone::Bad : Tone::Ink, true}},
                   {{tr("peak pack current")}, {units.text(Dimension::Current, at->cell.peakPackCurrent, 0)}},
                   {{tr("motor case, after soak")}, {units.text(Dimension::Temperature, at->cell.caseSoakPeak, 0)}}};
    if (!chosen_ && answer_->map.best->targetProbability)
        rows.push_back({{tr("makes the target")}, {shareText(*answer_->map.best->targetProbability)}});
    figures_->setRows({QString(), QString()}, std::move(rows));
    figures_->resizeColumnsToContents();
    note_->setText(tr("Same frame and copper as on the bench, wound otherwise; the gearing as needed."));
}

// Why there is no place to speak of.
void SizePanel::tellNothing() {
    figures_->setRows({}, {});
    QString text;
    if (chosen_) {
        text = tr("No gearing makes the target here.");
    } else if (answer_ && answer_->map.nearest) {
        const SizeNearest& nearest = *answer_->map.nearest;
        text = tr("Nothing on the map makes the target: %1 cells at %2 rpm/V come nearest with %3; %4.")
                   .arg(nearest.cells)
                   .arg(figure(nearest.kv, 0), session_.units().text(Dimension::Speed, nearest.zoneMean, 1),
                        QString::fromUtf8(bindingText(nearest.binding)));
    }
    note_->setText(text);
}

} // namespace rw
