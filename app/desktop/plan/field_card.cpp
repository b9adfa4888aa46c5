#include "app/desktop/plan/field_card.h"

#include "app/desktop/plan/plan_session.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/widgets.h"
#include "core/error.h"

#include <QKeyEvent>
#include <QLineEdit>

namespace rw {

FieldCard::FieldCard(PlanSession& session)
    : session_(session) {
    title_ = new TextLabel(QString(), Type::SmallStrong);
    uncertaintyRow_ = new QWidget;
    uncertainty_ = named(new QLineEdit, tr("Standard uncertainty"), "uncertainty");
    uncertainty_->setFont(rw::font(Type::Small));
    uncertainty_->setAlignment(Qt::AlignRight);
    uncertainty_->setFixedWidth(7 * gridStep);
    uncertainty_->setPlaceholderText(tr("exact"));
    uncertainty_->setToolTip(tr("Standard uncertainty: the value is within this of the truth two times out of three. "
                                "What matters most and the chances come from it."));
    uncertaintyUnit_ = new TextLabel(QString(), Type::Small, Tone::Soft);
    lay(*rowIn(uncertaintyRow_, 4),
        {new TextLabel(QStringLiteral("±"), Type::Small, Tone::Soft), uncertainty_, uncertaintyUnit_});
    meaning_ = paragraph({}, Type::Small, Tone::Ink);
    measure_ = paragraph({}, Type::Small, Tone::Soft);
    source_ = paragraph({}, Type::Small, Tone::Soft);
    lay(*columnIn(this, 4, {0, gridStep, 0, 0}),
        {laid(rowOf(4), {grow(title_), uncertaintyRow_}), meaning_, measure_, source_, slack()});
    uncertainty_->setFocusPolicy(Qt::ClickFocus); // Tab comes here from the value that it belongs to
    uncertainty_->installEventFilter(this);
    setRoomForText(true);
    connect(uncertainty_, &QLineEdit::editingFinished, this, &FieldCard::setUncertainty);
    show(nullptr);
}

void FieldCard::show(const PlanField* field) {
    if (uncertainty_->hasFocus()) return; // the pointer passes over other fields on its way
    field_ = field;
    refresh();
}

void FieldCard::setRoomForText(bool room) {
    rw::setVisible(room, {meaning_, measure_, source_});
    setFixedHeight((room ? 19 : 5) * gridStep);
}

bool FieldCard::hasUncertainty(const PlanField& field) const {
    return field.kind == FieldKind::Number || field.kind == FieldKind::Whole;
}

void FieldCard::editUncertainty(const PlanField& field) {
    field_ = &field;
    refresh();
    uncertainty_->setFocus(Qt::TabFocusReason);
    uncertainty_->selectAll();
}

bool FieldCard::eventFilter(QObject* watched, QEvent* event) {
    if (watched != uncertainty_ || event->type() != QEvent::KeyPress || !field_)
        return QWidget::eventFilter(watched, event);
    const auto* pressed = static_cast<QKeyEvent*>(event);
    const int key = pressed->key();
    const PlanField* field = field_;
    if (key == Qt::Key_Tab || key == Qt::Key_Backtab) {
        emit uncertaintyLeft(field, key == Qt::Key_Tab && !(pressed->modifiers() & Qt::ShiftModifier));
        return true;
    }
    if (key == Qt::Key_Escape) {
        refresh(); // as it was
        emit valueWanted(field);
        return true;
    }
    return QWidget::eventFilter(watched, event);
}

void FieldCard::refresh() {
    const bool known = field_ && !session_.empty();
    uncertaintyRow_->setVisible(known && hasUncertainty(*field_));
    if (!known) {
        title_->setText(tr("Point at a field"));
        meaning_->setText(tr("What it means, a usual range and how to measure it stand here."));
        measure_->clear();
        return source_->clear();
    }
    title_->setText(QString::fromUtf8(field_->label));
    meaning_->setText(QString::fromUtf8(field_->meaning));
    measure_->setText(
        tr("Usual: %1 To measure: %2").arg(usualText(*field_, session_.units()), QString::fromUtf8(field_->measure)));
    uncertainty_->setText(uncertaintyText(*field_, session_.units(), session_.input()));
    uncertaintyUnit_->setText(fieldUnit(*field_, session_.units()).symbol);
    const QString source = session_.sourceOf(*field_);
    source_->setText(source.isEmpty() ? QString() : tr("Source: %1").arg(source));
}

void FieldCard::setUncertainty() {
    if (!field_ || session_.empty() || !uncertainty_->isModified()) return; // shown rounded, kept whole
    PlanInput next = session_.input();
    try {
        setUncertaintyText(*field_, session_.units(), uncertainty_->text(), next);
        session_.settleCorrelations(next);
        session_.step(tr("uncertainty of %1").arg(fieldLabel(*field_)), std::move(next));
    } catch (const InputError& error) {
        emit session_.desk().voice.complained(tr("The uncertainty was not changed"),
                                              QString::fromStdString(error.message()));
    }
    refresh();
}

} // namespace rw
