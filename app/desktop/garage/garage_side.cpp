#include "app/desktop/garage/garage_side.h"

#include "app/desktop/shared/figure_table.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/garage_text.h"
#include "app/desktop/shared/widgets.h"

#include <QAbstractItemView>
#include <QComboBox>
#include <QHeaderView>
#include <QLineEdit>
#include <QListWidget>

namespace rw {

namespace {
constexpr int typingPause_ms = 150, mostBest = 12;
} // namespace

GarageSide::GarageSide(const Desk& desk)
    : desk_(desk) {
    auto* body = new QWidget;
    rw::scroll(*this, body); // in a low window
    auto* column = columnIn(body, gridStep, {2 * gridStep, 2 * gridStep, 2 * gridStep, 2 * gridStep});
    words_ = named(new QLineEdit, tr("Search everything"));
    words_->setPlaceholderText(tr("Search everything"));
    words_->setClearButtonEnabled(true);
    kind_ = named(new QComboBox, tr("Search in"));
    kind_->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    kind_->setMinimumContentsLength(5);
    kind_->view()->setMinimumWidth(18 * gridStep);
    kind_->addItem(tr("all"), -1);
    for (const ItemKind kind : allKinds())
        if (kind != ItemKind::Session) kind_->addItem(kindTitle(kind), static_cast<int>(kind));
    findNote_ = paragraph({}, Type::Small, Tone::Soft);
    finds_ = named(new QListWidget, tr("Finds"));
    finds_->setFrameShape(QFrame::NoFrame);
    finds_->setWordWrap(true);
    finds_->setMaximumHeight(26 * gridStep);
    best_ = new ValueTable(1, tr("Best passes"));
    bestNote_ = paragraph({}, Type::Small, Tone::Soft);
    lay(*column, {laid(rowOf(gridStep), {grow(words_), kind_}), findNote_, finds_, gap(gridStep),
                  new TextLabel(tr("Best passes"), Type::Heading), best_, bestNote_, slack(1)});
    once(typing_, typingPause_ms, this, &GarageSide::search);
    connect(words_, &QLineEdit::textChanged, &typing_, qOverload<>(&QTimer::start));
    connect(kind_, &QComboBox::currentIndexChanged, this, &GarageSide::search);
    connectLists();
    connect(&desk_.units, &Units::changed, this, &GarageSide::fillBest);
    search();
}

// A click shows what a row is about; a double click or Enter opens the log, where it names one.
void GarageSide::connectLists() {
    const auto idOf = [](const QListWidgetItem* item) {
        return idFromText(item->data(Qt::UserRole).toString().toStdString());
    };
    connect(finds_, &QListWidget::itemClicked, this, [this, idOf](QListWidgetItem* item) {
        if (const auto id = idOf(item)) emit wanted(shownFor(*id));
    });
    connect(finds_, &QListWidget::itemActivated, this, [this, idOf](QListWidgetItem* item) {
        const auto id = idOf(item);
        if (!id) return;
        if (id->kind == ItemKind::Log || id->kind == ItemKind::Pass)
            emit openWanted(*id);
        else
            emit wanted(shownFor(*id));
    });
    connect(best_->selectionModel(), &QItemSelectionModel::currentRowChanged, this, [this](const QModelIndex& now) {
        const BestPass* best = filling_ ? nullptr : atRow(bestPasses_, now.row());
        if (best) emit revisionWanted(best->vehicle, best->setup);
    });
    connect(best_, &FigureTable::rowActivated, this, [this](int row) {
        if (const BestPass* best = atRow(bestPasses_, row)) emit openWanted(best->pass);
    });
}

void GarageSide::focusSearch() {
    words_->setFocus(Qt::ShortcutFocusReason);
    words_->selectAll();
}

void GarageSide::refresh() {
    fillBest();
    search();
}

Id GarageSide::shownFor(Id id) const {
    Id shown = id;
    desk_.garage.look([&](Garage& garage) {
        std::optional<Id> setup;
        if (id.kind == ItemKind::Log) shown = garage.log(id).outing.value_or(id);
        if (id.kind == ItemKind::Pass) shown = garage.pass(id).vehicle.value_or(id);
        if (id.kind == ItemKind::Setup) setup = id;
        if (id.kind == ItemKind::Plan) setup = garage.plan(id).setup;
        if (id.kind == ItemKind::Fit) setup = garage.fit(id).setup;
        if (setup) shown = garage.setup(*setup).vehicle;
    });
    return shown;
}

void GarageSide::search() {
    finds_->clear();
    const QString words = words_->text().trimmed();
    rw::setVisible(!words.isEmpty(), {finds_, findNote_});
    if (words.isEmpty() || !desk_.garage.isOpen()) return;
    const int kind = kind_->currentData().toInt();
    const auto found = desk_.garage.answer([&](Garage& garage) { return garage.search(words.toStdString()); });
    if (!found) return;
    for (const FoundItem& find : *found) {
        if (kind >= 0 && static_cast<int>(find.id.kind) != kind) continue;
        const QString title = QString::fromStdString(find.title);
        QString text = title + QStringLiteral(" · ") + kindSingular(find.id.kind);
        const QString excerpt = excerptText(find.excerpt);
        // Found by its name: the same words again would tell nothing.
        if (QString(excerpt).remove(u'“').remove(u'”') != title) text += u'\n' + excerpt;
        auto* item = new QListWidgetItem(text, finds_);
        item->setData(Qt::UserRole, QString::fromStdString(toString(find.id)));
    }
    findNote_->setText(finds_->count() == 0
                           ? tr("Nothing has these words.")
                           : counted(static_cast<std::size_t>(finds_->count()), tr("find"), tr("finds")));
    finds_->setVisible(finds_->count() > 0);
}

void GarageSide::fillBest() {
    const BestPass* chosen = atRow(bestPasses_, best_->currentIndex().row());
    const Id before = chosen ? chosen->setup : Id{ItemKind::Setup, 0}; // stays chosen when the list is filled anew
    bestPasses_ = desk_.garage.answer([](Garage& garage) { return garage.bestPasses({}, mostBest); })
                      .value_or(std::vector<BestPass>{});
    ValueRows rows;
    for (const BestPass& pass : bestPasses_)
        rows.push_back(
            {{tr("%1 %2").arg(QString::fromStdString(pass.vehicleName)).arg(pass.revision),
              {},
              Tone::Ink,
              rows.empty(),
              tr("%1, revision %2, %3, %4")
                  .arg(QString::fromStdString(pass.setupName))
                  .arg(pass.revision)
                  .arg(QString::fromUtf8(speedKindName(pass.oneWay.kind)), dateText(pass.when))},
             {desk_.units.figure(Dimension::Speed, pass.oneWay.mps), pass.oneWay.mps, Tone::Ink, rows.empty()},
             {desk_.units.figure(Dimension::Speed, pass.bothWays_mps), rawOf(pass.bothWays_mps)}});
    best_->setVisible(!rows.empty());
    bestNote_->setText(rows.empty()
                           ? tr("No pass is kept yet. Drop a log on the window, look at it in Review, and attach it.")
                           : tr("One way: the fastest pass of each setup revision. Both ways: the mean of two "
                                "neighbouring passes noted as there and back."));
    filling_ = true;
    best_->setRows({tr("setup"), tr("one way, %1").arg(desk_.units.symbol(Dimension::Speed)), tr("both ways")},
                   std::move(rows));
    fitToRows(*best_, 0);
    for (std::size_t i = 0; i < bestPasses_.size(); ++i)
        if (bestPasses_[i].setup == before) best_->selectRow(static_cast<int>(i));
    filling_ = false;
}

} // namespace rw
