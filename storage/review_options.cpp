#include "core/error.h"
#include "core/units.h"
#include "storage/log_record.h"

#include <algorithm>

namespace rw {

namespace {

std::optional<double> kelvin(const Figures& figures, std::string_view key) {
    const auto found = figures.find(key);
    return found == figures.end() ? std::nullopt : std::optional(kelvinFromCelsius(found->second));
}

std::optional<double> figure(const Figures& figures, std::string_view key) {
    const auto found = figures.find(key);
    return found == figures.end() ? std::nullopt : std::optional(found->second);
}

void addHistory(Garage& garage, const Setup& setup, ReviewOptions& options) {
    for (const PackPoint& point : garage.packHistory(setup.pack)) {
        if (!point.ohm) continue;
        HistoryValue value{*point.ohm, {}, {}};
        if (point.start_C) value.temperature = kelvinFromCelsius(*point.start_C);
        options.packHistory.push_back(value);
    }
    PassFilter same;
    same.setup = setup.id;
    same.order = PassFilter::Order::Oldest;
    for (const StoredPass& pass : garage.passes(same)) {
        const Figures figures = garage.figures(pass.id);
        if (const auto ratio = figure(figures, "rpm_per_volt"))
            options.rpmPerVoltHistory.push_back({*ratio, kelvin(figures, "motor_start_C"), figure(figures, "mean_A")});
    }
}

std::optional<Outing> newestOutingWith(Garage& garage, Id setup) {
    for (Outing& outing : garage.outings())
        if (outing.venue && std::ranges::find(outing.setups, setup) != outing.setups.end()) return std::move(outing);
    return std::nullopt;
}

} // namespace

ReviewOptions reviewOptions(Garage& garage, Id setupId, std::optional<Id> outing, std::optional<Id> venue) {
    ReviewOptions out;
    const Setup setup = garage.setup(setupId);
    addHistory(garage, setup, out);
    if (outing && !venue) venue = garage.outing(*outing).venue;
    if (!venue)
        if (const auto newest = newestOutingWith(garage, setupId)) venue = newest->venue;
    if (venue) {
        out.plan = outing ? garage.planInput(setupId, *venue, *outing) : garage.planInput(setupId, *venue);
        return out;
    }
    const auto mode = setup.values.find("controller.cutoff.mode");
    const auto volts = setup.values.find("controller.cutoff.cell_V");
    const bool on = mode != setup.values.end() && !mode->second.text.empty() && mode->second.text != "off";
    if (on && volts != setup.values.end()) out.cutoffCell = volts->second.number;
    return out;
}

} // namespace rw
