#include "app/desktop/plan/compare_panel.h"

#include "app/desktop/plan/plan_session.h"
#include "app/desktop/shared/bench_source.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/figure_table.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/pick_dialog.h"
#include "app/desktop/shared/settings.h"
#include "app/desktop/shared/widgets.h"
#include "core/error.h"
#include "core/plan/plan_figures.h"

#include <QFileDialog>
#include <QMenu>
#include <QToolButton>

#include <cmath>

namespace rw {

namespace {

struct ComparedFigure {
    QString title;
    Dimension dimension;
    int decimals;
    std::optional<double> mine, other;
};

std::vector<ComparedFigure> compared(const PlanOutcome& mine, const PlanOutcome& other) {
    std::vector<ComparedFigure> out;
    const auto add = [&](std::string_view key) {
        const PlanFigure& figure = *findPlanFigure(key);
        const auto of = [&figure](const PlanOutcome& o) {
            return o.result.passes.empty() ? std::nullopt : figure.get(o.input, o.result.passes.front());
        };
        out.push_back({QString::fromUtf8(figure.brief()), figure.dimension, figure.decimals - 1, of(mine), of(other)});
    };
    add("zone_mean_mps");
    out.push_back({ComparePanel::tr("both ways, mean"), Dimension::Speed, 1, mine.result.bothWaysMean,
                   other.result.bothWaysMean});
    for (const char* key : {"peak_pack_A", "min_cell_V", "case_soak_peak_C", "stop_at_m"})
        add(key);
    const auto tightest = [](const PlanOutcome& o) {
        return o.result.margins.empty() ? std::nullopt : std::optional(o.result.margins.front().margin);
    };
    out.push_back({ComparePanel::tr("tightest limit, left"), Dimension::Share, 0, tightest(mine), tightest(other)});
    return out;
}

std::vector<ValueCell> figureRow(const ComparedFigure& figure, const Units& units) {
    const auto a = figure.mine, b = figure.other;
    const UnitView unit = units.of(figure.dimension);
    QString difference = QStringLiteral("–");
    if (a && b) {
        const double change = (*a - *b) * unit.factor;
        const bool shown = std::abs(change) >= 0.5 * std::pow(10.0, -figure.decimals);
        difference = (shown && change > 0.0 ? QStringLiteral("+") : QString()) + rw::figure(change, figure.decimals);
    }
    return {{figure.title},
            {units.text(figure.dimension, a, figure.decimals), rawOf(a), Tone::Ink, true},
            {units.text(figure.dimension, b, figure.decimals), rawOf(b)},
            {difference, {}, Tone::Soft}};
}

} // namespace

ComparePanel::ComparePanel(PlanSession& session)
    : session_(session) {
    note_ = paragraph({}, Type::Small, Tone::Soft);
    auto* with = smallButton(tr("Compare with ▾"));
    with->setPopupMode(QToolButton::InstantPopup);
    auto* menu = new QMenu(with);
    connect(menu->addAction(tr("What is kept")), &QAction::triggered, this, &ComparePanel::compareWithKept);
    connect(menu->addAction(tr("Another revision…")), &QAction::triggered, this, &ComparePanel::askForRevision);
    connect(menu->addAction(tr("A plan in the garage…")), &QAction::triggered, this, &ComparePanel::askForKeptPlan);
    connect(menu->addAction(tr("A plan file…")), &QAction::triggered, this, &ComparePanel::askForFile);
    with->setMenu(menu);
    end_ = smallButton(tr("End"));
    connect(end_, &QToolButton::clicked, &session_, &PlanSession::stopComparing);
    table_ = new ValueTable(1, tr("Two plans side by side"), QAbstractItemView::ExtendedSelection);
    lay(*columnIn(this, gridStep, {0, gridStep, 0, 0}),
        {laid(rowOf(gridStep), {grow(note_), with, end_}), grow(table_)});
    connect(&session_, &PlanSession::outcomeChanged, this, &ComparePanel::draw);
    connect(&session_, &PlanSession::rivalChanged, this, &ComparePanel::draw);
    connect(&session_.desk().units, &Units::changed, this, &ComparePanel::draw);
    draw();
}

void ComparePanel::compareWithKept() {
    if (!session_.empty()) session_.compareWith(tr("kept"), session_.kept());
}

void ComparePanel::compareWithFile(const QString& path) {
    try {
        const BenchContent other = benchFromFile(path);
        session_.compareWith(other.name, *other.input);
    } catch (const std::exception& error) {
        emit session_.desk().voice.complained(tr("That plan cannot be compared with"), QString::fromUtf8(error.what()));
    }
}

void ComparePanel::askForFile() {
    const QString path =
        QFileDialog::getOpenFileName(this, tr("Compare with a plan file"),
                                     session_.desk().settings.text(QStringLiteral("folder")), tr("Plans (*.json)"));
    if (!path.isEmpty()) compareWithFile(path);
}

void ComparePanel::askForKeptPlan() {
    session_.desk().garage.attempt(tr("Comparing"), [this](Garage& garage) {
        const QString plan =
            pickOne(this, tr("Compare with a plan"),
                    {tr("Plan"), planRows(garage), tr("No plan is kept yet: save one from the Plan menu.")});
        if (plan.isEmpty()) return;
        const BenchContent other = benchFromPlan(garage, parseId(plan.toStdString(), "plan"));
        session_.compareWith(other.name, *other.input);
    });
}

// Of any setup in the garage, at the venue of the bench.
void ComparePanel::askForRevision() {
    session_.desk().garage.attempt(tr("Comparing"), [this](Garage& garage) {
        std::vector<PickRow> rows;
        for (const Setup& newest : garage.setups()) {
            std::vector<Setup> line = garage.revisions(newest.id);
            std::reverse(line.begin(), line.end());
            for (const Setup& setup : line)
                rows.push_back({QString::fromStdString(toString(setup.id)),
                                tr("%1, revision %2").arg(QString::fromStdString(setup.name)).arg(setup.revision),
                                QString::fromStdString(setup.reason)});
        }
        const QString setup =
            pickOne(this, tr("Compare with a revision"), {tr("Revision"), rows, tr("No setup is kept yet.")});
        if (!setup.isEmpty()) compareWithRevision(setup);
    });
}

void ComparePanel::compareWithRevision(const QString& setupId) {
    session_.desk().garage.look([&](Garage& garage) {
        const Id id = parseId(setupId.toStdString(), "setup");
        const QString venue = session_.desk().bench.content().venueId;
        const std::vector<Part> venues = garage.parts(ItemKind::Venue);
        if (venue.isEmpty() && venues.empty())
            return emit session_.desk().voice.complained(tr("That revision cannot be compared with"),
                                                         tr("There is no venue to plan it at; add one in the Garage."));
        const Id place = venue.isEmpty() ? venues.front().id : parseId(venue.toStdString(), "venue");
        const BenchContent other = benchFromSetup(garage, id, place);
        session_.compareWith(tr("revision %1").arg(other.revision), *other.input);
    });
}

void ComparePanel::draw() {
    const auto mine = session_.outcome();
    const auto rival = session_.rival();
    end_->setVisible(rival != nullptr);
    table_->setVisible(rival && mine);
    if (!rival || !mine) {
        note_->setText(tr("Lay another plan beside this one: its speed is drawn dashed, and the figures stand here."));
        return table_->setRows({}, {});
    }
    note_->setText(tr("This plan beside %1").arg(session_.rivalName()));
    ValueRows rows;
    for (const ComparedFigure& figure : compared(*mine, *rival))
        if (std::vector<ValueCell> row = figureRow(figure, session_.units());
            row[1].text != row[2].text) // what is alike says nothing
            rows.push_back(std::move(row));
    for (const PlanField* field : differences(mine->input, rival->input))
        rows.push_back({{fieldLabel(*field), {}, Tone::Accent},
                        {valueWithUnit(*field, session_.units(), mine->input), {}, Tone::Ink, true},
                        {valueWithUnit(*field, session_.units(), rival->input)},
                        {QString()}});
    if (rows.empty()) rows.push_back({{tr("no difference")}, {QString()}, {QString()}, {QString()}});
    table_->setRows({QString(), tr("this"), session_.rivalName(), tr("change")}, std::move(rows));
}

} // namespace rw
