#include "app/desktop/shared/pick_dialog.h"

#include "app/desktop/shared/labels.h"
#include "app/desktop/shared/laying_out.h"

#include <QListWidget>
#include <QPushButton>

namespace rw {

std::vector<PickRow> partRows(Garage& garage, ItemKind kind) {
    std::vector<PickRow> rows;
    for (const Part& part : garage.parts(kind))
        rows.push_back({QString::fromStdString(toString(part.id)), QString::fromStdString(part.name),
                        QString::fromStdString(part.description)});
    return rows;
}

std::vector<PickRow> planRows(Garage& garage) {
    std::vector<PickRow> rows;
    for (const StoredPlan& plan : garage.plans())
        rows.push_back({QString::fromStdString(toString(plan.id)), QString::fromStdString(plan.name),
                        QString::fromStdString(plan.created).left(10)});
    return rows;
}

PickDialog::PickDialog(const QString& title, QWidget* parent)
    : QDialog(parent) {
    setWindowTitle(title);
    auto* column = dialogColumn(*this);
    lists_ = rowOf(3 * gridStep);
    column->addLayout(lists_, 1);
    buttons_ = dialogButtons(*this, QDialogButtonBox::Ok | QDialogButtonBox::Cancel);
    column->addWidget(buttons_);
    resize(64 * gridStep, 48 * gridStep);
}

void PickDialog::addList(const QString& heading, const std::vector<PickRow>& rows, const QString& empty) {
    auto* column = columnOf(gridStep);
    column->addWidget(new TextLabel(heading, Type::Heading));
    auto* list = new QListWidget;
    list->setAccessibleName(heading);
    for (const PickRow& row : rows) {
        auto* item = new QListWidgetItem(
            row.detail.isEmpty() ? row.name : row.name + QStringLiteral("  ·  ") + row.detail, list);
        item->setData(Qt::UserRole, row.id);
    }
    if (!rows.empty()) list->setCurrentRow(0);
    connect(list, &QListWidget::currentRowChanged, this, &PickDialog::refresh);
    connect(list, &QListWidget::itemActivated, this, [this] {
        if (buttons_->button(QDialogButtonBox::Ok)->isEnabled()) accept();
    });
    auto* none = paragraph(empty, Type::Body, Tone::Soft);
    list->setVisible(!rows.empty());
    none->setVisible(rows.empty());
    lay(*column, {grow(list), Piece(none, 1, Qt::AlignTop)});
    lists_->addLayout(column);
    widgets_.push_back(list);
    refresh();
}

QString PickDialog::picked(int list) const {
    const QListWidgetItem* item = widgets_[static_cast<std::size_t>(list)]->currentItem();
    return item ? item->data(Qt::UserRole).toString() : QString();
}

void PickDialog::pick(int list, const QString& id) {
    QListWidget* widget = widgets_[static_cast<std::size_t>(list)];
    for (int row = 0; row < widget->count(); ++row)
        if (widget->item(row)->data(Qt::UserRole).toString() == id) widget->setCurrentRow(row);
}

void PickDialog::refresh() {
    bool all = true;
    for (const QListWidget* list : widgets_)
        all = all && list->currentItem();
    buttons_->button(QDialogButtonBox::Ok)->setEnabled(all);
}

} // namespace rw
