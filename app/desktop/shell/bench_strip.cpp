#include "app/desktop/shell/bench_strip.h"

#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/units.h"
#include "app/desktop/shared/widgets.h"

#include <QActionGroup>
#include <QButtonGroup>
#include <QMenu>
#include <QToolButton>

#include <initializer_list>
#include <type_traits>
#include <utility>

namespace rw {

namespace {

constexpr int roomForAll = 120 * gridStep;

template<typename Unit>
void addChoice(QMenu& menu, Units& units, const QString& title, Unit UnitChoice::*which,
               std::initializer_list<std::pair<std::type_identity_t<Unit>, QString>> choices) {
    menu.addSection(title);
    auto* group = new QActionGroup(&menu);
    for (const auto& [unit, text] : choices) {
        QAction* action = menu.addAction(text);
        action->setCheckable(true);
        group->addAction(action);
        const auto follow = [action, &units, which, unit = unit] { action->setChecked(units.choice().*which == unit); };
        follow();
        QObject::connect(&units, &Units::changed, action, follow);
        QObject::connect(action, &QAction::triggered, &units, [&units, which, unit = unit] { units.set(which, unit); });
    }
}

} // namespace

BenchStrip::BenchStrip(Bench& bench, Units& units, QWidget* parent)
    : QWidget(parent)
    , bench_(bench)
    , units_(units)
    , places_(new QButtonGroup(this)) {
    setObjectName(QStringLiteral("bench"));
    setAttribute(Qt::WA_StyledBackground);
    setFixedHeight(8 * gridStep);
    auto* layout = rowIn(this, 3 * gridStep, {3 * gridStep, 0, 2 * gridStep, 0});
    placesLayout_ = rowOf(4);
    layout->addLayout(placesLayout_);
    setup_ = tagged(new ShortLabel(Type::Body, Tone::Soft), "benchSetup");
    layout->addWidget(setup_, 1);
    const auto addFigure = [layout](const QString& caption, const char* name) {
        auto* words = new TextLabel(caption, Type::Small, Tone::Soft);
        words->setAlignment(Qt::AlignRight);
        Figure figure{new QWidget, tagged(new FigureLabel(Type::Figure), name)};
        lay(*columnIn(figure.box, 0, {0, 6, 0, 6}), {words, figure.value});
        layout->addWidget(figure.box);
        return figure;
    };
    target_ = addFigure(tr("target"), "targetFigure");
    expected_ = addFigure(tr("timed zone, expected"), "expectedFigure");
    chance_ = addFigure(tr("makes the target"), "chanceFigure");

    unitButton_ = named(new QToolButton(this), tr("Units"), "unitSwitch");
    unitButton_->setPopupMode(QToolButton::InstantPopup);
    unitButton_->setFocusPolicy(Qt::StrongFocus);
    unitButton_->setToolTip(tr("Units: speed, temperature, length and mass, everywhere at once"));
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
        auto* button = tagged(new QToolButton(this), "place");
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

void addUnitChoices(QMenu& menu, Units& units) {
    addChoice(
        menu, units, QMenu::tr("Speed"), &UnitChoice::speed,
        {{SpeedUnit::Kmh, QMenu::tr("km/h")}, {SpeedUnit::Mph, QMenu::tr("mph")}, {SpeedUnit::Mps, QMenu::tr("m/s")}});
    addChoice(menu, units, QMenu::tr("Temperature"), &UnitChoice::temperature,
              {{TemperatureUnit::Celsius, QMenu::tr("°C")}, {TemperatureUnit::Fahrenheit, QMenu::tr("°F")}});
    addChoice(menu, units, QMenu::tr("Length"), &UnitChoice::length,
              {{LengthUnit::Metric, QMenu::tr("mm and m")}, {LengthUnit::Inch, QMenu::tr("inch and ft")}});
    addChoice(menu, units, QMenu::tr("Mass"), &UnitChoice::mass,
              {{MassUnit::Metric, QMenu::tr("g and kg")}, {MassUnit::Pound, QMenu::tr("oz and lb")}});
}

} // namespace rw
