#include "app/desktop/garage/labels_page.h"

#include "app/desktop/garage/labels_row.h"
#include "app/desktop/shared/bench_source.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/widgets.h"

#include <QLineEdit>
#include <QResizeEvent>

namespace rw {

constexpr int soon_ms = 150;                                         // after the last key
constexpr int twoColumns = 117 * gridStep;                           // of fields: less stands in one column
constexpr int sideWidth = 40 * gridStep, narrowSide = 36 * gridStep; // beside one column

LabelsPage::LabelsPage(const Desk& desk)
    : desk_(desk)
    , sheet_(new LabelsSheet(desk.units, this))
    , worker_(this, [this](const auto& outcome, const QString& why) {
        outlook_->show(outcome, outcome ? moved_ : QString(), withLabels(why));
        if (outcome) showEstimates();
    }) {
    auto* fields = laid(columnOf(0), {grow(scrolled(makeFields())), thinRule(Qt::Horizontal), makeHelp()});
    lay(*rowIn(this, 0), {grow(fields), thinRule(Qt::Vertical), makeSide()});
    once(soon_, soon_ms, this, &LabelsPage::ask);
    connect(sheet_, &LabelsSheet::changed, this, &LabelsPage::sheetChanged);
    connect(&desk_.units, &Units::changed, this, [this] {
        showEstimates();
        outlook_->redraw();
    });
    showCar();
    sheetChanged({});
}

QWidget* LabelsPage::makeFields() {
    auto* page = new QWidget;
    auto* column = columnIn(page, gridStep, {3 * gridStep, 2 * gridStep, 2 * gridStep, 2 * gridStep});
    title_ = new TextLabel({}, Type::Figure);
    name_ = named(new QLineEdit, tr("Name of the car"));
    name_->setPlaceholderText(tr("new car"));
    name_->setMaxLength(60);
    name_->setMinimumWidth(8 * gridStep);
    name_->setMaximumWidth(22 * gridStep);
    auto* head = laid(new QHBoxLayout, {title_, slack(), new TextLabel(tr("its name"), Type::Body, Tone::Soft), name_});
    auto* line = paragraph(tr("Type what a scale, a ruler and the boxes tell. What stays empty is estimated, and "
                              "says how surely. Beside each field: its usual range."),
                           Type::Body, Tone::Soft);
    columns_ = new QBoxLayout(QBoxLayout::LeftToRight);
    columns_->setSpacing(3 * gridStep);
    auto* left = columnOf(4);
    auto* right = columnOf(4);
    for (std::size_t i = 0; i < sheet_->groups().size(); ++i)
        (i < 2 ? left : right)->addWidget(makeGroup(i));
    left->addStretch();
    right->addStretch();
    lay(*columns_, {grow(left), grow(right)});
    lay(*column, {head, line, columns_, slack()});
    return page;
}

// At the foot, in sight whatever is scrolled.
QWidget* LabelsPage::makeHelp() {
    auto* box = new QWidget;
    helpName_ = new TextLabel(tr("Point at a field"), Type::SmallStrong, Tone::Accent);
    helpText_ =
        paragraph(tr("What it means and how to measure it stands here while it is typed in."), Type::Small, Tone::Soft);
    helpText_->setMinimumHeight(static_cast<int>(2.2 * QFontMetricsF(rw::font(Type::Small)).height())); // keeps still
    helpText_->setAlignment(Qt::AlignTop | Qt::AlignLeft);
    lay(*columnIn(box, 2, {3 * gridStep, gridStep, 3 * gridStep, gridStep}), {helpName_, helpText_});
    return box;
}

QWidget* LabelsPage::makeGroup(std::size_t index) {
    const LabelRowGroup& group = sheet_->groups()[index];
    auto* box = new QWidget;
    box->setSizePolicy(QSizePolicy::Preferred, QSizePolicy::Maximum); // rows do not spread over a high window
    auto* column = columnIn(box, 0, {0, gridStep, 0, 0});
    auto* head = laid(rowOf(), {new TextLabel(group.title, Type::Strong),
                                new TextLabel(QStringLiteral("· ") + group.source, Type::Body, Tone::Soft), slack()});
    lay(*column, {head, thinRule(Qt::Horizontal)});
    addRows(*column, group.rows);
    if (group.more.empty()) return box;
    auto* more = new FoldHead(tr("%1 more, where a box tells them").arg(group.more.size()), true);
    more->setObjectName(QStringLiteral("labelsMore:") + group.title);
    auto* body = new QWidget;
    auto* inside = columnIn(body, 0);
    addRows(*inside, group.more);
    body->hide();
    lay(*column, {more, body});
    connect(more, &FoldHead::toggled, body, &QWidget::setVisible);
    return box;
}

void LabelsPage::addRows(QVBoxLayout& column, const std::vector<LabelRowInfo>& rows) {
    for (const LabelRowInfo& info : rows) {
        auto* row = new LabelsRow(*sheet_, info);
        connect(row, &LabelsRow::entered, this, [this, row] { help(*row); });
        column.addWidget(row);
        rows_.push_back(row);
    }
}

QWidget* LabelsPage::makeSide() {
    side_ = new QWidget;
    side_->setFixedWidth(sideWidth);
    outlook_ = new LabelsOutlook(desk_.units);
    status_ = new TextLabel({}, Type::Small, Tone::Soft);
    bench_ = tagged(button(tr("Put it on the bench"), this, [this] { keep(true); }), "labelsBench");
    bench_->setDefault(true);
    keep_ = button(tr("Keep in the garage"), this, [this] { keep(false); });
    auto* back = button(tr("Close"), this, &LabelsPage::closed);
    lay(*columnIn(side_, usualSpacing, {2 * gridStep, 2 * gridStep, 2 * gridStep, 2 * gridStep}),
        {grow(scrolled(outlook_)), status_, bench_, laid(rowOf(), {grow(keep_), back})});
    return side_;
}

void LabelsPage::begin() {
    if (car_) sheet_->setLabels({});
    car_.reset();
    showCar();
    focusFirstEmpty();
}

void LabelsPage::edit(const LabelledCar& car) {
    car_ = car;
    showCar();
    sheet_->setLabels(car.labels);
    focusFirstEmpty();
}

void LabelsPage::showCar() {
    const QString name = car_ ? QString::fromStdString(car_->name) : QString();
    title_->setText(car_ ? tr("Labels of %1").arg(name) : tr("New car from its labels"));
    name_->setText(name);
    name_->setEnabled(!car_);
    keep_->setText(car_ ? tr("Keep as a revision") : tr("Keep in the garage"));
}

void LabelsPage::focusFirstEmpty() {
    for (LabelsRow* row : rows_) {
        if (!row->isVisibleTo(this) || !sheet_->text(row->row()).isEmpty()) continue;
        row->editor()->setFocus();
        return;
    }
}

void LabelsPage::sheetChanged(const QString& label) {
    moved_ = label;
    const QStringList missing = sheet_->missing();
    bench_->setEnabled(missing.isEmpty());
    keep_->setEnabled(missing.isEmpty());
    if (missing.isEmpty()) return soon_.start();
    soon_.stop();
    worker_.cancel();
    outlook_->show(nullptr, {}, tr("Still needed for a first plan: %1.").arg(missing.join(QStringLiteral(", "))));
    showEstimates();
}

void LabelsPage::ask() {
    const LabelsInput labels = sheet_->complete();
    worker_.ask([labels](std::stop_token stop) { return foretellLabels(labels, std::move(stop)); });
}

void LabelsPage::showEstimates() {
    const auto outcome = outlook_->outcome();
    int estimated = 0;
    for (LabelsRow* row : rows_) {
        const LabelsValue* estimate = nullptr;
        if (outcome && !sheet_->value(row->row()) && !row->row().planKey.empty())
            for (const LabelsValue& value : outcome->estimated.values)
                if (value.key == row->row().planKey && value.origin == ValueOrigin::Estimated) estimate = &value;
        row->show(estimate);
    }
    if (outcome)
        for (const LabelsValue& value : outcome->estimated.values)
            estimated += value.origin == ValueOrigin::Estimated ? 1 : 0;
    status_->setText(outcome ? tr("%1 fields typed, %2 values estimated").arg(sheet_->typed()).arg(estimated)
                             : tr("%1 fields typed").arg(sheet_->typed()));
}

void LabelsPage::help(const LabelsRow& row) {
    const PlanField& field = row.row().field;
    helpName_->setText(fieldLabel(field));
    helpText_->setText(row.complaint().isEmpty()
                           ? QString::fromUtf8(field.meaning) + u' ' + QString::fromUtf8(field.measure)
                           : row.complaint());
    helpText_->setTone(row.complaint().isEmpty() ? Tone::Soft : Tone::Bad);
}

bool LabelsPage::keepNew(PlanIds& made) {
    const QString typed = name_->text().trimmed();
    const QString name = typed.isEmpty() ? tr("new car") : typed;
    const bool done = desk_.garage.change(tr("New car from its labels"), [&](Garage& garage) {
        made = keepLabels(garage, sheet_->complete(), name.toStdString());
    });
    if (!done) return false;
    emit desk_.voice.said(
        tr("%1 stands in the garage: vehicle, tyres, motor, controller, pack, gears, strip and setup.").arg(name));
    return true;
}

bool LabelsPage::keepEdited(PlanIds& made) {
    bool another = false;
    const bool done = desk_.garage.change(tr("Changing labels"), [&](Garage& garage) {
        made.setup = keepChangedLabels(garage, *car_, sheet_->complete());
        another = made.setup != car_->setup;
        made.venue = car_->venue ? *car_->venue : garage.parts(ItemKind::Venue).front().id;
    });
    if (!done) return false;
    emit desk_.voice.said(
        another ? tr("%1 has a new revision: what still was a label or an estimate follows its labels; what was "
                     "measured, fitted or typed stays.")
                      .arg(QString::fromStdString(car_->name))
                : tr("Nothing of %1 is another by these labels.").arg(QString::fromStdString(car_->name)));
    return true;
}

void LabelsPage::keep(bool bench) {
    if (!sheet_->missing().isEmpty() || !(desk_.garage.isOpen() || desk_.garage.openDefault())) return;
    PlanIds ids;
    if (!(car_ ? keepEdited(ids) : keepNew(ids))) return;
    emit kept(ids.setup);
    if (bench) {
        try {
            desk_.bench.put(benchFromSetup(desk_.garage.garage(), ids.setup, ids.venue));
            emit benched();
        } catch (const std::exception& error) {
            emit desk_.voice.complained(tr("Put on the bench"), QString::fromUtf8(error.what()));
        }
    }
    car_.reset();
    sheet_->setLabels({});
    emit closed();
}

void LabelsPage::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    const bool wide = width() - sideWidth >= twoColumns;
    columns_->setDirection(wide ? QBoxLayout::LeftToRight : QBoxLayout::TopToBottom);
    side_->setFixedWidth(wide ? sideWidth : narrowSide);
}

} // namespace rw
