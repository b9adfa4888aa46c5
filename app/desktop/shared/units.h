// The unit switch: from SI to what a person reads, in one place. Figures are meant for tabular digits.
#pragma once

#include <QObject>
#include <QString>

#include <memory>
#include <optional>

namespace rw {

enum class SpeedUnit { Kmh, Mph, Mps };
enum class TemperatureUnit { Celsius, Fahrenheit };
enum class LengthUnit { Metric, Inch }; // small lengths mm or in, the strip m or ft
enum class MassUnit { Metric, Pound };  // g and kg, or oz and lb

// Kinds of value that are shown. Every one is SI inside, except Temperature, which is °C everywhere in the plan.
enum class Dimension {
    Number,
    Share /* 0..1 shown as % */,
    Count,
    Speed,
    Temperature,
    Distance /* the strip */,
    Length /* parts */,
    Mass,
    Time,
    Current,
    Voltage,
    Power,
    Charge /* A·s shown as Ah */,
    Energy /* J shown as Wh */,
    Force,
    Resistance,
    AngularSpeed,
    Rpm,
    Pressure,
    Angle,
    Area,
    Density
};

struct UnitView { // shown = value * factor + offset
    QString symbol;
    double factor = 1.0, offset = 0.0;
    int decimals = 0;

    [[nodiscard]] double shown(double value) const { return value * factor + offset; }
    [[nodiscard]] double inside(double shownValue) const { return (shownValue - offset) / factor; }
};

class Units : public QObject {
    Q_OBJECT
public:
    using QObject::QObject;

    [[nodiscard]] SpeedUnit speed() const { return speed_; }
    [[nodiscard]] TemperatureUnit temperature() const { return temperature_; }
    [[nodiscard]] LengthUnit length() const { return length_; }
    [[nodiscard]] MassUnit mass() const { return mass_; }
    void setSpeed(SpeedUnit unit);
    void setTemperature(TemperatureUnit unit);
    void setLength(LengthUnit unit);
    void setMass(MassUnit unit);

    [[nodiscard]] UnitView of(Dimension dimension) const;
    [[nodiscard]] QString symbol(Dimension dimension) const { return of(dimension).symbol; }
    // The figure alone, "–" where there is none. decimals −1: the dimension's own.
    [[nodiscard]] QString figure(Dimension dimension, std::optional<double> value, int decimals = -1) const;
    // Figure and unit with a no-break space: "42.8 m/s".
    [[nodiscard]] QString text(Dimension dimension, std::optional<double> value, int decimals = -1) const;
    // As they are switched now, for another thread.
    [[nodiscard]] std::shared_ptr<const Units> copy() const;

signals:
    void changed();

private:
    SpeedUnit speed_ = SpeedUnit::Kmh;
    TemperatureUnit temperature_ = TemperatureUnit::Celsius;
    LengthUnit length_ = LengthUnit::Metric;
    MassUnit mass_ = MassUnit::Metric;
};

// As many decimals as make `digits` significant digits, trailing zeros kept.
[[nodiscard]] QString significantText(double value, int digits);

} // namespace rw
