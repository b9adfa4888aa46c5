#include "core/learn/report.h"

#include "core/plan/normal.h"

#include <Eigen/Cholesky>

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>

namespace rw::learning {

namespace {

// Six digits are written; rounding must not make the matrix indefinite.
std::vector<std::vector<double>> roundedCorrelation(const Eigen::MatrixXd& covariance, std::size_t count) {
    const auto n = static_cast<Eigen::Index>(count);
    std::vector<std::vector<double>> out(count, std::vector<double>(count, 1.0));
    for (Eigen::Index i = 0; i < n; ++i)
        for (Eigen::Index j = 0; j < n; ++j) {
            if (i == j) continue;
            constexpr double most = 0.999999, unit = 1e6;
            const double r = covariance(i, j) / std::sqrt(covariance(i, i) * covariance(j, j));
            out[static_cast<std::size_t>(i)][static_cast<std::size_t>(j)] =
                std::clamp(std::round(r * unit) / unit, -most, most);
        }
    return out;
}

bool definite(const std::vector<std::vector<double>>& matrix) {
    const auto n = static_cast<Eigen::Index>(matrix.size());
    Eigen::MatrixXd m(n, n);
    for (Eigen::Index i = 0; i < n; ++i)
        for (Eigen::Index j = 0; j < n; ++j)
            m(i, j) = matrix[static_cast<std::size_t>(i)][static_cast<std::size_t>(j)];
    const Eigen::LLT<Eigen::MatrixXd> factor(m);
    constexpr double least = 1e-4; // well over what a reader may refuse
    return factor.info() == Eigen::Success && Eigen::MatrixXd(factor.matrixL()).diagonal().minCoeff() > least;
}

LearnedCorrelation correlationOf(const Problem& problem, const Estimated& found) {
    LearnedCorrelation out;
    for (std::size_t j = 0; j < problem.carried; ++j)
        out.keys.push_back(problem.unknowns[j].field->key());
    Eigen::MatrixXd covariance = found.covariance;
    for (int i = 0; i < 40; ++i) {
        out.matrix = roundedCorrelation(covariance, problem.carried);
        if (definite(out.matrix)) break;
        const double more = 1e-8 * std::pow(2.0, i); // of each variance, until rounding cannot hurt
        for (Eigen::Index j = 0; j < covariance.rows(); ++j)
            covariance(j, j) *= 1.0 + more;
    }
    return out;
}

LearnedParameter parameterOf(const Problem& problem, const Estimated& found, std::size_t j,
                             const LearnedCorrelation& correlation, const PlanInput& plan) {
    const UnknownItem& u = problem.unknowns[j];
    const auto n = static_cast<Eigen::Index>(j);
    LearnedParameter out;
    out.key = u.field->key();
    out.value = found.x[j];
    out.standardError = std::sqrt(found.covariance(n, n));
    const TruncatedNormal posterior{out.value, out.standardError, u.field->low, u.field->high};
    out.low = posterior.quantile(0.025);
    out.high = posterior.quantile(0.975);
    out.priorValue = u.mean;
    const auto stated = plan.uncertainty.find(out.key);
    out.priorUncertainty = stated == plan.uncertainty.end() ? u.deviation : stated->second;
    out.determined = out.standardError <= 0.5 * out.priorUncertainty;
    if (!out.determined) {
        const double told = found.told[n];
        std::size_t with = j;
        for (std::size_t k = 0; k < correlation.keys.size(); ++k)
            if (k != j && (with == j || std::abs(correlation.matrix[j][k]) > std::abs(correlation.matrix[j][with])))
                with = k;
        constexpr double little = 1.0, clear = 0.6;
        if (told < little || with == j || std::abs(correlation.matrix[j][with]) < clear)
            out.whyNot =
                told < little
                    ? "nothing in these logs depends on it enough to tell it"
                    : "several other inputs, the wind, charge or the sensors act alike in these logs: measure it";
        else
            out.whyNot = "it cannot be told from " + correlation.keys[with] + " (correlation " +
                         fmt::format("{:.2f}", correlation.matrix[j][with]) + "): measure one of them";
    }
    const double away = std::abs(out.value - u.mean) / u.deviation;
    if (away > 3.0)
        out.conflict = "the logs want it " + fmt::format("{:.1f}", away) +
                       " standard uncertainties from what was entered; usual causes are " + usualCause(out.key);
    return out;
}

struct Named {
    const char* name = "";
    const char* unit = "";
};

// In the order of Unknown; keys of the plan have names of their own.
constexpr std::array names{Named{},
                           Named{},
                           Named{"current sensor gain"},
                           Named{"voltage sensor gain"},
                           Named{"current sensor zero", "A"},
                           Named{"motor current sensor gain"},
                           Named{"lag of the controller's temperature sensor", "s"},
                           Named{"charge at the start"},
                           Named{"motor case at the start", "°C"},
                           Named{"winding over case at the start", "K"},
                           Named{"controller at the start", "°C"},
                           Named{"pack at the start", "°C"},
                           Named{"head wind", "m/s"},
                           Named{"drag beside the other passes'"},
                           Named{"throttle opens after the last closed row", "s"},
                           Named{"throttle closes after the last closed row", "s"},
                           Named{"throttle and output later than the other columns", "s"},
                           Named{"offset of the recorded output"}};
static_assert(names.size() == static_cast<std::size_t>(Unknown::Offset) + 1);

Named nameOf(const UnknownItem& u) {
    if (u.kind == Unknown::Lag && u.place == static_cast<std::size_t>(Sensor::Case))
        return {"lag of the motor's temperature sensor", "s"};
    if (u.kind == Unknown::Lag && u.place == static_cast<std::size_t>(Sensor::Pack))
        return {"lag of the pack's temperature sensor", "s"};
    return names[static_cast<std::size_t>(u.kind)];
}

LearnedNuisance nuisanceOf(const Problem& problem, const Estimated& found, std::size_t j) {
    const UnknownItem& u = problem.unknowns[j];
    LearnedNuisance out;
    const Named named = nameOf(u);
    out.name = u.kind == Unknown::OfTheDay ? u.field->key() : named.name;
    out.unit = u.kind == Unknown::OfTheDay ? std::string(u.field->unit) : named.unit;
    out.log = u.log;
    if (u.kind >= Unknown::Wind) {
        out.session = problem.day.pieces[u.place].ref.session;
        out.pass = problem.day.pieces[u.place].ref.pass;
    } else if (u.kind >= Unknown::Charge) {
        for (const Piece& piece : problem.day.pieces)
            if (piece.first && piece.start == u.place) out.session = piece.ref.session, out.pass = piece.ref.pass;
    }
    out.value = found.x[j];
    const auto n = static_cast<Eigen::Index>(j);
    out.standardError = std::sqrt(found.covariance(n, n));
    return out;
}

// Both values of what differs; whoever measures one of them decides.
std::string noteOf(const Problem& problem, const Estimated& found, const OtherSolution& other) {
    std::string keys;
    for (const std::size_t j : other.differs)
        keys += fmt::format("{}{} {:.4g} or {:.4g}", keys.empty() ? "" : ", ", problem.unknowns[j].field->key(),
                            found.x[j], other.x[j]);
    return fmt::format(
        "Two solutions are as good, the odds {:.0f} to {:.0f}: {}. The likelier one is told, with errors "
        "that hold both; measuring one of these decides.",
        100.0 * (1.0 - other.odds), 100.0 * other.odds, keys);
}

LearnedInput learnedOf(const Problem& problem, const Estimated& found, std::span<const LearnLog> logs) {
    LearnedInput out = logs.front().plan.learned.value_or(LearnedInput{});
    for (std::size_t j = problem.carried; j < problem.unknowns.size(); ++j) {
        const auto n = static_cast<Eigen::Index>(j);
        const Estimate estimate{found.x[j], std::sqrt(found.covariance(n, n))};
        if (problem.unknowns[j].kind == Unknown::CurrentGain) out.currentGain = estimate;
        if (problem.unknowns[j].kind == Unknown::VoltageGain) out.voltageGain = estimate;
        if (problem.unknowns[j].kind == Unknown::CurrentZero) out.currentZero_A = estimate;
    }
    for (const LearnLog& log : logs)
        if (!log.digest.empty() && std::find(out.logs.begin(), out.logs.end(), log.digest) == out.logs.end())
            out.logs.push_back(log.digest);
    return out;
}

} // namespace

std::string usualCause(const std::string& key) {
    if (key == "motor.kv_rpm_per_V") return "another motor fitted, or a wrong gearing, pole count or timing entered";
    if (key == "tyre.radius_m" || key.find("gear") != std::string::npos || key == "vehicle.internal_ratio")
        return "a wrong gearing entered, or another tyre fitted";
    if (key.rfind("pack.", 0) == 0) return "a damaged or cold pack, or a voltage sensor that reads wrong";
    if (key.rfind("motor.", 0) == 0)
        return "another motor fitted, a damaged winding, or a current sensor that reads wrong";
    if (key.rfind("controller.", 0) == 0)
        return "a bad joint between pack and motor, or a current sensor that reads wrong";
    if (key == "vehicle.driveline_efficiency")
        return "a wrong gearing or stage entered, or a current sensor that reads wrong";
    if (key == "vehicle.mass_kg") return "ballast not entered, or a current sensor that reads wrong";
    return "a body that was changed, a gust, or a wrong gearing entered";
}

LearnReport reportOf(const Problem& problem, const Estimated& found, std::span<const LearnLog> logs) {
    LearnReport out;
    out.converged = found.converged;
    out.correlation = correlationOf(problem, found);
    for (std::size_t j = 0; j < problem.carried; ++j)
        out.parameters.push_back(parameterOf(problem, found, j, out.correlation, logs.front().plan));
    for (std::size_t j = problem.carried; j < problem.unknowns.size(); ++j)
        out.nuisances.push_back(nuisanceOf(problem, found, j));
    for (const Piece& piece : problem.day.pieces)
        out.passesUsed.push_back(piece.ref);
    out.passesLeftOut = problem.day.leftOut;
    out.notes = problem.day.notes;
    for (const LearnLog& log : logs)
        if (log.plan.learned && !log.digest.empty() &&
            std::find(log.plan.learned->logs.begin(), log.plan.learned->logs.end(), log.digest) !=
                log.plan.learned->logs.end())
            out.notes.push_back("This plan has already learned from " + log.log->file +
                                ": the same evidence counts twice, and the errors told here are too small.");
    if (!problem.ignored.empty()) {
        std::string keys;
        for (const std::string& key : problem.ignored)
            keys += (keys.empty() ? "" : ", ") + key;
        out.notes.push_back("Not learned, because a recorded pass does not depend on it: " + keys + ".");
    }
    if (!out.converged)
        out.notes.push_back("The fit did not converge: nothing of it may be taken over. Look at the passes that do not "
                            "fit, or leave some out.");
    for (const OtherSolution& other : found.others)
        out.notes.push_back(noteOf(problem, found, other));
    out.learned = learnedOf(problem, found, logs);
    reportResiduals(problem, found, logs, out);
    return out;
}

} // namespace rw::learning
