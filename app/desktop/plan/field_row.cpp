#include "app/desktop/plan/field_row.h"

#include "app/desktop/plan/plan_session.h"
#include "app/desktop/shared/field_edit.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/ocv_dialog.h"
#include "app/desktop/shared/widgets.h"
#include "core/error.h"
#include "storage/values.h"

#include <QComboBox>
#include <QGridLayout>
#include <QPushButton>
#include <QToolButton>

namespace rw {

constexpr int unitWidth = 42, valueWidth = 104, backWidth = 18;

FieldRow::FieldRow(PlanSession& session, const PlanField& field)
    : session_(session)
    , field_(field) {
    auto* grid = new QGridLayout(this);
    grid->setContentsMargins(0, 2, 0, 2);
    grid->setHorizontalSpacing(2);
    grid->setVerticalSpacing(0);
    label_ = new ShortLabel;
    label_->setText({}, fieldLabel(field));
    back_ = new QToolButton;
    back_->setText(QStringLiteral("↺"));
    back_->setFixedWidth(backWidth);
    back_->setStyleSheet(QStringLiteral("padding: 0;"));
    back_->setFocusPolicy(Qt::NoFocus); // Ctrl+Backspace does it from the field
    unit_ = new TextLabel(QString(), Type::Small, Tone::Soft);
    unit_->setFixedWidth(unitWidth);
    complaint_ = paragraph({}, Type::Small, Tone::Bad);
    complaint_->hide();
    const bool wide = field.kind == FieldKind::WholeList || field.kind == FieldKind::OcvTable;
    if (field.kind == FieldKind::Choice)
        makeChoice();
    else if (field.kind == FieldKind::OcvTable)
        makeTable();
    else
        makeEdit();
    editor()->setFixedWidth(wide ? valueWidth + unitWidth : valueWidth);
    editor()->setAccessibleName(QString::fromUtf8(field.label));
    grid->addWidget(label_, 0, 0);
    grid->addWidget(back_, 0, 1);
    grid->addWidget(editor(), 0, 2, 1, wide ? 2 : 1);
    if (!wide)
        grid->addWidget(unit_, 0, 3, Qt::AlignVCenter);
    else
        unit_->hide();
    grid->addWidget(complaint_, 1, 0, 1, 4);
    grid->setColumnStretch(0, 1);
    connect(back_, &QToolButton::clicked, this, [this] { session_.putBack(field_); });
    refresh();
}

QWidget* FieldRow::editor() const {
    if (table_) return table_;
    return choice_ ? static_cast<QWidget*>(choice_) : edit_;
}
QString FieldRow::complaint() const { return complaint_->isHidden() ? QString() : complaint_->text(); }

void FieldRow::makeEdit() {
    edit_ = new FieldEdit;
    connect(edit_, &QLineEdit::textEdited, this, &FieldRow::typed);
    connect(edit_, &FieldEdit::stepped, this, &FieldRow::step);
    connect(edit_, &FieldEdit::putBackWanted, this, [this] { session_.putBack(field_); });
    connect(edit_, &FieldEdit::focused, this, [this] { emit entered(&field_); });
    connect(edit_, &FieldEdit::uncertaintyWanted, this, [this] { emit uncertaintyWanted(&field_); });
    connect(edit_, &FieldEdit::left, this, &FieldRow::leave);
    connect(edit_, &QLineEdit::returnPressed, this, [this] {
        leave();
        edit_->selectAll();
    });
}

void FieldRow::makeChoice() {
    choice_ = new QComboBox;
    for (const std::string_view word : field_.choices)
        choice_->addItem(QString::fromUtf8(word));
    choice_->setFocusPolicy(Qt::StrongFocus);
    connect(choice_, &QComboBox::activated, this, &FieldRow::chosen);
}

void FieldRow::makeTable() {
    table_ = new QPushButton;
    connect(table_, &QPushButton::clicked, this, &FieldRow::editTable);
}

void FieldRow::editTable() {
    OcvDialog dialog(session_.input().pack.ocv, window());
    if (dialog.exec() != QDialog::Accepted) return;
    PlanInput next = session_.input();
    next.pack.ocv = dialog.table();
    session_.endEdit();
    change(std::move(next));
}

void FieldRow::refresh() {
    if (session_.empty()) return;
    const PlanInput& input = session_.input();
    const bool changed = !fieldEqual(field_, session_.kept(), input);
    back_->setVisible(changed);
    back_->setToolTip(tr("Put back %1 (Ctrl+Backspace)").arg(valueWithUnit(field_, session_.units(), session_.kept())));
    unit_->setText(fieldUnit(field_, session_.units()).symbol);
    const QString help = fieldHelp(field_, session_.units());
    label_->setToolTip(help);
    editor()->setAccessibleDescription(help);
    if (edit_)
        edit_->setHelp(help);
    else
        editor()->setToolTip(help);
    if (!edit_) editor()->setFont(rw::font(changed ? Type::Strong : Type::Body));
    if (table_) return table_->setText(tr("%1…").arg(fieldText(field_, session_.units(), input)));
    if (choice_) return choice_->setCurrentIndex(static_cast<int>(field_.get(input).value_or(0.0)));
    const FieldEdit::State state = changed ? FieldEdit::State::Changed : FieldEdit::State::Same;
    if (typing_) return edit_->setState(state);
    complain({});
    beforeTyping_.reset(); // undone, put back or opened anew: what was being typed is over
    edit_->setText(fieldText(field_, session_.units(), input));
    edit_->setPlaceholderText(placeholderText(field_, session_.units(), input));
    edit_->setEstimated(session_.sourceOf(field_).startsWith(QString::fromUtf8(sourceName(Source::Estimated))));
    edit_->setUncertainty(uncertaintyText(field_, session_.units(), input));
    edit_->setState(state);
}

void FieldRow::change(PlanInput next) {
    session_.editValue(field_, tr("change %1").arg(fieldLabel(field_)), std::move(next));
}

void FieldRow::typed(const QString& text) {
    if (!beforeTyping_) beforeTyping_ = session_.shared();
    PlanInput next = session_.input();
    try {
        setFieldText(field_, session_.units(), text, next);
    } catch (const InputError& error) {
        return complain(QString::fromStdString(error.message()));
    }
    complain({});
    typing_ = true;
    change(std::move(next));
    typing_ = false;
}

void FieldRow::chosen(int index) {
    PlanInput next = session_.input();
    field_.set(next, static_cast<double>(index));
    session_.endEdit();
    // A cutoff needs a voltage; 3.2 V a cell is what controllers come with (common practice).
    if (field_.key() == "controller.cutoff.mode" && index != 0 && !next.controller.cutoff.cell_V)
        next.controller.cutoff.cell_V = 3.2;
    change(std::move(next));
}

void FieldRow::step(int steps) {
    const QString text = steppedText(field_, session_.units(), session_.input(), steps);
    if (text.isEmpty()) return;
    PlanInput next = session_.input();
    try {
        setFieldText(field_, session_.units(), text, next);
    } catch (const InputError&) {
        return; // at the end of its range
    }
    change(std::move(next));
    edit_->selectAll();
}

// What could not be read is refused as a whole: not even its first digits stay. The value from before is shown again.
void FieldRow::takeBackTyping() {
    const QString sentence = complaint();
    if (sentence.isEmpty() || !beforeTyping_) return;
    PlanInput before = session_.input();
    copyField(field_, *beforeTyping_, before);
    before.uncertainty = beforeTyping_->uncertainty;
    session_.edit(tr("change %1").arg(fieldLabel(field_)), QString::fromStdString(field_.key()), std::move(before));
    emit session_.desk().voice.complained(tr("%1 was not changed").arg(fieldLabel(field_)), sentence);
}

void FieldRow::leave() {
    takeBackTyping();
    session_.endEdit();
    refresh();
}

void FieldRow::complain(const QString& sentence) {
    complaint_->tell(sentence);
    if (edit_ && !sentence.isEmpty()) edit_->setState(FieldEdit::State::Wrong);
}

void FieldRow::enterEvent(QEnterEvent* event) {
    QWidget::enterEvent(event);
    emit entered(&field_);
}

} // namespace rw
