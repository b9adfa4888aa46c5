#include "app/desktop/shared/pick_dialog.h"

#include "app/desktop/shared/widgets.h"

#include <QInputDialog>
#include <QListWidget>

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
    lists_ = rowOf(3 * gridStep);
    buttons_ = dialogButtons(*this, QDialogButtonBox::Ok | QDialogButtonBox::Cancel);
    lay(*dialogColumn(*this), {grow(lists_), buttons_});
    resize(64 * gridStep, 48 * gridStep);
}

void PickDialog::addList(const PickList& what) {
    auto* list = named(new QListWidget, what.heading);
    for (const PickRow& row : what.rows) {
        auto* item = new QListWidgetItem(
            row.detail.isEmpty() ? row.name : row.name + QStringLiteral("  ·  ") + row.detail, list);
        item->setData(Qt::UserRole, row.id);
    }
    if (!what.rows.empty()) list->setCurrentRow(0);
    connect(list, &QListWidget::currentRowChanged, this, &PickDialog::refresh);
    connect(list, &QListWidget::itemActivated, this, [this] {
        if (buttons_->button(QDialogButtonBox::Ok)->isEnabled()) accept();
    });
    auto* none = paragraph(what.empty, Type::Body, Tone::Soft);
    list->setVisible(!what.rows.empty());
    none->setVisible(what.rows.empty());
    lists_->addLayout(laid(columnOf(gridStep),
                           {new TextLabel(what.heading, Type::Heading), grow(list), Piece(none, 1, Qt::AlignTop)}));
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

QString pickOne(QWidget* window, const QString& title, const PickList& list) {
    PickDialog dialog(title, window);
    dialog.addList(list);
    return dialog.exec() == QDialog::Accepted ? dialog.picked(0) : QString();
}

QString askForName(QWidget* window, const QString& title, const QString& label, const QString& proposal) {
    bool wanted = false;
    const QString name = QInputDialog::getText(window, title, label, QLineEdit::Normal, proposal, &wanted);
    return wanted ? name.trimmed() : QString();
}

} // namespace rw
