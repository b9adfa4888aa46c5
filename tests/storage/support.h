// What the storage tests share: a folder that goes away, invented content, and all of a garage as text to compare.
#pragma once

#include "core/plan/plan_input.h"
#include "storage/garage.h"

#include <filesystem>
#include <random>
#include <string>

namespace rw::test {

class TempFolder {
public:
    TempFolder();
    ~TempFolder();
    TempFolder(const TempFolder&) = delete;
    TempFolder& operator=(const TempFolder&) = delete;
    [[nodiscard]] std::string file(const std::string& name) const { return (path_ / name).string(); }
    [[nodiscard]] const std::filesystem::path& path() const { return path_; }

private:
    std::filesystem::path path_;
};

[[nodiscard]] std::string readBytes(const std::string& path);
void writeBytes(const std::string& path, const std::string& bytes);

// A valid plan input with every optional number set, odd doubles and uncertainties.
[[nodiscard]] PlanInput fullPlan();
// A log text of `rows` rows, different for each seed.
[[nodiscard]] std::string logText(unsigned seed, int rows = 200);
// A record with two sessions and `passes` passes.
[[nodiscard]] LogRecord logRecordFor(const std::string& bytes, int passes = 3);

struct Filled {
    PlanIds plan;
    Id revision{ItemKind::Setup, 0}, outing{ItemKind::Outing, 0}, log{ItemKind::Log, 0}, storedPlan{ItemKind::Plan, 0},
        fit{ItemKind::Fit, 0}, map{ItemKind::ColumnMap, 0}, checklist{ItemKind::Checklist, 0},
        limits{ItemKind::LimitSet, 0};
};
// One of everything.
Filled fill(Garage& garage);

// All content but times of change and versions, in a fixed order: equal texts, equal content.
[[nodiscard]] std::string contentOf(Garage& garage);

} // namespace rw::test
