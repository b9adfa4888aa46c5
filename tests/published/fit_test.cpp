// The least-squares wrapper against NIST's Statistical Reference Datasets (nonlinear regression; certified values and
// standard deviations, tests/published/data), and the estimate's forms against closed solutions.
#include "core/learn/fit.h"
#include "core/physics/heat.h"

#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <functional>
#include <random>
#include <sstream>
#include <string>
#include <vector>

namespace {

using rw::learning::covarianceOf;
using rw::learning::LeastSquares;
using rw::learning::minimise;
using rw::learning::Solution;

struct Parameter {
    double start1 = 0.0, start2 = 0.0, value = 0.0, deviation = 0.0;
};
struct Dataset {
    std::vector<Parameter> parameters;
    std::vector<double> x, y;
};

// Comments with one line a parameter, then rows of y and x.
Dataset read(const std::string& name) {
    std::ifstream file(RUNWRIGHT_SOURCE_DIR "/tests/published/data/nist_strd_" + name + ".csv");
    Dataset out;
    std::string line;
    while (std::getline(file, line)) {
        std::vector<std::string> cells;
        std::stringstream stream(line);
        for (std::string cell; std::getline(stream, cell, ',');)
            cells.push_back(cell);
        if (line.rfind("# b", 0) == 0 && cells.size() == 5)
            out.parameters.push_back(
                {std::stod(cells[1]), std::stod(cells[2]), std::stod(cells[3]), std::stod(cells[4])});
        else if (cells.size() == 2 && line[0] != '#' && line[0] != 'y')
            out.y.push_back(std::stod(cells[0])), out.x.push_back(std::stod(cells[1]));
    }
    return out;
}

using Model = std::function<double(const double* b, double x)>;

// As the estimate does it: central quotients, steps in proportion to the values.
LeastSquares problemOf(const Dataset& data, const Model& model, std::vector<double> start) {
    LeastSquares out;
    out.residuals = data.x.size();
    out.start = std::move(start);
    out.mostIterations = 2000;
    out.attempts = 5;
    out.tolerance = 1e-15;
    const std::size_t n = out.start.size();
    out.evaluate = [&data, model, n](const double* b, double* residuals, double* jacobian) {
        for (std::size_t i = 0; i < data.x.size(); ++i) {
            residuals[i] = model(b, data.x[i]) - data.y[i];
            if (!std::isfinite(residuals[i])) return false;
            if (jacobian == nullptr) continue;
            for (std::size_t j = 0; j < n; ++j) {
                std::vector<double> up(b, b + n), down(b, b + n);
                const double step = 1e-5 * std::max(std::abs(b[j]), 1e-8);
                up[j] += step, down[j] -= step;
                jacobian[i * n + j] = (model(up.data(), data.x[i]) - model(down.data(), data.x[i])) / (2.0 * step);
            }
        }
        return true;
    };
    return out;
}

Eigen::MatrixXd squareAt(const LeastSquares& problem, const std::vector<double>& x) {
    using RowMajor = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
    std::vector<double> residuals(problem.residuals);
    RowMajor out(static_cast<Eigen::Index>(problem.residuals), static_cast<Eigen::Index>(x.size()));
    problem.evaluate(x.data(), residuals.data(), out.data());
    return out.transpose() * out;
}

void expectCertified(const std::string& name, const Model& model) {
    const Dataset data = read(name);
    ASSERT_FALSE(data.parameters.empty()) << name;
    ASSERT_GT(data.x.size(), data.parameters.size());
    for (const bool second : {true, false}) {
        std::vector<double> start;
        for (const Parameter& p : data.parameters)
            start.push_back(second ? p.start2 : p.start1);
        const LeastSquares problem = problemOf(data, model, start);
        const Solution solution = minimise(problem);
        const Eigen::MatrixXd covariance = covarianceOf(squareAt(problem, solution.x));
        const double freedom = static_cast<double>(data.x.size() - data.parameters.size());
        for (std::size_t j = 0; j < data.parameters.size(); ++j) {
            const Parameter& p = data.parameters[j];
            const auto n = static_cast<Eigen::Index>(j);
            EXPECT_NEAR(solution.x[j], p.value, 1e-4 * std::abs(p.value))
                << name << " b" << j + 1 << ", start " << (second ? 2 : 1);
            const double deviation = std::sqrt(covariance(n, n) * 2.0 * solution.cost / freedom);
            EXPECT_NEAR(deviation, p.deviation, 1e-4 * p.deviation) << name << " b" << j + 1;
        }
    }
}

TEST(NistStrd, Misra1a) {
    expectCertified("misra1a", [](const double* b, double x) { return b[0] * (1.0 - std::exp(-b[1] * x)); });
}

TEST(NistStrd, BoxBod) {
    expectCertified("boxbod", [](const double* b, double x) { return b[0] * (1.0 - std::exp(-b[1] * x)); });
}

TEST(NistStrd, Mgh17) {
    expectCertified("mgh17", [](const double* b, double x) {
        return b[0] + b[1] * std::exp(-x * b[3]) + b[2] * std::exp(-x * b[4]);
    });
}

TEST(NistStrd, Mgh09) {
    expectCertified("mgh09",
                    [](const double* b, double x) { return b[0] * (x * x + x * b[1]) / (x * x + x * b[2] + b[3]); });
}

TEST(NistStrd, Thurber) {
    expectCertified("thurber", [](const double* b, double x) {
        return (b[0] + x * (b[1] + x * (b[2] + x * b[3]))) / (1.0 + x * (b[4] + x * (b[5] + x * b[6])));
    });
}

// A parameter that nothing depends on has no finite variance.
TEST(Covariance, OfWhatCannotBeToldIsInfinite) {
    const Eigen::MatrixXd covariance = covarianceOf(Eigen::Vector2d(30.0, 0.0).asDiagonal().toDenseMatrix());
    EXPECT_NEAR(covariance(0, 0), 1.0 / 30.0, 1e-15);
    EXPECT_TRUE(std::isinf(covariance(1, 1)));
    EXPECT_TRUE(std::isinf(covarianceOf((Eigen::Matrix2d() << 1.0, 2.0, 2.0, 4.0).finished())(0, 0)));
}

// Coverage on closed forms: noise of a known size is drawn many times, and the errors that the fit states hold the
// truth in 95 of 100. 300 fits: four standard deviations of the share are 5 %.
double coverage(const Model& model, const std::vector<double>& truth, const std::vector<double>& x, double noise) {
    std::mt19937_64 engine(7);
    std::normal_distribution<double> normal;
    constexpr int fits = 300;
    int inside = 0, all = 0;
    for (int f = 0; f < fits; ++f) {
        Dataset data;
        for (const double at : x)
            data.x.push_back(at), data.y.push_back(model(truth.data(), at) + noise * normal(engine));
        std::vector<double> start = truth;
        for (double& value : start)
            value *= 1.05;
        LeastSquares problem = problemOf(data, model, start);
        problem.tolerance = 1e-10;
        const Solution solution = minimise(problem);
        const Eigen::MatrixXd covariance = covarianceOf(squareAt(problem, solution.x));
        for (std::size_t j = 0; j < truth.size(); ++j, ++all) {
            const double error =
                noise * std::sqrt(covariance(static_cast<Eigen::Index>(j), static_cast<Eigen::Index>(j)));
            inside += std::abs(solution.x[j] - truth[j]) <= 1.96 * error ? 1 : 0;
        }
    }
    return static_cast<double>(inside) / all;
}

std::vector<double> even(double last, int count) {
    std::vector<double> out;
    for (int i = 1; i <= count; ++i)
        out.push_back(last * i / count);
    return out;
}

TEST(Coverage, TwoNodeCooling) { // the case of a motor after a pass; heat.h, closed form
    const auto model = [](const double* b, double t) {
        const rw::TwoNodeHeat heat{20.0, b[0], b[1], {b[2], 0.0}};
        return rw::cool(heat, {90.0, 45.0}, 20.0, t).motorCase;
    };
    EXPECT_NEAR(coverage(model, {90.0, 0.4, 4.0}, even(300.0, 60), 0.1), 0.95, 0.05);
}

TEST(Coverage, StepResponseOfAResistorAndCapacitor) { // a pack's voltage under a constant current
    const auto model = [](const double* b, double t) {
        return 16.8 - 50.0 * (b[0] + b[1] * (1.0 - std::exp(-t / b[2])));
    };
    EXPECT_NEAR(coverage(model, {0.008, 0.004, 7.0}, even(30.0, 60), 0.02), 0.95, 0.05);
}

// Coast-down under F = A + C v² (the form of SAE J1263): v = √(A/C) tan(arctan(v0 √(C/A)) − t √(A C)/m), the known
// solution. Six-kilogram car.
TEST(Coverage, CoastDown) {
    const auto model = [](const double* b, double t) {
        constexpr double mass = 6.0, v0 = 40.0;
        return std::sqrt(b[0] / b[1]) *
               std::tan(std::atan(v0 * std::sqrt(b[1] / b[0])) - t * std::sqrt(b[0] * b[1]) / mass);
    };
    EXPECT_NEAR(coverage(model, {1.4, 0.013}, even(12.0, 60), 0.1), 0.95, 0.05);
}

} // namespace
