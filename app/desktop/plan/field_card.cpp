#include "app/desktop/plan/field_card.h"

#include "app/desktop/plan/plan_session.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/labels.h"
#include "core/error.h"

#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLineEdit>
#include <QVBoxLayout>

namespace rw {

namespace {

QString text(std::string_view view) { return QString::fromUtf8(view.data(), static_cast<qsizetype>(view.size())); }

TextLabel* wrapped(Type type, Tone tone) {
    auto* label = new TextLabel(QString(), type, tone);
    label->setWordWrap(true);
    return label;
}

} // namespace

FieldCard::FieldCard(PlanSession& session, QWidget* parent)
    : QWidget(parent)
    , session_(session) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, gridStep, 0, 0);
    column->setSpacing(4);
    auto* head = new QHBoxLayout;
    head->setSpacing(4);
    title_ = new TextLabel(QString(), Type::SmallStrong);
    uncertaintyRow_ = new QWidget;
    auto* row = new QHBoxLayout(uncertaintyRow_);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(4);
    row->addWidget(new TextLabel(QStringLiteral("±"), Type::Small, Tone::Soft));
    uncertainty_ = new QLineEdit;
    uncertainty_->setObjectName(QStringLiteral("uncertainty"));
    uncertainty_->setFont(rw::font(Type::Small));
    uncertainty_->setAlignment(Qt::AlignRight);
    uncertainty_->setFixedWidth(7 * gridStep);
    uncertainty_->setPlaceholderText(tr("exact"));
    uncertainty_->setAccessibleName(tr("Standard uncertainty"));
    uncertainty_->setToolTip(tr("Standard uncertainty: the value is within this of the truth two times out of three. "
                                "What matters most and the chances come from it."));
    uncertaintyUnit_ = new TextLabel(QString(), Type::Small, Tone::Soft);
    row->addWidget(uncertainty_);
    row->addWidget(uncertaintyUnit_);
    head->addWidget(title_, 1);
    head->addWidget(uncertaintyRow_);
    column->addLayout(head);
    meaning_ = wrapped(Type::Small, Tone::Ink);
    measure_ = wrapped(Type::Small, Tone::Soft);
    source_ = wrapped(Type::Small, Tone::Soft);
    column->addWidget(meaning_);
    column->addWidget(measure_);
    column->addWidget(source_);
    column->addStretch();
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
    for (QWidget* label : std::initializer_list<QWidget*>{meaning_, measure_, source_})
        label->setVisible(room);
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
        source_->clear();
        return;
    }
    title_->setText(text(field_->label));
    meaning_->setText(text(field_->meaning));
    measure_->setText(tr("Usual: %1 To measure: %2").arg(usualText(*field_, session_.units()), text(field_->measure)));
    uncertainty_->setText(uncertaintyText(*field_, session_.desk().units, session_.input()));
    uncertaintyUnit_->setText(fieldUnit(*field_, session_.desk().units).symbol);
    const QString source = session_.sourceOf(*field_);
    source_->setText(source.isEmpty() ? QString() : tr("Source: %1").arg(source));
}

void FieldCard::setUncertainty() {
    if (!field_ || session_.empty() || !uncertainty_->isModified()) return; // shown rounded, kept whole
    PlanInput next = session_.input();
    try {
        setUncertaintyText(*field_, session_.desk().units, uncertainty_->text(), next);
        session_.settleCorrelations(next);
        session_.endEdit();
        session_.edit(tr("uncertainty of %1").arg(fieldLabel(*field_)), {}, std::move(next));
    } catch (const InputError& error) {
        emit session_.complained(tr("The uncertainty was not changed"), QString::fromStdString(error.message()));
    }
    refresh();
}

} // namespace rw
