#include "core/plan/worth.h"

#include "core/json/json_write.h"
#include "core/plan/plan_fields.h"
#include "core/plan/spread_statistics.h"

#include <Eigen/Dense>

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

namespace rw {

namespace {

// Runs beyond these sharpen the bands as they are, not what a measurement changes of them.
constexpr std::size_t mostRows = 4000;
// Runs for each term of the surface: fewer, and the terms are fitted to chance.
constexpr std::size_t runsPerTerm = 8;
constexpr std::size_t mostPaired = 8;
// Share of the variance after a measurement that the surface may leave unexplained: 2 % of a band's width at most.
constexpr double leftOverAllowed = 0.04;
// Above this share the runs near the middle tell more than the surface does.
constexpr double leftOverScaled = 0.15;
// An input that narrows no more than this is not worth the chance that weighting brings.
constexpr double hardlyNarrower = 0.95;
constexpr double leastShare = 1e-12;

using Rows = Eigen::MatrixXd; // a row a run, a column an input: normal scores

// The terms of the surface: a constant, each score, its square and cube (Hermite), products of the strongest inputs.
struct Terms {
    Eigen::Index inputs = 0;
    int degree = 1;
    std::vector<std::pair<Eigen::Index, Eigen::Index>> pairs;

    [[nodiscard]] Eigen::Index count() const { return 1 + inputs * degree + static_cast<Eigen::Index>(pairs.size()); }
    [[nodiscard]] Eigen::MatrixXd of(const Rows& z) const {
        Eigen::MatrixXd out(z.rows(), count());
        out.col(0).setOnes();
        for (Eigen::Index k = 0; k < inputs; ++k)
            for (int power = 1; power <= degree; ++power)
                out.col(indexOf(k, power)) = hermite(z.col(k), power);
        for (std::size_t p = 0; p < pairs.size(); ++p)
            out.col(indexOfPair(p)) = z.col(pairs[p].first).cwiseProduct(z.col(pairs[p].second));
        return out;
    }
    // What the surface with these coefficients changes where only the touched inputs differ.
    [[nodiscard]] Eigen::MatrixXd change(const Rows& from, const Rows& to, const std::vector<bool>& touched,
                                         const Eigen::MatrixXd& coefficients) const {
        Eigen::MatrixXd out = Eigen::MatrixXd::Zero(from.rows(), coefficients.cols());
        const auto isTouched = [&](Eigen::Index k) { return touched[static_cast<std::size_t>(k)]; };
        for (Eigen::Index k = 0; k < inputs; ++k)
            for (int power = 1; isTouched(k) && power <= degree; ++power)
                out += (hermite(to.col(k), power) - hermite(from.col(k), power)) * coefficients.row(indexOf(k, power));
        for (std::size_t p = 0; p < pairs.size(); ++p) {
            const auto& [a, b] = pairs[p];
            if (isTouched(a) || isTouched(b))
                out += (to.col(a).cwiseProduct(to.col(b)) - from.col(a).cwiseProduct(from.col(b))) *
                       coefficients.row(indexOfPair(p));
        }
        return out;
    }

private:
    [[nodiscard]] Eigen::Index indexOf(Eigen::Index input, int power) const { return input * degree + power; }
    [[nodiscard]] Eigen::Index indexOfPair(std::size_t pair) const {
        return 1 + inputs * degree + static_cast<Eigen::Index>(pair);
    }
    static Eigen::VectorXd hermite(const Eigen::VectorXd& z, int power) {
        const auto score = z.array();
        if (power == 1) return z;
        return power == 2 ? (score.square() - 1.0).eval() : (score * (score.square() - 3.0)).eval();
    }
};

Eigen::MatrixXd fitted(const Eigen::MatrixXd& terms, const Eigen::MatrixXd& figures) {
    Eigen::MatrixXd normal = terms.transpose() * terms;
    normal.diagonal().array() += 1e-9 * static_cast<double>(terms.rows()); // columns that never vary
    return normal.ldlt().solve(terms.transpose() * figures);
}

double shareOf(const TruncatedNormal& d, double value) {
    const double below = normalShare((d.low - d.mean) / d.deviation);
    const double above = normalShare(-(d.high - d.mean) / d.deviation);
    const double share = (normalShare((value - d.mean) / d.deviation) - below) / (1.0 - below - above);
    return std::clamp(share, leastShare, 1.0 - leastShare);
}

Band weightedBand(const Eigen::VectorXd& values, const Eigen::VectorXd& weights) {
    std::vector<Eigen::Index> order(static_cast<std::size_t>(values.size()));
    std::iota(order.begin(), order.end(), Eigen::Index{0});
    std::ranges::sort(order, [&](Eigen::Index a, Eigen::Index b) { return values(a) < values(b); });
    const double all = weights.sum();
    const auto at = [&](double share) {
        double below = 0.0, lastAt = 0.0, last = values(order.front());
        for (const Eigen::Index i : order) {
            const double middle = (below + 0.5 * weights(i)) / all;
            if (middle >= share)
                return middle > lastAt ? last + (values(i) - last) * (share - lastAt) / (middle - lastAt) : values(i);
            below += weights(i), last = values(i), lastAt = middle;
        }
        return last;
    };
    return {at(0.05), at(0.95)};
}

std::vector<std::size_t> usedRows(const WorthRuns& runs) {
    std::vector<std::size_t> out;
    for (std::size_t i = 0; i < runs.zoneMean.size() && out.size() < mostRows; ++i)
        if (std::isfinite(runs.zoneMean[i]) && (runs.limit.empty() || std::isfinite(runs.limitValue[i])))
            out.push_back(i);
    return out;
}

class Surface {
public:
    explicit Surface(const WorthRuns& runs)
        : runs_(runs)
        , rows_(usedRows(runs)) {
        fillScores();
        chooseTerms();
        fillCorrelation();
        if (!usable_) return;
        const Eigen::MatrixXd terms = terms_.of(scores_);
        coefficients_ = fitted(terms, figures_);
        residuals_ = figures_ - terms * coefficients_;
        leftOver_ = residuals_.array().square().colwise().mean();
    }

