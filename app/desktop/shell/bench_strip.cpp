#include "app/desktop/shell/bench_strip.h"

#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/bench_title.h"
#include "app/desktop/shared/labels.h"
#include "app/desktop/shared/units.h"
#include "app/desktop/shell/unit_menu.h"

#include <QButtonGroup>
#include <QHBoxLayout>
#include <QMenu>
#include <QToolButton>
#include <QVBoxLayout>

namespace rw {

namespace {
constexpr int roomForAll = 120 * gridStep;
}

BenchStrip::BenchStrip(Bench& bench, Units& units, QWidget* parent)
    : QWidget(parent)
    , bench_(bench)
    , units_(units)
    , places_(new QButtonGroup(this)) {
    setObjectName(QStringLiteral("bench"));
    setAttribute(Qt::WA_StyledBackground);
    setFixedHeight(8 * gridStep);
    auto* layout = new QHBoxLayout(this);
    layout->setContentsMargins(3 * gridStep, 0, 2 * gridStep, 0);
    layout->setSpacing(3 * gridStep);
    placesLayout_ = new QHBoxLayout;
    placesLayout_->setSpacing(4);
    layout->addLayout(placesLayout_);
    setup_ = new ShortLabel(Type::Body, Tone::Soft, this);
    setup_->setObjectName(QStringLiteral("benchSetup"));
    layout->addWidget(setup_, 1);
    target_ = addFigure(layout, tr("target"));
    expected_ = addFigure(layout, tr("timed zone, expected"));
    chance_ = addFigure(layout, tr("makes the target"));
    expected_.value->setObjectName(QStringLiteral("expectedFigure"));
    target_.value->setObjectName(QStringLiteral("targetFigure"));
    chance_.value->setObjectName(QStringLiteral("chanceFigure"));

    unitButton_ = new QToolButton(this);
    unitButton_->setObjectName(QStringLiteral("unitSwitch"));
    unitButton_->setPopupMode(QToolButton::InstantPopup);
    unitButton_->setFocusPolicy(Qt::StrongFocus);
    unitButton_->setToolTip(tr("Units: speed, temperature, length and mass, everywhere at once"));
    unitButton_->setAccessibleName(tr("Units"));
    auto* menu = new QMenu(unitButton_);
    addUnitChoices(*menu, units_);
    unitButton_->setMenu(menu);
    layout->addWidget(unitButton_);

    connect(places_, &QButtonGroup::buttonClicked, this,
            [this](QAbstractButton* button) { emit chosen(button->property("place").toString()); });
    connect(&bench_, &Bench::changed, this, [this] {
        showSetup();
        showFigures();
    });
    connect(&bench_, &Bench::expectationChanged, this, &BenchStrip::showFigures);
    connect(&units_, &Units::changed, this, &BenchStrip::showFigures);
    showSetup();
    showFigures();
}

void BenchStrip::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    const bool compact = width() < roomForAll;
    if (compact == compact_) return;
    compact_ = compact;
    layout()->setSpacing(compact ? gridStep : 3 * gridStep);
    layout()->setContentsMargins(compact ? gridStep : 3 * gridStep, 0, compact ? gridStep : 2 * gridStep, 0);
    showFigures();
}

void BenchStrip::setPlaces(const QList<QPair<QString, QString>>& places) {
    int number = 0;
    for (const auto& [name, title] : places) {
        auto* button = new QToolButton(this);
        button->setObjectName(QStringLiteral("place"));
        button->setFont(rw::font(Type::Strong));
        button->setText(title);
        button->setProperty("place", name);
        button->setCheckable(true);
        button->setFocusPolicy(Qt::StrongFocus);
        button->setToolTip(tr("%1 (Ctrl+%2)").arg(title).arg(++number));
        places_->addButton(button);
        placesLayout_->addWidget(button);
    }
}

void BenchStrip::setCurrent(const QString& name) {
    places_->setExclusive(false); // on the welcome page none is
    for (QAbstractButton* button : places_->buttons())
        button->setChecked(button->property("place").toString() == name);
    places_->setExclusive(true);
}

BenchStrip::Figure BenchStrip::addFigure(QHBoxLayout* layout, const QString& caption) {
    Figure figure;
    figure.box = new QWidget(this);
    auto* column = new QVBoxLayout(figure.box);
    column->setContentsMargins(0, 6, 0, 6);
    column->setSpacing(0);
    figure.caption = new TextLabel(caption, Type::Small, Tone::Soft);
    figure.caption->setAlignment(Qt::AlignRight);
    figure.value = new FigureLabel(Type::Figure);
    column->addWidget(figure.caption);
    column->addWidget(figure.value);
    layout->addWidget(figure.box);
    return figure;
}

void BenchStrip::showSetup() {
    const BenchTitle title = benchTitle(bench_);
    setup_->setText(title.name, title.rest);
}

void BenchStrip::showFigures() {
    const BenchContent& content = bench_.content();
    const Expectation& expected = bench_.expectation();
    const QString unit = units_.symbol(Dimension::Speed);
    const std::optional<double> target = content.input ? content.input->drive.target_mps : std::nullopt;
    target_.box->setVisible(target.has_value());
    target_.value->setFigure(units_.figure(Dimension::Speed, target), unit);
    expected_.box->setVisible(content.input != nullptr);
    QString interval, tip = tr("Mean speed over the timed zone, first pass");
    if (expected.exact && expected.zoneMean) {
        interval = tr("range not known");
        tip = tr(
            "Mean speed over the timed zone, first pass. No value on the bench has an uncertainty, so how far it may "
            "be off is not known.");
    } else if (expected.low && expected.high) {
        interval = tr("%1 … %2").arg(units_.figure(Dimension::Speed, expected.low),
                                     units_.figure(Dimension::Speed, expected.high));
        tip = tr("Mean speed over the timed zone, first pass, and its 90 % interval");
    }
    if (!interval.isEmpty()) tip += QStringLiteral("\n") + interval;
    expected_.value->setFigure(units_.figure(Dimension::Speed, expected.zoneMean), unit,
                               compact_ ? QString() : interval);
    expected_.value->setToolTip(tip);
    // Kept in its place while it is computed anew: figures do not jump about.
    chance_.box->setVisible(!compact_ && target.has_value() &&
                            (expected.targetProbability.has_value() || expected.pending));
    chance_.value->setFigure(units_.figure(Dimension::Share, expected.targetProbability), QStringLiteral("%"));
    unitButton_->setText(unit + QStringLiteral(" · ") + units_.symbol(Dimension::Temperature) + QStringLiteral(" ▾"));
}

} // namespace rw
