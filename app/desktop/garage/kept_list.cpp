#include "app/desktop/garage/kept_list.h"

#include "app/desktop/shared/figure_table.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/garage_text.h"
#include "app/desktop/shared/units.h"

#include <QHeaderView>
#include <QVBoxLayout>

#include <map>

namespace rw {

namespace {

constexpr int mostPasses = 30; // what a page shows; all of them are in the CSV

QString openHelp() { return KeptList::tr("Double click or Enter opens it in Review"); }

} // namespace

PassFilter passesOf(std::optional<Id> id) {
    PassFilter filter;
    if (!id) return filter;
    if (id->kind == ItemKind::Vehicle) filter.vehicle = *id;
    if (id->kind == ItemKind::Pack) filter.pack = *id;
    if (id->kind == ItemKind::Motor) filter.motor = *id;
    return filter;
}

KeptList::KeptList(const Desk& desk, QWidget* parent)
    : QWidget(parent)
    , desk_(desk)
    , heading_(new TextLabel(QString(), Type::Heading))
    , model_(new ValueTableModel(2, this))
    , table_(new FigureTable) {
    table_->setModel(model_);
    table_->setSelectionMode(QAbstractItemView::SingleSelection);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(gridStep);
    column->addWidget(heading_);
    column->addWidget(table_);
    connect(table_, &FigureTable::rowActivated, this, [this](int row) {
        if (row >= 0 && row < static_cast<int>(ids_.size())) emit openWanted(ids_[static_cast<std::size_t>(row)]);
    });
}

void KeptList::fill(const QString& heading, const QStringList& header, std::vector<std::vector<ValueCell>> rows) {
    heading_->setText(heading);
    table_->setAccessibleName(heading);
    setVisible(!rows.empty());
    model_->setRows(header, std::move(rows));
    table_->horizontalHeader()->setSectionResizeMode(QHeaderView::ResizeToContents);
    table_->horizontalHeader()->setSectionResizeMode(1, QHeaderView::Stretch);
    fitToRows(*table_);
}

void KeptList::showLogs(Garage& garage, Id outing) {
    ids_.clear();
    std::vector<std::vector<ValueCell>> rows;
    for (const StoredLog& log : garage.logs(outing)) {
        ids_.push_back(log.id);
        QString setup;
        if (log.setup) {
            const Setup ran = garage.setup(*log.setup);
            setup = tr("%1, revision %2").arg(QString::fromStdString(ran.name)).arg(ran.revision);
        }
        if (!log.notes.empty())
            setup += (setup.isEmpty() ? QString() : QStringLiteral(" · ")) + QString::fromStdString(log.notes);
        rows.push_back({{QString::fromStdString(log.name), {}, Tone::Ink, true, openHelp()},
                        {setup, {}, Tone::Soft, false, openHelp()},
                        {QString::number(log.sessions), log.sessions},
                        {QString::number(log.passes), log.passes}});
    }
    fill(tr("Logs"), {tr("log"), tr("ran with"), tr("sessions"), tr("passes")}, std::move(rows));
}

void KeptList::showPasses(Garage& garage, PassFilter filter) {
    filter.order = PassFilter::Order::Newest;
    filter.limit = mostPasses;
    ids_.clear();
    std::map<Id, std::string> names; // of the logs
    std::vector<std::vector<ValueCell>> rows;
    for (const StoredPass& pass : garage.passes(filter)) {
        ids_.push_back(pass.id);
        if (!names.contains(pass.log)) names[pass.log] = garage.log(pass.log).name;
        const auto speed = bestSpeed(pass);
        const auto raw = [](std::optional<double> value) { return value ? QVariant(*value) : QVariant(); };
        const auto shown = speed ? std::optional(speed->mps) : std::nullopt;
        rows.push_back({{dateText(pass.when), {}, Tone::Ink, true, openHelp()},
                        {tr("%1, pass %2").arg(QString::fromStdString(names[pass.log])).arg(pass.index + 1),
                         {},
                         Tone::Soft,
                         false,
                         openHelp()},
                        {desk_.units.figure(Dimension::Speed, shown), raw(shown)},
                        {desk_.units.figure(Dimension::Current, pass.peakCurrent_A), raw(pass.peakCurrent_A)},
                        {desk_.units.figure(Dimension::Temperature, pass.motorMax_C), raw(pass.motorMax_C)}});
    }
    fill(tr("Passes, newest first"),
         {tr("when"), tr("log"), desk_.units.symbol(Dimension::Speed), QStringLiteral("A"),
          tr("motor %1").arg(desk_.units.symbol(Dimension::Temperature))},
         std::move(rows));
}

} // namespace rw
