#include "core/learn/estimate.h"

#include "core/learn/rounds.h"
#include "core/stopped.h"
#include "core/units.h"

#include <algorithm>
#include <cmath>
#include <memory>
#include <optional>
#include <string>

namespace rw::learning {

namespace {

// Where the search has ended.
struct Ending {
    std::vector<double> z;
    double misfit = 0.0, count = 0.0; // Rounds::misfit, of so many readings
};

// Where the cost folds: along what decides when the tyre is at its edge, the first of these that is unknown.
std::optional<std::size_t> foldOf(const Problem& problem) {
    for (const char* key : {"venue.friction", "vehicle.lift_area_front_m2", "vehicle.lift_area_rear_m2"})
        for (std::size_t j = 0; j < problem.unknowns.size(); ++j)
            if (problem.unknowns[j].field != nullptr && problem.unknowns[j].field->key() == key) return j;
    return std::nullopt;
}

// Of what is carried; other passes' own unknowns may scatter.
bool samePlace(const Problem& problem, const std::vector<double>& a, const std::vector<double>& b) {
    constexpr double near = 0.2; // prior deviations
    for (std::size_t j = 0; j < problem.carried; ++j)
        if (std::abs(a[j] - b[j]) > near) return false;
    return true;
}

// By how much one cost is over another: twice the likelihood's logarithm, where the noise explains what is left.
double lossOf(double misfit, double least, double count) { return (misfit - least) * count / std::max(1.0, least); }
// So much alike that chance may have made the difference: odds of at least one in twenty.
bool asGood(double misfit, double other, double count) {
    constexpr double clear = 6.0;
    return std::abs(lossOf(misfit, other, count)) < clear;
}

// What holds a launch back may be the tyre or something else, where slip is not read or a limit is not known.
bool ambiguous(const Problem& problem) {
    const bool limit = std::any_of(problem.unknowns.begin(), problem.unknowns.end(), [](const UnknownItem& u) {
        return u.kind == Unknown::Carried && u.field->key().find("_limit_") != std::string::npos;
    });
    const auto turns = [](const Reading& reading) { return reading.sensor == Sensor::MotorSpeed && reading.used; };
    const bool slipRead = std::all_of(problem.day.pieces.begin(), problem.day.pieces.end(), [&turns](const Piece& p) {
        return std::any_of(p.readings.begin(), p.readings.end(), turns);
    });
    return limit || !slipRead;
}

// Where too much is left, or something has gone far from what was known of it: from elsewhere, until little enough is
// left, or another way has led to the same place or to one as good.
class Search {
public:
    Search(const Problem& problem, const EstimateOptions& options, const Predictor& predictor,
           const std::vector<double>& measured)
        : problem_(problem)
        , options_(options)
        , predictor_(predictor)
        , measured_(measured)
        , best_(std::make_unique<Rounds>(problem, options, predictor, measured)) {}

    // The best of all endings; the others are kept.
    std::unique_ptr<Rounds> run() {
        const std::vector<double> middle(problem_.unknowns.size(), 0.0);
        best_->approach(middle);
        left_ = best_->misfit();
        lookElsewhere(middle);
        found_ = {best_->place(), left_, best_->count()};
        return std::move(best_);
    }
    // Endings as good as the best one, elsewhere; the errors become so wide that they hold both.
    void tellOthers(Estimated& out) const;

private:
    void lookElsewhere(const std::vector<double>& middle) {
        constexpr double tooFar = 4.0;    // prior deviations
        constexpr double hopeless = 12.0; // no fold leaves so much, but another vehicle's log
        if (left_ > hopeless || shareOfSpeedConstant(problem_) > mostOfSpeedConstant) return;
        const std::optional<std::size_t> fold = foldOf(problem_);
        const auto beside = [&fold](std::vector<double> start, double by) {
            start[*fold] += by;
            return start;
        };
        if (left_ < tooMuch) {
            if (best_->farthest() > tooFar) (void)tryFrom(middle, false);
            if (fold && ambiguous(problem_))
                for (const double edge : {-2.0, 2.0})
                    (void)tryFrom(beside(middle, edge), true);
            return;
        }
        if (fold && (tryFrom(beside(middle, -2.0), true) || tryFrom(beside(middle, 2.0), true))) return;
        // A value so far from what was entered: another vehicle's log, or a plan entered wrong.
        constexpr double strange = 10.0; // prior deviations
        if (best_->farthestCarried() > strange || tryFrom(middle, false) || !fold) return;
        if (!tryFrom(beside(best_->place(), 1.0), false)) (void)tryFrom(beside(best_->place(), -1.0), false);
    }
    // True: it may end there. Far: with a first look from afar.
    bool tryFrom(const std::vector<double>& start, bool far) {
        constexpr double promising = 2.0; // of the best misfit
        auto other = std::make_unique<Rounds>(problem_, options_, predictor_, measured_);
        if (far)
            other->approach(start);
        else
            other->settle(start);
        double there = other->misfit();
        if (there < promising * left_) {
            other->settle(other->place());
            there = other->misfit();
        }
        const double count = other->count();
        const bool known = samePlace(problem_, other->place(), best_->place()) || asGood(there, left_, count);
        if (there < left_) {
            std::swap(best_, other);
            std::swap(left_, there);
        }
        others_.push_back({other->place(), there, count});
        return known || left_ < tooMuch;
    }

