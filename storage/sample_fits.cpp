#include "core/plan/plan_fields.h"
#include "samples/generate/cars.h"
#include "storage/sample_season.h"

#include <algorithm>
#include <array>

namespace rw::sample {

void addFits(Garage& garage, Id vehicle, Id venue) {
    struct Taught {
        const char* key;
        double early, off; // standard error of the first day as a share of the value; by how many of them it is off
    };
    constexpr std::array taught{Taught{"vehicle.drag_area_m2", 0.05, 0.8}, Taught{"motor.kv_rpm_per_V", 0.008, -0.7},
                                Taught{"motor.resistance_ohm", 0.04, 0.5},
                                Taught{"pack.cell_resistance_ohm", 0.03, -0.9}};
    std::vector<StoredLog> logs = garage.logs();
    std::erase_if(logs,
                  [&](const StoredLog& log) { return !log.setup || garage.setup(*log.setup).vehicle != vehicle; });
    std::ranges::sort(logs, {}, &StoredLog::started);
    const std::array days{std::size_t{0}, logs.size() / 2, logs.size() - 1};
    for (std::size_t i = 0; i < days.size(); ++i) {
        const StoredLog& log = logs[days[i]];
        PassFilter of;
        of.log = log.id;
        Fit fit;
        fit.name = "learned from the day of " + log.started.substr(0, 10);
        fit.notes = "Invented, like everything in this garage.";
        fit.setup = log.setup;
        fit.created = log.started.substr(0, 10) + "T20:00:00Z"; // in the evening
        for (const StoredPass& pass : garage.passes(of))
            fit.passes.push_back(pass.id);
        const PlanInput before = garage.planInput(*log.setup, venue), truth = generate::asItTrulyIs(before);
        for (const Taught& one : taught) {
            const PlanField* const field = findPlanField(one.key);
            const double value = field->get(truth).value_or(0.0);
            FittedParameter p;
            p.key = one.key;
            p.standardError = one.early * value / (1.0 + static_cast<double>(i));
            p.value = value + one.off * *p.standardError;
            p.before = field->get(before);
            const auto known = before.uncertainty.find(one.key);
            if (known != before.uncertainty.end()) p.beforeDeviation = known->second;
            fit.parameters.push_back(p);
        }
        garage.addFit(fit);
    }
}

} // namespace rw::sample
