
#include "core/log/channel_finish.h"
#include "core/log/quantity.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace rw {
namespace {

using Q = Quantity;

// In the display unit of quantity.h. Bounds are common practice for such vehicles, from memory, and generous: what lies
// beyond is a wrong unit or factor, not a strong motor.
struct Sense {
    Q quantity;
    double most;           // more is implausible
    double usualLeast;     // a factor is likely if it brings the largest value to this or more
    const char* otherwise; // what it may be besides a factor; nullptr
};
constexpr std::array senses{
    Sense{Q::PackVoltage, 150.0, 3.0, nullptr},
    Sense{Q::ReceiverVoltage, 30.0, 2.5, nullptr},
    Sense{Q::PackCurrent, 1000.0, 5.0, nullptr},
    Sense{Q::MotorCurrent, 1500.0, 5.0, nullptr},
    Sense{Q::MotorSpeed, 250'000.0, 5'000.0, "electrical revolutions, which count the pole pairs in"},
    Sense{Q::ControllerTemperature, 250.0, 10.0, nullptr},
    Sense{Q::MotorTemperature, 250.0, 10.0, nullptr},
    Sense{Q::PackTemperature, 250.0, 10.0, nullptr},
    Sense{Q::Speed, 700.0, 10.0, nullptr},
    Sense{Q::Power, 100'000.0, 50.0, nullptr},
};
constexpr double fewestTurns_rpm = 1'000.0; // a motor that never turned faster, though it drew current
constexpr double load_A = 10.0;
constexpr double kelvinLow = 240.0, kelvinHigh = 450.0; // °C that are kelvin: −33 to 177 °C

bool isTemperature(Q quantity) {
    return quantity == Q::ControllerTemperature || quantity == Q::MotorTemperature || quantity == Q::PackTemperature;
}

double largestAmount(std::span<const double> values) {
    constexpr double largestShare = 0.999;
    return std::max(std::abs(percentile(values, largestShare)), std::abs(percentile(values, 1.0 - largestShare)));
}

// The largest amount itself, as tables will show it; a lone spike far above the rest is not meant.
double peakAmount(std::span<const double> values) {
    constexpr double spike = 1.25;
    const double largest = largestAmount(values);
    double peak = largest;
    for (const double value : values)
        if (std::abs(value) > peak && std::abs(value) <= spike * largest) peak = std::abs(value);
    return peak;
}

std::string shown(double value) {
    return std::abs(value) >= 100.0 ? fmt::format("{:.0f}", value) : fmt::format("{:.4g}", value);
}

class Doubter {
public:
    explicit Doubter(Log& log)
        : log_(log) {}

    void judge(const Sense& sense) {
        const Channel& channel = log_[sense.quantity];
        if (!channel.present() || channel.column < 0) return;
        const double largest = toDisplay(sense.quantity, largestAmount(channel.values));
        if (largest > sense.most)
            tooMuch(sense, toDisplay(sense.quantity, peakAmount(channel.values)));
        else if (sense.quantity == Q::MotorSpeed && largest > 0.0 && largest < fewestTurns_rpm && loaded())
            tooFew(largest);
    }

private:
    [[nodiscard]] bool loaded() const {
        const Channel& current = log_[Q::PackCurrent];
        return current.present() && largestAmount(current.values) > load_A;
    }

    void tooMuch(const Sense& sense, double largest) {
        if (isTemperature(sense.quantity) && kelvins(sense.quantity)) {
            say(sense.quantity, largest, "it is likely written in kelvin (unit K)", {});
            return;
        }
        for (const double divisor : {10.0, 100.0, 1000.0, 1e6}) {
            const double then = largest / divisor;
            if (then > sense.most || then < sense.usualLeast) continue;
            std::string likely =
                "a factor of " + shown(1.0 / divisor) + " is likely, which makes " + shown(then) + unit(sense.quantity);
            if (sense.otherwise != nullptr) likely += ", or " + std::string(sense.otherwise);
            say(sense.quantity, largest, likely, 1.0 / divisor);
            return;
        }
        say(sense.quantity, largest, "the column may be something else", {});
    }

    void tooFew(double largest) {
        const double factor = largest * 100.0 <= 120'000.0 ? 100.0 : 10.0;
        say(Q::MotorSpeed, largest,
            "too slow for a loaded motor; a factor of " + shown(factor) + " is likely, which makes " +
                shown(factor * largest) + unit(Q::MotorSpeed),
            factor);
    }

    [[nodiscard]] bool kelvins(Q quantity) const {
        const std::vector<double>& values = log_[quantity].values;
        return std::ranges::all_of(values, [quantity](double value) {
            const double celsius = toDisplay(quantity, value);
            return std::isnan(value) || (celsius > kelvinLow && celsius < kelvinHigh);
        });
    }

    [[nodiscard]] static std::string unit(Q quantity) { return " " + std::string(quantityInfo(quantity).display.unit); }

    void say(Q quantity, double largest, const std::string& likely, std::optional<double> factor) {
        ImportColumn& column = log_.report.columns[static_cast<std::size_t>(log_[quantity].column)];
        column.doubt = shown(largest) + unit(quantity) + " is implausible: " + likely;
        column.likelyFactor = factor;
        log_.notes.push_back("Column \"" + column.name + "\", " + std::string(quantityInfo(quantity).name) + ": " +
                             column.doubt + ". A column map can say so.");
    }

    Log& log_;
};

} // namespace

void doubtImplausible(Log& log) {
    Doubter doubter(log);
    for (const Sense& sense : senses)
        doubter.judge(sense);
}

} // namespace rw