    static constexpr double tooMuch = 1.05; // of the noise, squared

    const Problem& problem_;
    const EstimateOptions& options_;
    const Predictor& predictor_;
    const std::vector<double>& measured_;
    std::unique_ptr<Rounds> best_;
    double left_ = 0.0; // by the best
    std::vector<Ending> others_;
    Ending found_;
};

void Search::tellOthers(Estimated& out) const {
    if (others_.empty()) return;
    const Scale scale(problem_.unknowns, problem_.ties);
    const std::vector<double> here = scale.valuesAt(found_.z.data());
    const Eigen::VectorXd error = out.covariance.diagonal().cwiseSqrt();
    std::vector<std::vector<double>> known{found_.z};
    for (const Ending& other : others_) {
        const bool again = std::any_of(known.begin(), known.end(), [&](const std::vector<double>& place) {
            return samePlace(problem_, place, other.z);
        });
        if (again || !asGood(other.misfit, found_.misfit, other.count)) continue;
        known.push_back(other.z);
        OtherSolution told;
        told.x = scale.valuesAt(other.z.data());
        Eigen::VectorXd away(error.size());
        for (Eigen::Index j = 0; j < error.size(); ++j) {
            const auto k = static_cast<std::size_t>(j);
            away[j] = told.x[k] - here[k];
            constexpr double clear = 3.0; // standard errors
            if (problem_.unknowns[k].field != nullptr && std::abs(away[j]) > clear * error[j])
                told.differs.push_back(k);
        }
        if (told.differs.empty()) continue;
        told.odds = 1.0 / (1.0 + std::exp(0.5 * lossOf(other.misfit, found_.misfit, other.count)));
        out.covariance += told.odds * away * away.transpose(); // of two distributions, about the likelier one's middle
        out.others.push_back(std::move(told));
    }
}

} // namespace

double shareOfSpeedConstant(const Problem& problem) {
    double most = 0.0, volts = 0.0;
    for (const Piece& piece : problem.day.pieces)
        for (const Reading& reading : piece.readings) {
            if (reading.sensor == Sensor::MotorSpeed && reading.driven)
                most = std::max(most, reading.value * rpmPerRadps);
            if (reading.sensor == Sensor::Voltage) volts = std::max(volts, reading.value);
        }
    return volts > 0.0 ? most / volts / problem.day.plans.front().motor.kv_rpm_per_V : 0.0;
}

std::vector<double> measuredOf(const Day& day) {
    std::vector<double> out;
    for (const Piece& piece : day.pieces)
        for (const Reading& reading : piece.readings)
            out.push_back(reading.value);
    return out;
}

Estimated estimate(const Problem& problem, const EstimateOptions& options) {
    const std::vector<double> measured = measuredOf(problem.day);
    const Predictor predictor(problem.day, problem.unknowns, options.work);
    std::unique_ptr<Rounds> rounds;
    Search search(problem, options, predictor, measured);
    if (options.start.empty()) {
        rounds = search.run();
    } else {
        rounds = std::make_unique<Rounds>(problem, options, predictor, measured);
        if (options.at != nullptr) rounds->know(options.start, *options.at);
        rounds->settle(options.start);
    }
    rounds->finish();
    throwIfStopped(options.work.stop);
    Estimated out = rounds->result();
    search.tellOthers(out);
    return out;
}

} // namespace rw::learning
