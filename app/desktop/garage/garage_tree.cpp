#include "app/desktop/garage/garage_tree.h"

#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/garage_text.h"
#include "app/desktop/shared/widgets.h"
#include "plotting/look.h"

#include <QHeaderView>
#include <QTreeWidget>

#include <array>
#include <map>

namespace rw {

namespace {

constexpr std::array shownKinds{ItemKind::Vehicle,  ItemKind::Pack,      ItemKind::Motor,    ItemKind::Controller,
                                ItemKind::Tyre,     ItemKind::Gear,      ItemKind::Venue,    ItemKind::Outing,
                                ItemKind::LimitSet, ItemKind::Checklist, ItemKind::ColumnMap};
constexpr int idRole = Qt::UserRole, kindRole = Qt::UserRole + 1;

QString textOf(Id id) { return QString::fromStdString(toString(id)); }

} // namespace

GarageTree::GarageTree(GarageSession& session)
    : session_(session) {
    auto* column = columnIn(this, usualSpacing, {gridStep, 2 * gridStep, gridStep, gridStep});
    tree_ = named(new QTreeWidget, tr("What the garage holds"));
    tree_->setColumnCount(2);
    tree_->setHeaderHidden(true);
    tree_->setFrameShape(QFrame::NoFrame);
    tree_->setIndentation(2 * gridStep);
    tree_->setContextMenuPolicy(Qt::CustomContextMenu);
    tree_->header()->setStretchLastSection(false);
    tree_->header()->setSectionResizeMode(0, QHeaderView::Stretch);
    tree_->header()->setSectionResizeMode(1, QHeaderView::ResizeToContents);
    column->addWidget(tree_);
    connect(tree_, &QTreeWidget::currentItemChanged, this, [this] {
        if (filling_) return;
        if (const auto id = chosen()) emit chose(*id);
    });
    connect(tree_, &QTreeWidget::customContextMenuRequested, this,
            [this](const QPoint& at) { emit contextMenuWanted(tree_->viewport()->mapToGlobal(at)); });
}

void GarageTree::refresh() {
    std::vector<std::pair<ItemKind, std::vector<ListRow>>> lists;
    const bool answered = session_.look([&](Garage& garage) {
        for (const ItemKind kind : shownKinds)
            lists.emplace_back(kind, garage.list(kind, retired_));
    });
    if (!answered && session_.isOpen()) return; // what is shown stays; it is asked again
    const auto before = chosen();
    std::map<int, bool> open; // as the person left it
    for (int i = 0; i < tree_->topLevelItemCount(); ++i)
        open[tree_->topLevelItem(i)->data(0, kindRole).toInt()] = tree_->topLevelItem(i)->isExpanded();
    filling_ = true;
    tree_->clear();
    for (const auto& [kind, rows] : lists) {
        if (rows.empty() && kind > ItemKind::Venue && kind != ItemKind::Outing) continue;
        auto* head = new QTreeWidgetItem(tree_, {kindTitle(kind), QString::number(rows.size())});
        head->setFont(0, rw::font(Type::SmallStrong));
        head->setFont(1, rw::font(Type::Small));
        head->setTextAlignment(1, Qt::AlignRight);
        head->setData(0, kindRole, static_cast<int>(kind));
        for (const ListRow& row : rows) {
            QString name = QString::fromStdString(row.name);
            if (row.retired) name += tr(" (retired)");
            auto* item = new QTreeWidgetItem(head, {name});
            if (!row.description.empty())
                item->setToolTip(
                    0, QStringLiteral("<p>%1</p>").arg(QString::fromStdString(row.description).toHtmlEscaped()));
            item->setData(0, idRole, textOf(row.id));
            item->setData(0, kindRole, static_cast<int>(kind));
            item->setFirstColumnSpanned(true);
        }
        const auto was = open.find(static_cast<int>(kind));
        head->setExpanded(was == open.end() ? kind != ItemKind::Gear && kind != ItemKind::Outing : was->second);
    }
    filling_ = false;
    if (before && itemOf(*before))
        choose(*before);
    else if (tree_->topLevelItemCount() > 0 && tree_->topLevelItem(0)->childCount() > 0)
        tree_->setCurrentItem(tree_->topLevelItem(0)->child(0));
}

void GarageTree::setRetiredShown(bool shown) {
    retired_ = shown;
    refresh();
}

std::optional<Id> GarageTree::chosen() const {
    const QTreeWidgetItem* item = tree_->currentItem();
    return item ? idFromText(item->data(0, idRole).toString().toStdString()) : std::nullopt;
}

ItemKind GarageTree::chosenKind() const {
    const QTreeWidgetItem* item = tree_->currentItem();
    return item ? static_cast<ItemKind>(item->data(0, kindRole).toInt()) : ItemKind::Vehicle;
}

QTreeWidgetItem* GarageTree::itemOf(Id id) const {
    for (int group = 0; group < tree_->topLevelItemCount(); ++group)
        for (int i = 0; i < tree_->topLevelItem(group)->childCount(); ++i)
            if (tree_->topLevelItem(group)->child(i)->data(0, idRole).toString() == textOf(id))
                return tree_->topLevelItem(group)->child(i);
    return nullptr;
}

void GarageTree::choose(Id id) {
    if (QTreeWidgetItem* item = itemOf(id)) {
        tree_->setCurrentItem(item);
        tree_->scrollToItem(item);
    }
}

} // namespace rw
