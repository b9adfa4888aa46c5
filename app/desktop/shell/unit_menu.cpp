#include "app/desktop/shell/unit_menu.h"

#include "app/desktop/shared/units.h"

#include <QActionGroup>
#include <QMenu>

#include <initializer_list>
#include <utility>

namespace rw {

namespace {

template<typename Unit>
void addChoice(QMenu& menu, Units& units, const QString& title, std::initializer_list<std::pair<Unit, QString>> choices,
               Unit (Units::*get)() const, void (Units::*set)(Unit)) {
    menu.addSection(title);
    auto* group = new QActionGroup(&menu);
    for (const auto& [unit, text] : choices) {
        QAction* action = menu.addAction(text);
        action->setCheckable(true);
        group->addAction(action);
        const auto follow = [action, &units, get, unit = unit] { action->setChecked((units.*get)() == unit); };
        follow();
        QObject::connect(&units, &Units::changed, action, follow);
        QObject::connect(action, &QAction::triggered, &units, [&units, set, unit = unit] { (units.*set)(unit); });
    }
}

} // namespace

void addUnitChoices(QMenu& menu, Units& units) {
    addChoice<SpeedUnit>(
        menu, units, QMenu::tr("Speed"),
        {{SpeedUnit::Kmh, QMenu::tr("km/h")}, {SpeedUnit::Mph, QMenu::tr("mph")}, {SpeedUnit::Mps, QMenu::tr("m/s")}},
        &Units::speed, &Units::setSpeed);
    addChoice<TemperatureUnit>(
        menu, units, QMenu::tr("Temperature"),
        {{TemperatureUnit::Celsius, QMenu::tr("°C")}, {TemperatureUnit::Fahrenheit, QMenu::tr("°F")}},
        &Units::temperature, &Units::setTemperature);
    addChoice<LengthUnit>(menu, units, QMenu::tr("Length"),
                          {{LengthUnit::Metric, QMenu::tr("mm and m")}, {LengthUnit::Inch, QMenu::tr("inch and ft")}},
                          &Units::length, &Units::setLength);
    addChoice<MassUnit>(menu, units, QMenu::tr("Mass"),
                        {{MassUnit::Metric, QMenu::tr("g and kg")}, {MassUnit::Pound, QMenu::tr("oz and lb")}},
                        &Units::mass, &Units::setMass);
}

} // namespace rw
