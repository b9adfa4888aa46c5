// The unit switch: from SI to what a person reads, in one place. Figures are meant for tabular digits.
#pragma once

#include "core/dimension.h"

#include <QObject>
#include <QString>

#include <memory>
#include <optional>
#include <utility>
#include <vector>

namespace rw {

struct UnitView { // shown = value * factor + offset
    QString symbol;
    double factor = 1.0, offset = 0.0;
    int decimals = 0;

    [[nodiscard]] double shown(double value) const { return value * factor + offset; }
    [[nodiscard]] std::optional<double> shown(std::optional<double> value) const {
        return value ? std::optional(shown(*value)) : value;
    }
    [[nodiscard]] std::vector<double> shown(const std::vector<double>& values) const;
    [[nodiscard]] double inside(double shownValue) const { return (shownValue - offset) / factor; }
};

[[nodiscard]] UnitView viewOf(const ShownUnit& unit);

class Units : public QObject {
    Q_OBJECT
public:
    using QObject::QObject;

    [[nodiscard]] const UnitChoice& choice() const { return choice_; }
    template<class Unit>
    void set(Unit UnitChoice::*which, Unit unit) {
        if (std::exchange(choice_.*which, unit) != unit) emit changed();
    }

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
    UnitChoice choice_;
};

// As many decimals as make `digits` significant digits, trailing zeros kept.
[[nodiscard]] QString significantText(double value, int digits);
[[nodiscard]] QString shareText(double share);                         // "12 %"
[[nodiscard]] QString spanText(double low, double high, int decimals); // "41.3 … 44.1"

} // namespace rw