    [[nodiscard]] const Band& before(Eigen::Index figure) const { return whole_[static_cast<std::size_t>(figure)]; }
    // Both figures after these inputs were measured; empty where the runs are too few.
    [[nodiscard]] std::vector<Band> after(const std::vector<std::size_t>& measured) const {
        if (!usable_) return {Band{}, Band{}};
        const std::vector<std::size_t> better = worthMeasuring(measured);
        if (better.empty()) return {before(0), before(1)};
        const Eigen::MatrixXd adjusted = moved(better, 1.0);
        std::optional<Eigen::MatrixXd> nearby;
        std::vector<Band> out;
        for (Eigen::Index f = 0; f < 2; ++f) {
            const double spread = nearbySpread(better.size());
            const double share = leftOver_(f) / variance(adjusted.col(f));
            if (!(share > leftOverAllowed)) {
                out.push_back(asOfAll(band(adjusted.col(f)), f));
                continue;
            }
            const Band scaled = band(adjusted.col(f) + residualChange(f, weights(better, spread)));
            if (share < leftOverScaled ||
                scaled.width() > hardlyNarrower * used_[static_cast<std::size_t>(f)].width()) {
                out.push_back(asOfAll(scaled, f));
                continue;
            }
            if (!nearby) nearby = moved(better, spread);
            out.push_back(asOfAll(weightedBand(nearby->col(f), weights(better, spread)), f));
        }
        return out;
    }

private:
    static Band band(const Eigen::VectorXd& column) {
        const Summary s = summarise({column.data(), column.data() + column.size()});
        return {s.p05, s.p95};
    }
    // A band of the runs that are used, moved by what theirs differs from that of all runs.
    [[nodiscard]] Band asOfAll(const Band& band, Eigen::Index figure) const {
        const Band &all = before(figure), &used = used_[static_cast<std::size_t>(figure)];
        return {*all.p05 + (*band.p05 - *used.p05), *all.p95 + (*band.p95 - *used.p95)};
    }
    static double variance(const Eigen::VectorXd& column) { return (column.array() - column.mean()).square().mean(); }

    // Inputs that their method measures better than they are known.
    [[nodiscard]] std::vector<std::size_t> worthMeasuring(const std::vector<std::size_t>& inputs) const {
        std::vector<std::size_t> out;
        for (const std::size_t k : inputs)
            if (measurement(k).deviation < runs_.fields[k].distribution.deviation) out.push_back(k);
        return out;
    }
    [[nodiscard]] TruncatedNormal measurement(std::size_t k) const {
        TruncatedNormal out = runs_.fields[k].distribution;
        out.deviation = runs_.fields[k].field->measurableTo.at(out.mean);
        return out;
    }

