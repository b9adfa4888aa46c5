#include "app/desktop/garage/part_dialog.h"

#include "app/desktop/garage/value_dialog.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/figure_text.h"
#include "app/desktop/shared/garage_text.h"
#include "app/desktop/shared/widgets.h"
#include "core/error.h"
#include "core/plan/plan_fields.h"

#include <QApplication>
#include <QComboBox>
#include <QCoreApplication>
#include <QGridLayout>
#include <QLineEdit>

#include <algorithm>

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

struct Role {
    ItemKind kind;
    const char* label;
    Id Setup::*member;
    std::string_view teeth; // of a gear: the value that makes it one of this role
};

constexpr std::array<Role, 7> roles{
    {{ItemKind::Vehicle, QT_TRANSLATE_NOOP("setup", "&Vehicle"), &Setup::vehicle, {}},
     {ItemKind::Motor, QT_TRANSLATE_NOOP("setup", "&Motor"), &Setup::motor, {}},
     {ItemKind::Controller, QT_TRANSLATE_NOOP("setup", "&Controller"), &Setup::controller, {}},
     {ItemKind::Pack, QT_TRANSLATE_NOOP("setup", "&Pack"), &Setup::pack, {}},
     {ItemKind::Tyre, QT_TRANSLATE_NOOP("setup", "&Tyre"), &Setup::tyre, {}},
     {ItemKind::Gear, QT_TRANSLATE_NOOP("setup", "P&inion"), &Setup::pinion, "gears.pinion_teeth"},
     {ItemKind::Gear, QT_TRANSLATE_NOOP("setup", "&Spur"), &Setup::spur, "gears.spur_teeth"}}};

bool needsValue(const PlanField& field) {
    return field.required && field.group != "venue" && field.group != "air" && field.group != "wind";
}

QStringList missingValues(const Setup& setup) {
    QStringList missing;
    for (const PlanField& field : planFields())
        if (needsValue(field) && !setup.values.contains(field.key()))
            missing << QStringLiteral("%1 (%2)").arg(QString::fromUtf8(field.label), QString::fromUtf8(field.group));
    return missing;
}

} // namespace

PartDialog::PartDialog(ItemKind kind, const Units& units, QWidget* parent)
    : QDialog(parent)
    , units_(units) {
    setWindowTitle(tr("Add to the garage"));
    auto* column = dialogColumn(*this);
    column->setSpacing(gridStep);
    auto* form = closeForm();
    kind_ = named(new QComboBox, tr("Kind"));
    for (const ItemKind one : kinds)
        kind_->addItem(kindSingular(one), static_cast<int>(one));
    kind_->setCurrentIndex(std::max(0, kind_->findData(static_cast<int>(kind))));
    form->addRow(tr("&Kind"), kind_);
    name_ = addLine(*form, tr("&Name"), {}, tr("what you call it"));
    description_ = addLine(*form, tr("&Description"), {}, tr("one line for lists"));
    area_ = scrolled(nullptr);
    help_ = paragraph(tr("Go to a value: what it means, what is usual and how to measure it stands here. What you "
                         "do not know yet can be added later."),
                      Type::Small, Tone::Soft);
    help_->setAlignment(Qt::AlignTop | Qt::AlignLeft);
    help_->setFixedHeight(helpHeight);
    complaint_ = new ComplaintLabel;
    lay(*column, {form, thinRule(), grow(area_), thinRule(), help_, complaint_,
                  dialogButtons(*this, QDialogButtonBox::Ok | QDialogButtonBox::Cancel, tr("&Add"))});
    connect(kind_, &QComboBox::currentIndexChanged, this, &PartDialog::fill);
    connect(qApp, &QApplication::focusChanged, this, [this](QWidget*, QWidget* now) { showHelp(now); });
    resize(100 * gridStep, 88 * gridStep);
    fill();
    name_->setFocus();
}

// The focus moves once more while the dialog goes.
PartDialog::~PartDialog() { qApp->disconnect(this); }

ItemKind PartDialog::kind() const { return static_cast<ItemKind>(kind_->currentData().toInt()); }

