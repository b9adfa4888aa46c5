// What the model says of a piece, and of all pieces, with their derivatives. Internal to core/learn.
#pragma once

#include "core/learn/day.h"
#include "core/plan/plan.h"

#include <Eigen/Core>

#include <array>
#include <cstdint>
#include <limits>
#include <vector>

namespace rw::learning {

struct PassNuisances {
    double headWind = 0.0, open = 0.0, close = 0.0, shift = 0.0, offset = 0.0, drag = 0.0;
};

[[nodiscard]] double headWindOf(const PlanInput& plan, bool reverse);
// The piece from a start state; throws InputError where it cannot be computed.
[[nodiscard]] DrivenResult simulatePiece(const Piece& piece, const PlanInput& plan, const StartState& start,
                                         const PassNuisances& nuisances);

// Predictions of all readings, piece by piece, and how they change with the unknowns.
struct Prediction {
    std::vector<double> values; // one a reading, in the order of pieces and readings
    // Beside an instant at which traction takes over or lets go: slip leaves its edge so steeply that no slope holds
    // there.
    std::vector<std::uint8_t> steep;
    Eigen::MatrixXd jacobian; // readings × unknowns; empty if not asked for
};

constexpr std::size_t stateCount = 6; // of a StartState as a vector

class Predictor {
public:
    Predictor(const Day& day, const std::vector<UnknownItem>& unknowns, const WorkOptions& work);
    // Derivatives: forward quotients are good enough on the way, central ones for what is told at the end.
    enum class Derivatives { None, Forward, Central };
    // Derivatives of the pieces before `end`; 0 for the others.
    [[nodiscard]] Prediction predict(const std::vector<double>& x, Derivatives derivatives,
                                     std::size_t end = std::numeric_limits<std::size_t>::max()) const;
    [[nodiscard]] std::size_t readings() const { return readings_; }
    // The state in which a piece begins, and its inputs, at x.
    struct Case {
        PlanInput plan;
        StartState start;
        PassNuisances nuisances;
    };

private:
    struct Sensors {
        double currentGain = 1.0, voltageGain = 1.0, currentZero = 0.0, motorGain = 1.0;
        std::array<double, sensorCount> lag{}; // s
    };
    // Where the derivatives are taken: inputs, state and result of each piece; broken where it cannot be computed.
    struct Standing {
        const std::vector<double>& x;
        Sensors sensors;
        std::vector<Case> cases;
        std::vector<DrivenResult> results;
        std::vector<std::uint8_t> broken;
    };
    // One piece and one input: an unknown that moves it directly, or a component of the state handed on.
    struct Job {
        std::size_t piece = 0, input = 0;
        bool state = false;
    };
    struct Slopes {
        std::vector<double> readings;
        std::array<double, stateCount> end{};
    };
    [[nodiscard]] Standing standAt(const std::vector<double>& x, Prediction& out) const;
    [[nodiscard]] std::vector<Job> jobsBefore(std::size_t end, const Standing& at) const;
    [[nodiscard]] double move(const Job& job, double sign, const Standing& at, Case& moved) const;
    [[nodiscard]] Slopes slopesOf(const Job& job, Derivatives derivatives, const Standing& at,
                                  const std::vector<double>& values) const;
    [[nodiscard]] Eigen::MatrixXd chained(const std::vector<Job>& jobs, const std::vector<Slopes>& slopes,
                                          const Standing& at) const;
    [[nodiscard]] Case caseOf(const Piece& piece, const std::vector<double>& x) const;
    [[nodiscard]] Sensors sensorsOf(const std::vector<double>& x) const;
    void read(const Piece& piece, const DrivenResult& result, const Sensors& sensors, double* out) const;
    void markSteep(const Piece& piece, const DrivenResult& result, std::uint8_t* out) const;
    void sensorColumns(const Piece& piece, const DrivenResult& result, const Sensors& sensors, std::size_t row,
                       Eigen::MatrixXd& jacobian) const;

    const Day& day_;
    const std::vector<UnknownItem>& unknowns_;
    WorkOptions work_;
    std::size_t readings_ = 0;
    std::vector<std::size_t> firstReading_;        // of each piece
    std::vector<std::vector<std::size_t>> moving_; // unknowns that move a piece's simulation directly
};

} // namespace rw::learning