    // Standard deviation of the scores that weighting leaves, so that two runs in five still count: the effective share
    // of a normal sample weighted to s is s √(2 − s²) for each input (Kish).
    static double nearbySpread(std::size_t inputs) {
        const double share = std::pow(0.4, 1.0 / static_cast<double>(inputs));
        return std::sqrt(1.0 - std::sqrt(1.0 - share * share));
    }
    [[nodiscard]] Eigen::VectorXd weights(const std::vector<std::size_t>& measured, double spread) const {
        Eigen::ArrayXd exponent = Eigen::ArrayXd::Zero(scores_.rows());
        for (const std::size_t k : measured)
            exponent += scores_.col(static_cast<Eigen::Index>(k)).array().square();
        return (-0.5 * exponent * (1.0 / (spread * spread) - 1.0)).exp();
    }
    // What the surface leaves over, brought to the spread that it has among the weighted runs.
    [[nodiscard]] Eigen::VectorXd residualChange(Eigen::Index figure, const Eigen::VectorXd& weights) const {
        const Eigen::VectorXd residual = residuals_.col(figure);
        const double sum = weights.sum();
        const double mean = weights.dot(residual) / sum;
        const double nearby = weights.dot((residual.array() - mean).square().matrix()) / sum;
        return (residual * (std::sqrt(nearby / leftOver_(figure)) - 1.0)).array() + mean;
    }
    // The figures with each measured input drawn anew at its share of a normal distribution of that spread.
    [[nodiscard]] Eigen::MatrixXd moved(const std::vector<std::size_t>& measured, double spread) const {
        Rows scores = scores_;
        std::vector<bool> touched(runs_.fields.size(), false);
        for (const std::size_t k : measured) {
            narrow(scores, k, spread);
            touched[k] = true;
            for (const Correlated& pair : correlated_)
                if (pair.of == k) touched[pair.with] = true;
        }
        return figures_ + terms_.change(scores_, scores, touched, coefficients_);
    }

    void fillScores() {
        const auto n = static_cast<Eigen::Index>(rows_.size());
        scores_.resize(n, static_cast<Eigen::Index>(runs_.fields.size()));
        figures_.setZero(n, 2);
        for (Eigen::Index i = 0; i < n; ++i) {
            const std::size_t run = rows_[static_cast<std::size_t>(i)];
            for (std::size_t k = 0; k < runs_.fields.size(); ++k)
                scores_(i, static_cast<Eigen::Index>(k)) =
                    normalScore(shareOf(runs_.fields[k].distribution, runs_.drawn[k][run]));
            figures_(i, 0) = runs_.zoneMean[run];
            if (!runs_.limit.empty()) figures_(i, 1) = runs_.limitValue[run];
        }
        used_ = {band(figures_.col(0)), band(figures_.col(1))};
        const Summary zone = summarise(runs_.zoneMean), limit = summarise(runs_.limitValue);
        whole_ = {Band{zone.p05, zone.p95}, runs_.limit.empty() ? used_[1] : Band{limit.p05, limit.p95}};
    }

    void chooseTerms() {
        const auto inputs = static_cast<std::size_t>(scores_.cols());
        const std::size_t most = rows_.size() / runsPerTerm;
        terms_.inputs = scores_.cols();
        usable_ = inputs > 0 && 1 + inputs <= most;
        if (!usable_) return;
        const Eigen::MatrixXd linear = fitted(terms_.of(scores_), figures_.leftCols(1));
        terms_.degree = static_cast<int>(std::min<std::size_t>(3, (most - 1) / inputs));
        std::vector<Eigen::Index> strongest(inputs);
        std::iota(strongest.begin(), strongest.end(), Eigen::Index{0});
        std::ranges::stable_sort(strongest, [&](Eigen::Index a, Eigen::Index b) {
            return std::abs(linear(1 + a, 0)) > std::abs(linear(1 + b, 0));
        });
        for (std::size_t b = 1; b < std::min(inputs, mostPaired); ++b)
            for (std::size_t a = 0; a < b && static_cast<std::size_t>(terms_.count()) < most; ++a)
                terms_.pairs.emplace_back(strongest[a], strongest[b]);
    }

