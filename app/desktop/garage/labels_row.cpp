#include "app/desktop/garage/labels_row.h"

#include "app/desktop/shared/field_edit.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/widgets.h"
#include "core/error.h"
#include "plotting/look.h"

#include <QButtonGroup>
#include <QCheckBox>
#include <QKeyEvent>
#include <QPainter>
#include <QShortcut>
#include <QToolButton>

#include <algorithm>
#include <cmath>
#include <optional>

namespace rw {

// A usual range as a line in the field's own unit, the value as a tick on it; an estimate as a grey tick with its band.
struct UsualRangeContent {
    double low = 0.0, high = 0.0; // in the unit shown
    QString lowText, highText;
    std::optional<double> value;
    double uncertainty = 0.0;
    bool estimated = false;
};

class UsualRange : public QWidget {
public:
    UsualRange() {
        setFixedHeight(3 * gridStep);
        setAccessibleName(tr("Usual range"));
    }
    void setContent(const UsualRangeContent& content) {
        content_ = content;
        setAccessibleDescription(tr("%1 to %2").arg(content.lowText, content.highText));
        update();
    }
    [[nodiscard]] QSize sizeHint() const override { return {138, 3 * gridStep}; }
    [[nodiscard]] QSize minimumSizeHint() const override { return sizeHint(); }

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    UsualRangeContent content_;
};

void UsualRange::paintEvent(QPaintEvent*) {
    constexpr double ends = 46.0; // room for the figures at both ends
    if (content_.lowText.isEmpty()) return;
    const Look& look = Look::of(this);
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    setInk(painter, Type::Small, look.soft);
    const QRectF box = rect();
    drawFigures(painter, QRectF(0.0, 0.0, ends - 6.0, box.height()), Qt::AlignRight | Qt::AlignVCenter,
                content_.lowText);
    drawFigures(painter, QRectF(box.width() - ends + 6.0, 0.0, ends - 6.0, box.height()),
                Qt::AlignLeft | Qt::AlignVCenter, content_.highText);
    const double left = ends, right = box.width() - ends, middle = 0.5 * box.height();
    painter.setPen(QPen(look.rule, 2.0, Qt::SolidLine, Qt::RoundCap));
    painter.drawLine(QPointF(left, middle), QPointF(right, middle));
    if (!content_.value || !(content_.high > content_.low)) return;
    const auto at = [&](double value) {
        const double share = std::clamp((value - content_.low) / (content_.high - content_.low), 0.0, 1.0);
        return left + share * (right - left);
    };
    const double x = at(*content_.value);
    if (content_.uncertainty > 0.0) {
        const double from = at(*content_.value - content_.uncertainty), to = at(*content_.value + content_.uncertainty);
        QColor band = look.soft;
        band.setAlphaF(0.35F);
        painter.fillRect(QRectF(from, middle - 3.0, to - from, 6.0), band);
    }
    painter.setPen(QPen(content_.estimated ? look.soft : look.accent, 2.0));
    painter.drawLine(QPointF(x, middle - 6.0), QPointF(x, middle + 6.0));
}

namespace {

constexpr int nameWidth = 130, editWidth = 15 * gridStep, unitWidth = 36;

// Ends of a usual range: as few digits as they have, none of them lost.
QString endText(double value) {
    return std::abs(value) >= 1000.0 ? figure(value, 0) : QString::number(value, 'g', 3).replace(u'-', QChar(0x2212));
}

// Framed, so that one sees where to type; dashed while what stands there is an estimate.
class LabelEdit : public FieldEdit {
public:
    using FieldEdit::FieldEdit;

protected:
    void paintEvent(QPaintEvent* event) override {
        if (!hasFocus()) {
            const Look& look = Look::of(this);
            QPainter painter(this);
            if (!text().isEmpty()) painter.fillRect(rect(), look.sheet);
            painter.setPen(QPen(look.rule, 1.0, text().isEmpty() ? Qt::DashLine : Qt::SolidLine));
            painter.drawRect(QRectF(rect()).adjusted(0.5, 0.5, -0.5, -0.5));
        }
        FieldEdit::paintEvent(event);
    }
};

} // namespace

LabelsRow::LabelsRow(LabelsSheet& sheet, const LabelRowInfo& row)
    : sheet_(sheet)
    , row_(row) {
    setSizePolicy(QSizePolicy::Preferred, QSizePolicy::Fixed);
    line_ = rowOf(gridStep - 2);
    name_ = new ShortLabel(Type::Body, Tone::Ink);
    rule_ = new ShortLabel(Type::Small, Tone::Soft);
    name_->setFixedWidth(nameWidth);
    line_->addWidget(name_);
    lay(*columnIn(this, 0, {0, 2, 0, 2}), {line_, rule_});
    setObjectName(QStringLiteral("label:") + QString::fromStdString(row.field.key()));
    if (row.field.kind == FieldKind::Choice || row.field.kind == FieldKind::Flag)
        makeChoice();
    else
        makeEdit();
    show(nullptr);
}

void LabelsRow::makeChoice() {
    choice_ = new QButtonGroup(this);
    auto* words = rowOf(2);
    const QStringList choices = choiceWords(row_.field);
    for (int i = 0; i < choices.size(); ++i) {
        auto* button = smallButton(choices[i]);
        button->setCheckable(true);
        button->setAutoRaise(true);
        button->setAccessibleName(fieldLabel(row_.field) + QStringLiteral(": ") + button->text());
        button->installEventFilter(this);
        choice_->addButton(button, i);
        words->addWidget(button);
    }
    words->addStretch();
    line_->addLayout(words, 1);
    connect(choice_, &QButtonGroup::idClicked, this, [this](int id) {
        sheet_.choose(row_, id);
        emit entered();
    });
}

void LabelsRow::makeEdit() {
    edit_ = new LabelEdit;
    edit_->setFixedWidth(editWidth);
    edit_->setAccessibleName(fieldLabel(row_.field));
    unit_ = new TextLabel({}, Type::Small, Tone::Soft);
    unit_->setFixedWidth(unitWidth);
    range_ = new UsualRange;
    lay(*line_, {Piece(edit_, 0, Qt::AlignVCenter), Piece(unit_, 0, Qt::AlignVCenter),
                 Piece(range_, 0, Qt::AlignVCenter), slack()});
    if (LabelsSheet::measurable(row_)) makeMeasured();
    connect(&sheet_, &LabelsSheet::replaced, this, [this] { complain({}); });
    connect(edit_, &QLineEdit::textEdited, this, &LabelsRow::commit);
    connect(edit_, &FieldEdit::left, this, [this] { show(nullptr); });
    connect(edit_, &FieldEdit::focused, this, &LabelsRow::entered);
    connect(edit_, &QLineEdit::returnPressed, this, [this] { focusNextChild(); });
}

void LabelsRow::makeMeasured() {
    measured_ = new QCheckBox(tr("measured, not read off (Ctrl+M)"));
    measured_->setFont(rw::font(Type::Small));
    measured_->setFocusPolicy(Qt::ClickFocus); // Tab goes from value to value: it appears while one types
    measured_->setAccessibleName(tr("%1: measured with care, not read off").arg(fieldLabel(row_.field)));
    measured_->setToolTip(tr("Measured with care, not read off: it counts as sure as that"));
    static_cast<QBoxLayout*>(layout())->addWidget(measured_, 0, Qt::AlignLeft);
    connect(measured_, &QCheckBox::toggled, this, [this](bool on) { sheet_.setMeasured(row_, on); });
    auto* key = new QShortcut(Qt::CTRL | Qt::Key_M, edit_, nullptr, nullptr, Qt::WidgetShortcut);
    connect(key, &QShortcut::activated, this, [this] {
        if (sheet_.value(row_)) measured_->toggle();
    });
}

// Arrow keys go along the words and choose, though none is chosen yet.
bool LabelsRow::eventFilter(QObject* watched, QEvent* event) {
    if (event->type() == QEvent::FocusIn) emit entered();
    if (event->type() != QEvent::KeyPress) return QWidget::eventFilter(watched, event);
    const int key = static_cast<QKeyEvent*>(event)->key();
    const int step = key == Qt::Key_Right || key == Qt::Key_Down ? 1
                     : key == Qt::Key_Left || key == Qt::Key_Up  ? -1
                                                                 : 0;
    if (step == 0) return QWidget::eventFilter(watched, event);
    if (auto* next = choice_->button(choice_->id(static_cast<QAbstractButton*>(watched)) + step)) {
        next->setFocus();
        next->click();
    }
    return true;
}

QWidget* LabelsRow::editor() const { return edit_ != nullptr ? static_cast<QWidget*>(edit_) : choice_->button(0); }

void LabelsRow::commit() {
    complain({});
    try {
        sheet_.setText(row_, edit_->text());
    } catch (const InputError& error) {
        complain(QString::fromStdString(error.message()));
        sheet_.forget(row_); // what is not understood is no value, neither is what was typed on the way to it
    }
    emit entered();
}

void LabelsRow::complain(const QString& sentence) {
    complaint_ = sentence;
    edit_->setState(complaint_.isEmpty() ? FieldEdit::State::Same : FieldEdit::State::Wrong);
    refreshName();
}

void LabelsRow::refreshName() {
    name_->setText({}, fieldLabel(row_.field));
    const bool needed = sheet_.needed(row_);
    if (edit_ != nullptr) edit_->setPlaceholderText(needed ? tr("needed") : standIn_);
    const QString under = !complaint_.isEmpty()            ? complaint_
                          : needed && choice_ != nullptr   ? tr("needed")
                          : !needed && !standIn_.isEmpty() ? from_
                                                           : QString();
    rule_->setText({}, under);
    rule_->setVisible(!under.isEmpty());
}

void LabelsRow::show(const LabelsValue* estimate) {
    if (choice_ != nullptr) {
        if (const auto chosen = sheet_.value(row_)) {
            choice_->button(static_cast<int>(*chosen))->setChecked(true);
        } else if (QAbstractButton* was = choice_->checkedButton()) { // emptied: none of them
            choice_->setExclusive(false);
            was->setChecked(false);
            choice_->setExclusive(true);
        }
        return refreshName();
    }
    const UnitView unit = fieldUnit(row_.field, sheet_.units());
    const double low = unit.shown(row_.field.usualLow), high = unit.shown(row_.field.usualHigh);
    const std::optional<double> value = sheet_.value(row_);
    unit_->setText(unit.symbol);
    if (!edit_->hasFocus() && complaint_.isEmpty()) edit_->setText(sheet_.text(row_));
    if (measured_ != nullptr) {
        measured_->setVisible(value.has_value());
        measured_->setChecked(sheet_.measured(row_));
    }
    if (estimate != nullptr) {
        // The front axle's load stands for the place of the centre of gravity.
        const bool axle = row_.field.name == "front_axle_kg";
        const double mass = sheet_.labels().vehicle.mass_kg.value_or(0.0);
        const double base = sheet_.labels().vehicle.wheelbase_m.value_or(1.0);
        const double shown = axle ? mass * (1.0 - estimate->value / base) : estimate->value;
        const double spread = axle ? mass * estimate->uncertainty / base : estimate->uncertainty;
        standIn_ = significantText(unit.shown(shown), 3);
        if (spread > 0.0) standIn_ += QStringLiteral(" ± ") + significantText(spread * unit.factor, 2);
        from_ = QString::fromStdString(estimate->from).section(u';', 0, 0);
        rule_->setToolTip(QString::fromStdString(estimate->from));
        range_->setContent({low, high, endText(low), endText(high), unit.shown(shown), spread * unit.factor, true});
    } else if (value || row_.planKey.empty()) {
        standIn_.clear();
    }
    if (estimate == nullptr && (value || standIn_.isEmpty()))
        range_->setContent({low, high, endText(low), endText(high), unit.shown(value), 0.0, false});
    refreshName();
}

} // namespace rw