void PartDialog::fill() {
    for (ValueEditor* old : editors_)
        old->deleteLater();
    editors_.clear();
    complaint_->hide();
    auto* body = new QWidget;
    auto* column = columnIn(body);
    auto* main = new QWidget;
    auto* more = new QWidget;
    QGridLayout* mainGrid = makeGrid(main);
    QGridLayout* moreGrid = makeGrid(more);
    const std::array heads{tr("value"), tr("± uncertainty"), QString(), tr("source")};
    for (int i = 0; i < 4; ++i)
        mainGrid->addWidget(new TextLabel(heads[static_cast<std::size_t>(i)], Type::Small, Tone::Soft), 0, i + 1);
    for (const PlanField& field : planFields())
        if (offered(field, kind())) addRow(field.key(), needed(field, kind()) ? *mainGrid : *moreGrid);
    if (kind() == ItemKind::Gear) addRow("gears.count", *mainGrid);
    column->addWidget(main);
    if (moreGrid->count() > 0) {
        auto* head = new FoldHead(tr("More, if you know it"), true);
        more->hide();
        connect(head, &FoldHead::toggled, more, &QWidget::setVisible);
        column->addWidget(head);
    }
    lay(*column, {more, slack()});
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
    auto* usual = paragraph(editor->field() ? usualText(*editor->field(), units_) : QString(), Type::Small, Tone::Soft);
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
    const auto found = std::ranges::find(editors_, key, &ValueEditor::key);
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
    complaint_->tell(sentence);
    where->setFocus(Qt::OtherFocusReason);
}

std::vector<Part> PartDialog::read() const {
    Part part;
    part.id.kind = kind();
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
        parts.back().name.append(1, ' ').append(std::to_string(count));
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

SetupDialog::SetupDialog(Garage& garage, std::optional<Id> chosen, QWidget* parent)
    : QDialog(parent)
    , garage_(garage) {
    setWindowTitle(tr("New setup from parts"));
    setMinimumWidth(60 * gridStep);
    auto* help = paragraph(tr("A setup keeps the values of its parts as they are now. Later changes become "
                              "revisions, each with a reason."),
                           Type::Small, Tone::Soft);
    auto* form = closeForm();
    for (std::size_t i = 0; i < roles.size(); ++i) {
        auto* box = parts_[i] = new QComboBox;
        for (const Part& part : garage.parts(roles[i].kind)) {
            if (!roles[i].teeth.empty() && part.values.find(roles[i].teeth) == part.values.end()) continue;
            addItem(*box, part.name, part.id);
            if (chosen == part.id) box->setCurrentIndex(box->count() - 1);
        }
        const QString label = QCoreApplication::translate("setup", roles[i].label);
        box->setAccessibleName(QString(label).remove(u'&'));
        if (box->count() == 0) box->setPlaceholderText(tr("none yet: add one first"));
        form->addRow(label, box);
    }
    name_ = addLine(*form, tr("&Name"), {}, tr("as the vehicle"));
    complaint_ = new ComplaintLabel;
    lay(*dialogColumn(*this),
        {help, form, complaint_, dialogButtons(*this, QDialogButtonBox::Save | QDialogButtonBox::Cancel)});
    connect(parts_.front(), &QComboBox::currentIndexChanged, this, &SetupDialog::takeUsualParts);
    if (!chosen || chosen->kind == ItemKind::Vehicle) takeUsualParts();
}

void SetupDialog::takeUsualParts() {
    const auto vehicle = chosenId(*parts_.front());
    if (!vehicle) return;
    try {
        const std::vector<Setup> setups = garage_.setups(vehicle);
        if (setups.empty()) return;
        for (std::size_t i = 1; i < roles.size(); ++i)
            parts_[i]->setCurrentIndex(
                parts_[i]->findData(QString::fromStdString(toString(setups.front().*roles[i].member))));
    } catch (const GarageError&) {
        return; // what is chosen stays
    }
}

QString SetupDialog::complaint() const { return complaint_->isHidden() ? QString() : complaint_->text(); }

void SetupDialog::accept() {
    const auto complain = [this](const QString& sentence) {
        complaint_->tell(sentence);
        layout()->activate();
        resize(width(), layout()->totalHeightForWidth(width())); // else the fields give up the room
    };
    Setup setup;
    for (std::size_t i = 0; i < roles.size(); ++i) {
        const auto id = chosenId(*parts_[i]);
        if (!id) return complain(tr("A setup needs one of each; add the missing part first."));
        setup.*roles[i].member = *id;
    }
    const QString name = name_->text().trimmed();
    setup.name = (name.isEmpty() ? parts_.front()->currentText() : name).toStdString();
    try {
        setup = garage_.composeSetup(std::move(setup));
    } catch (const std::exception& error) {
        return complain(QString::fromUtf8(error.what()));
    }
    if (const QStringList missing = missingValues(setup); !missing.isEmpty())
        return complain(tr("Still missing: %1. Add these values to the parts, then come back.")
                            .arg(missing.join(QStringLiteral(", "))));
    setup_ = std::move(setup);
    QDialog::accept();
}

} // namespace rw
