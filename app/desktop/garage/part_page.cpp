#include "app/desktop/garage/part_page.h"

#include "app/desktop/garage/part_history.h"
#include "app/desktop/garage/revision_panel.h"
#include "app/desktop/shared/figure_table.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/garage_text.h"
#include "app/desktop/shared/widgets.h"

#include <algorithm>

namespace rw {

constexpr int chartHeight = 28 * gridStep;

PartPage::PartPage(const Desk& desk)
    : desk_(desk) {
    auto* body = new QWidget;
    auto* column = columnIn(body, gridStep, {3 * gridStep, 2 * gridStep, 3 * gridStep, 3 * gridStep});
    title_ = new TextLabel(QString(), Type::Figure);
    line_ = new TextLabel(QString(), Type::Body, Tone::Soft);
    notes_ = new TextLabel(QString());
    chartNote_ = new TextLabel(QString(), Type::Small, Tone::Soft);
    for (TextLabel* label : {title_, line_, notes_, chartNote_}) {
        label->setWordWrap(true);
        label->setTextInteractionFlags(Qt::TextSelectableByMouse);
    }
    chart_ = named(new Chart, tr("History"));
    chart_->setMinimumHeight(chartHeight);
    chart_->setMaximumHeight(chartHeight);
    revisions_ = new RevisionPanel(desk_);
    kept_ = new KeptList(desk_);
    fittedHead_ = new TextLabel(tr("Fitted to logs"), Type::Heading);
    fitted_ = new ValueTable(2, tr("Fitted values"), QAbstractItemView::ExtendedSelection);
    valuesHead_ = new TextLabel(tr("Values"), Type::Heading);
    valuesNote_ = paragraph(tr("No value yet. “Add a value…” in the Garage menu adds one."), Type::Body, Tone::Soft);
    values_ = new ValueTable(2, tr("Values"));
    lay(*column, {title_, line_, notes_, gap(gridStep), chart_, chartNote_, gap(gridStep), revisions_, fittedHead_,
                  fitted_, gap(gridStep), kept_, // a season of passes stands below what they said
                  gap(gridStep), valuesHead_, valuesNote_, values_, slack(1)});
    rw::scroll(*this, body, focusPolicy());
    connect(revisions_, &RevisionPanel::benchWanted, this, &PartPage::benchWanted);
    connect(kept_, &KeptList::openWanted, this, &PartPage::openWanted);
    connect(chart_, &Chart::pointActivated, this, [this](int, int index) {
        if (const Id* pass = atRow(points_, index)) emit openWanted(*pass);
    });
    connect(values_, &FigureTable::rowActivated, this, [this](int row) {
        if (const std::string* key = atRow(keys_, row)) emit editWanted(QString::fromStdString(*key));
    });
    connect(&desk_.units, &Units::changed, this, &PartPage::refresh);
    show(std::nullopt);
}

void PartPage::chooseRevision(Id setup) { revisions_->choose(setup); }

void PartPage::showNothing() {
    title_->setText(desk_.garage.isOpen() ? tr("Choose something on the left") : tr("No garage is open"));
}

void PartPage::show(std::optional<Id> id) {
    id_ = id;
    keys_.clear();
    rw::setVisible(false, {line_, notes_, chart_, chartNote_, revisions_, kept_, fittedHead_, fitted_, valuesHead_,
                           valuesNote_, values_});
    if (!id_ || !desk_.garage.isOpen()) return showNothing();
    desk_.garage.look([this](Garage& garage) {
        try {
            if (id_->kind == ItemKind::Outing)
                showOuting(garage, garage.outing(*id_));
            else
                showPart(garage, garage.part(*id_));
        } catch (const GarageError& error) {
            if (error.kind() != GarageError::Kind::NotFound) throw;
            id_.reset(); // gone since: undone or removed by another window
            showNothing();
        }
    });
}

void PartPage::showPart(Garage& garage, const Part& part) {
    title_->setText(QString::fromStdString(part.name));
    QString line = QString::fromStdString(part.description);
    if (!line.isEmpty()) line += QStringLiteral(" · ");
    line += tr("%1 since %2").arg(kindSingular(part.id.kind), dateText(part.created));
    if (part.retired) line += tr(" · retired");
    line_->tell(line);
    QString notes = QString::fromStdString(part.notes);
    if (part.id.kind == ItemKind::Checklist || part.id.kind == ItemKind::ColumnMap)
        notes += QStringLiteral("\n") + QString::fromStdString(part.document);
    notes_->tell(notes.trimmed());
    showHistory(garage, part.id);
    if (part.id.kind != ItemKind::Motor) showFitted(garage, part.id); // a motor's came with its history
    keys_ = keysInOrder(part.values);
    valuesHead_->setVisible(true);
    valuesNote_->setVisible(keys_.empty());
    values_->setVisible(!keys_.empty());
    values_->setRows({tr("value"), tr("source"), tr("is"), tr("uncertainty")}, valueRows(part.values, desk_.units));
    fitToRows(*values_, 1); // the source, with its note, takes the room that is left
}

void PartPage::showOuting(Garage& garage, const Outing& outing) {
    title_->setText(QString::fromStdString(outing.name));
    QString line = dateText(outing.date);
    if (outing.venue) line += QStringLiteral(" · ") + QString::fromStdString(garage.part(*outing.venue).name);
    line_->tell(line);
    notes_->tell(QString::fromStdString(outing.notes));
    kept_->showLogs(garage, outing.id);
    keys_ = keysInOrder(outing.weather);
    rw::setVisible(!keys_.empty(), {valuesHead_, values_});
    values_->setRows({tr("weather and strip"), tr("source"), tr("is"), tr("uncertainty")},
                     valueRows(outing.weather, desk_.units));
    fitToRows(*values_, 1);
}

void PartPage::showHistory(Garage& garage, Id id) {
    const auto draw = [this](HistoryChart chart, const QString& note) {
        chart_->setContent(std::move(chart.content));
        chart_->setVisible(true);
        points_ = std::move(chart.passes);
        chartNote_->tell(note);
    };
    if (id.kind == ItemKind::Vehicle) {
        draw(vehicleChart(garage.timeLine(id), desk_.units), {});
        revisions_->show(id);
        revisions_->setVisible(true);
        kept_->showPasses(garage, passesOf(id));
    } else if (id.kind == ItemKind::Pack) {
        const std::vector<PackPoint> points = garage.packHistory(id);
        draw(packChart(points, desk_.units), packSentence(points));
        kept_->showPasses(garage, passesOf(id));
    } else if (id.kind == ItemKind::Motor) {
        const std::vector<MotorPoint> points = garage.motorHistory(id);
        draw(motorChart(points, desk_.units), motorSentence(points, desk_.units));
        kept_->showPasses(garage, passesOf(id));
        showFitted(garage, id);
    }
}

// What fits said of it over time, value by value, oldest first.
void PartPage::showFitted(Garage& garage, Id part) {
    std::vector<FittedPoint> points = garage.fittedHistory(part);
    std::ranges::stable_sort(points, {}, &FittedPoint::key);
    ValueRows rows;
    for (const FittedPoint& point : points) {
        Value value;
        value.number = point.value;
        value.uncertainty = point.standardError;
        value.source = Source::Fitted;
        const auto row = valueRows({{point.key, value}}, desk_.units).front();
        QString from = dateText(point.when) + QStringLiteral(" · ") +
                       counted(static_cast<std::size_t>(point.passes), tr("pass"), tr("passes"));
        if (point.accepted) {
            const Setup into = garage.setup(*point.accepted);
            from += tr(" · taken into %1, revision %2").arg(QString::fromStdString(into.name)).arg(into.revision);
        }
        if (!point.determined) from += tr(" · not determined");
        rows.push_back({row[0], {from, {}, Tone::Soft}, row[2], row[3]});
    }
    rw::setVisible(!rows.empty(), {fittedHead_, fitted_});
    if (rows.empty()) return;
    fitted_->setRows({tr("value"), tr("fitted to"), tr("is"), tr("uncertainty")}, std::move(rows));
    fitToRows(*fitted_, 1);
}

} // namespace rw
