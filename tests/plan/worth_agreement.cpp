// How well the worth of a measurement agrees with brute force: ten random plans from labels, every uncertain input by
// itself, the spread run again with the measurement's uncertainty. A program, not a test: it takes minutes.
//   worth-agreement [runs]
#include "core/plan/labels.h"
#include "core/plan/spread.h"
#include "tests/plan/random_labels.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

namespace {

struct Compared {
    std::string what;
    double ratio = 1.0; // told over brute force
};

void tell(const char* name, std::vector<Compared> all) {
    std::sort(all.begin(), all.end(),
              [](const Compared& a, const Compared& b) { return std::abs(a.ratio - 1.0) < std::abs(b.ratio - 1.0); });
    const auto within = [&](double share) {
        return std::count_if(all.begin(), all.end(),
                             [&](const Compared& c) { return std::abs(c.ratio - 1.0) <= share; });
    };
    std::printf("%s: %zu inputs, within 3 %%: %td, 5 %%: %td, 10 %%: %td; median off by %.1f %%\n", name, all.size(),
                within(0.03), within(0.05), within(0.10), 100.0 * std::abs(all[all.size() / 2].ratio - 1.0));
    for (auto worst = all.rbegin(); worst != all.rend() && worst - all.rbegin() < 5; ++worst)
        std::printf("    %+.1f %%  %s\n", 100.0 * (worst->ratio - 1.0), worst->what.c_str());
}

} // namespace

int main(int argc, char** argv) {
    const std::size_t runs = argc > 1 ? static_cast<std::size_t>(std::atoi(argv[1])) : 2000;
    std::vector<Compared> zones, limits;
    for (std::uint64_t seed = 1; seed <= 10; ++seed) {
        const rw::PlanInput plan = rw::estimatePlan(rw::testing::randomLabels(seed)).plan;
        const rw::SpreadResult before = rw::spreadPlan(plan, {runs, 1, {}});
        for (const rw::Worth& row : before.worth.inputs) {
            if (row.measurableTo >= plan.uncertainty.at(row.key)) continue; // known better than it can be measured
            rw::PlanInput measured = plan;
            measured.uncertainty[row.key] = row.measurableTo;
            const rw::Worth again = rw::spreadPlan(measured, {runs, 1, {}}).worth.inputs.front();
            const std::string what = row.key + ", seed " + std::to_string(seed);
            zones.push_back({what, row.zoneMean.after.width() / again.zoneMean.before.width()});
            if (again.limit == row.limit && again.tightest.before.width() > 0.0)
                limits.push_back(
                    {what + ", " + std::string(row.limit), row.tightest.after.width() / again.tightest.before.width()});
        }
        std::printf("seed %d: %zu inputs\n", static_cast<int>(seed), before.worth.inputs.size());
    }
    tell("zone speed", zones);
    tell("tightest limit", limits);
    return 0;
}
