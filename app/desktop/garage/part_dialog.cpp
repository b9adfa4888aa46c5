#include "app/desktop/garage/part_dialog.h"

#include "app/desktop/garage/value_editor.h"
#include "app/desktop/shared/dialog_frame.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/fold.h"
#include "app/desktop/shared/garage_text.h"
#include "app/desktop/shared/labels.h"
#include "app/desktop/shared/teeth_list.h"
#include "core/error.h"
#include "core/plan/plan_fields.h"

#include <QApplication>
#include <QComboBox>
#include <QFormLayout>
#include <QGridLayout>
#include <QLineEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>

#include <algorithm>
#include <array>

namespace rw {

namespace {

constexpr std::array kinds{ItemKind::Vehicle, ItemKind::Motor, ItemKind::Controller, ItemKind::Pack,
                           ItemKind::Tyre,    ItemKind::Gear,  ItemKind::Venue,      ItemKind::LimitSet};
constexpr int valueWidth = 12 * gridStep, helpHeight = 9 * gridStep;

// A gear is a pinion or a spur: only its module is needed of every one. A limit set holds limits alone.
bool needed(const PlanField& field, ItemKind kind) {
    if (kind == ItemKind::Gear) return true;
    if (kind == ItemKind::LimitSet) return field.name.ends_with("limit_C");
    return field.required;
}

bool offered(const PlanField& field, ItemKind kind) {
    if (kind == ItemKind::LimitSet)
        return field.name.find("limit") != std::string_view::npos || field.name.ends_with("comfort_C");
    return keyFits(field, kind);
}

bool isTeeth(const std::string& key) { return key == "gears.pinion_teeth" || key == "gears.spur_teeth"; }

QGridLayout* makeGrid(QWidget* parent) {
    auto* grid = new QGridLayout(parent);
    grid->setContentsMargins(0, 0, 2 * gridStep, 0);
    grid->setHorizontalSpacing(gridStep);
    grid->setVerticalSpacing(2);
    grid->setColumnStretch(0, 1);
    return grid;
}

} // namespace

PartDialog::PartDialog(ItemKind kind, const Units& units, QWidget* parent)
    : QDialog(parent)
    , units_(units) {
    setWindowTitle(tr("Add to the garage"));
    auto* column = dialogColumn(*this);
    column->setSpacing(gridStep);
    auto* form = new QFormLayout;
    form->setSpacing(gridStep);
    kind_ = new QComboBox;
    for (const ItemKind one : kinds)
        kind_->addItem(kindSingular(one), static_cast<int>(one));
    kind_->setCurrentIndex(std::max(0, kind_->findData(static_cast<int>(kind))));
    name_ = new QLineEdit;
    name_->setPlaceholderText(tr("what you call it"));
    description_ = new QLineEdit;
    description_->setPlaceholderText(tr("one line for lists"));
    kind_->setAccessibleName(tr("Kind"));
    name_->setAccessibleName(tr("Name"));
    description_->setAccessibleName(tr("Description"));
    form->addRow(tr("&Kind"), kind_);
    form->addRow(tr("&Name"), name_);
    form->addRow(tr("&Description"), description_);
    column->addLayout(form);
    column->addWidget(thinRule(Qt::Horizontal));
    area_ = new QScrollArea;
    area_->setWidgetResizable(true);
    area_->setFrameShape(QFrame::NoFrame);
    area_->setFocusPolicy(Qt::NoFocus);
    area_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    column->addWidget(area_, 1);
    column->addWidget(thinRule(Qt::Horizontal));
    help_ = new TextLabel(tr("Go to a value: what it means, what is usual and how to measure it stands here. What you "
                             "do not know yet can be added later."),
                          Type::Small, Tone::Soft);
    help_->setWordWrap(true);
    help_->setAlignment(Qt::AlignTop | Qt::AlignLeft);
    help_->setFixedHeight(helpHeight);
    column->addWidget(help_);
    complaint_ = new ComplaintLabel;
    column->addWidget(complaint_);
    column->addWidget(dialogButtons(*this, QDialogButtonBox::Ok | QDialogButtonBox::Cancel, tr("&Add")));
    connect(kind_, &QComboBox::currentIndexChanged, this, &PartDialog::fill);
    connect(qApp, &QApplication::focusChanged, this, [this](QWidget*, QWidget* now) { showHelp(now); });
    resize(100 * gridStep, 88 * gridStep);
    fill();
    name_->setFocus();
}

// The focus moves once more while the dialog goes.
PartDialog::~PartDialog() { qApp->disconnect(this); }

void PartDialog::fill() {
    const auto kind = static_cast<ItemKind>(kind_->currentData().toInt());
    for (ValueEditor* old : editors_)
        old->deleteLater();
    editors_.clear();
    complaint_->hide();
    auto* body = new QWidget;
    auto* column = new QVBoxLayout(body);
    column->setContentsMargins(0, 0, 0, 0);
    auto* main = new QWidget;
    auto* more = new QWidget;
    QGridLayout* mainGrid = makeGrid(main);
    QGridLayout* moreGrid = makeGrid(more);
    const std::array heads{tr("value"), tr("± uncertainty"), QString(), tr("source")};
    for (int i = 0; i < 4; ++i)
        mainGrid->addWidget(new TextLabel(heads[static_cast<std::size_t>(i)], Type::Small, Tone::Soft), 0, i + 1);
    for (const PlanField& field : planFields())
        if (offered(field, kind)) addRow(field.key(), needed(field, kind) ? *mainGrid : *moreGrid);
    if (kind == ItemKind::Gear) addRow("gears.count", *mainGrid);
    column->addWidget(main);
    if (moreGrid->count() > 0) {
        auto* head = new FoldHead(tr("More, if you know it"), true);
        more->hide();
        connect(head, &FoldHead::toggled, more, &QWidget::setVisible);
        column->addWidget(head);
    }
    column->addWidget(more);
    column->addStretch();
    area_->setWidget(body);
    orderTabs();
}

// Rows are made after the buttons, and anew for every kind: Tab comes through them first.
void PartDialog::orderTabs() {
    QWidget* last = description_;
    const auto next = [&last](QWidget* widget) {
        setTabOrder(last, widget);
        last = widget;
    };
    for (QWidget* widget : area_->widget()->findChildren<QWidget*>())
        if (widget->window() == this && (widget->focusPolicy() & Qt::TabFocus) != 0) next(widget);
    for (QAbstractButton* button : findChild<QDialogButtonBox*>()->buttons())
        next(button);
}

void PartDialog::addRow(const std::string& key, QGridLayout& grid) {
    auto* editor = new ValueEditor(key, {}, units_, this);
    editors_.push_back(editor);
    const int row = grid.rowCount();
    auto* label = new QLabel(keyLabel(key));
    label->setToolTip(keyHelp(key, units_));
    label->setBuddy(editor->editor());
    auto* usual =
        new TextLabel(editor->field() ? usualText(*editor->field(), units_) : QString(), Type::Small, Tone::Soft);
    usual->setWordWrap(true);
    editor->editor()->setFixedWidth(valueWidth);
    editor->uncertainty()->setFixedWidth(valueWidth);
    grid.addWidget(label, row, 0, Qt::AlignVCenter);
    grid.addWidget(usual, row + 1, 0, 1, 5, Qt::AlignTop);
    grid.addWidget(editor->editor(), row, 1);
    grid.addWidget(editor->uncertainty(), row, 2);
    grid.addWidget(new TextLabel(editor->symbol(), Type::Small, Tone::Soft), row, 3);
    grid.addWidget(editor->source(), row, 4);
}

ValueEditor* PartDialog::editor(const std::string& key) const {
    const auto found =
        std::find_if(editors_.begin(), editors_.end(), [&key](const ValueEditor* one) { return one->key() == key; });
    return found == editors_.end() ? nullptr : *found;
}

void PartDialog::showHelp(QWidget* focused) {
    for (const ValueEditor* editor : editors_) {
        if (focused != editor->editor() && focused != editor->uncertainty() && focused != editor->source()) continue;
        help_->setText(keyHelp(editor->key(), units_));
        area_->ensureWidgetVisible(focused);
        return;
    }
}

void PartDialog::complain(const QString& sentence, QWidget* where) {
    complaint_->say(sentence);
    where->setFocus(Qt::OtherFocusReason);
}

std::vector<Part> PartDialog::read() const {
    Part part;
    part.id.kind = static_cast<ItemKind>(kind_->currentData().toInt());
    part.name = name_->text().trimmed().toStdString();
    part.description = description_->text().trimmed().toStdString();
    std::vector<int> teeth;
    std::string teethKey;
    for (const ValueEditor* editor : editors_) {
        const auto* line = qobject_cast<const QLineEdit*>(editor->editor());
        if (line && !editor->empty() && isTeeth(editor->key()))
            if (auto several = typedTeeth(*editor->field(), line->text()); several.size() > 1) {
                if (!teeth.empty())
                    throw InputError({},
                                     tr("A list of teeth stands in one of the two: pinions or spurs.").toStdString());
                teeth = std::move(several);
                teethKey = editor->key();
                part.values[teethKey].source = static_cast<Source>(editor->source()->currentData().toInt());
                continue;
            }
        if (!editor->empty()) part.values[editor->key()] = editor->read();
    }
    if (teeth.empty()) return {part};
    std::vector<Part> parts;
    for (const int count : teeth) {
        parts.push_back(part);
        parts.back().name += " " + std::to_string(count);
        parts.back().values[teethKey].number = count;
    }
    return parts;
}

void PartDialog::accept() {
    if (name_->text().trimmed().isEmpty()) return complain(tr("It needs a name."), name_);
    for (const ValueEditor* editor : editors_) {
        try {
            if (!editor->empty() && !isTeeth(editor->key())) (void)editor->read();
        } catch (const InputError& error) {
            return complain(tr("%1: %2").arg(keyLabel(editor->key()), QString::fromStdString(error.message())),
                            editor->editor());
        }
    }
    try {
        parts_ = read();
    } catch (const InputError& error) {
        const ValueEditor* first = editor("gears.pinion_teeth");
        return complain(QString::fromStdString(error.message()), first ? first->editor() : name_);
    }
    QDialog::accept();
}

} // namespace rw