    void fillCorrelation() {
        for (const KeyCorrelation& pair : runs_.input.correlation) {
            const auto first = indexOf(pair.first), second = indexOf(pair.second);
            if (!first || !second) continue;
            correlated_.push_back({*first, *second, pair.coefficient});
            correlated_.push_back({*second, *first, pair.coefficient});
        }
    }
    [[nodiscard]] std::optional<std::size_t> indexOf(std::string_view key) const {
        for (std::size_t k = 0; k < runs_.fields.size(); ++k)
            if (runs_.fields[k].field->key() == key) return k;
        return std::nullopt;
    }

    // The input drawn from its measurement's distribution; what it is correlated with goes along.
    void narrow(Rows& z, std::size_t k, double spread) const {
        const TruncatedNormal& wide = runs_.fields[k].distribution;
        const TruncatedNormal measured = measurement(k);
        const auto column = static_cast<Eigen::Index>(k);
        for (Eigen::Index i = 0; i < z.rows(); ++i) {
            const double share = std::clamp(normalShare(scores_(i, column) / spread), leastShare, 1.0 - leastShare);
            const double drawn = measured.deviation > 0.0 ? measured.quantile(share) : measured.mean;
            const double moved = normalScore(shareOf(wide, drawn)) - scores_(i, column);
            z(i, column) += moved;
            for (const Correlated& pair : correlated_)
                if (pair.of == k) z(i, static_cast<Eigen::Index>(pair.with)) += pair.coefficient * moved;
        }
    }

    struct Correlated {
        std::size_t of = 0, with = 0;
        double coefficient = 0.0;
    };

    const WorthRuns& runs_;
    std::vector<std::size_t> rows_;
    Rows scores_;
    Eigen::MatrixXd figures_, coefficients_; // zone mean, limit's value
    std::array<Band, 2> used_, whole_;       // of the runs that are used, and of all
    Eigen::MatrixXd residuals_;
    Eigen::RowVectorXd leftOver_; // variance that the surface does not explain
    Terms terms_;
    bool usable_ = false;
    std::vector<Correlated> correlated_;
};

Json changeJson(const BandChange& change) {
    const auto band = [](const Band& b) { return Json{{"p05", jsonOrNull(b.p05)}, {"p95", jsonOrNull(b.p95)}}; };
    return {{"before", band(change.before)}, {"after", band(change.after)}};
}

} // namespace

WorthResult worthOf(const WorthRuns& runs) {
    WorthResult out;
    const Surface surface(runs);
    std::vector<std::size_t> order(runs.fields.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::vector<Worth> rows;
    for (const std::size_t k : order) {
        const PlanField& field = *runs.fields[k].field;
        const std::vector<Band> after = surface.after({k});
        Worth row{field.key(),   field.measurableTo.at(runs.fields[k].distribution.mean),
                  field.measure, {surface.before(0), after[0]},
                  runs.limit,    {}};
        if (!runs.limit.empty()) row.tightest = {surface.before(1), after[1]};
        rows.push_back(std::move(row));
    }
    std::ranges::stable_sort(order, [&](std::size_t a, std::size_t b) {
        return rows[a].zoneMean.narrowing() > rows[b].zoneMean.narrowing();
    });
    for (const std::size_t k : order)
        out.inputs.push_back(rows[k]);
    order.resize(worthAsking(out).size());
    out.bestTogether = {surface.before(0), surface.after(order)[0]};
    return out;
}

std::vector<Worth> worthAsking(const WorthResult& worth) {
    std::vector<Worth> out;
    for (const Worth& row : worth.inputs)
        if (out.size() < bestCount && row.zoneMean.narrowing() > 0.0) out.push_back(row);
    return out;
}

Json worthJson(const Worth& worth) {
    Json tightest = nullptr;
    if (!worth.limit.empty()) {
        tightest["limit"] = worth.limit;
        tightest.update(changeJson(worth.tightest));
    }
    return {{"key", worth.key},
            {"measurable_to", worth.measurableTo},
            {"method", worth.method},
            {"zone_mean", changeJson(worth.zoneMean)},
            {"tightest", std::move(tightest)}};
}

} // namespace rw
