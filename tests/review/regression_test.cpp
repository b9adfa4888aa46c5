#include "core/review/regression.h"

#include <gtest/gtest.h>

#include <fstream>
#include <sstream>
#include <vector>

namespace rw::review {
namespace {

// A CSV file of NIST's Statistical Reference Datasets: # lines hold certified results, the first column is y.
struct DataSet {
    Eigen::MatrixXd columns; // intercept first
    Eigen::VectorXd observed;
};
DataSet read(const std::string& name) {
    std::ifstream file(RUNWRIGHT_SOURCE_DIR "/tests/published/data/" + name);
    std::vector<std::vector<double>> rows;
    bool header = true;
    for (std::string line; std::getline(file, line);) {
        if (line.starts_with('#')) continue;
        if (header) {
            header = false;
            continue;
        }
        std::vector<double> row;
        std::istringstream cells(line);
        for (std::string cell; std::getline(cells, cell, ',');)
            row.push_back(std::stod(cell));
        rows.push_back(row);
    }
    DataSet set;
    set.columns.resize(static_cast<Eigen::Index>(rows.size()), static_cast<Eigen::Index>(rows.front().size()));
    set.observed.resize(static_cast<Eigen::Index>(rows.size()));
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const auto r = static_cast<Eigen::Index>(i);
        set.observed[r] = rows[i][0];
        set.columns(r, 0) = 1.0;
        for (std::size_t k = 1; k < rows[i].size(); ++k)
            set.columns(r, static_cast<Eigen::Index>(k)) = rows[i][k];
    }
    return set;
}

void expectRelative(double value, double certified, double tolerance) {
    EXPECT_NEAR(value / certified, 1.0, tolerance) << certified;
}

TEST(LeastSquares, agreesWithNistNorris) {
    // NIST/ITL StRD, linear regression, data set Norris (Norris, J., NIST, Calibration of Ozone Monitors): certified
    // values.
    const DataSet set = read("nist_strd_norris.csv");
    ASSERT_EQ(set.observed.size(), 36);
    const Regression fit = leastSquares(set.columns, set.observed);
    ASSERT_TRUE(fit.determined);
    expectRelative(fit.coefficients[0], -0.262323073774029, 1e-9);
    expectRelative(fit.coefficients[1], 1.00211681802045, 1e-12);
    expectRelative(fit.standardErrors[0], 0.232818234301152, 1e-9);
    expectRelative(fit.standardErrors[1], 0.429796848199937e-03, 1e-9);
    expectRelative(fit.residualDeviation, 0.884796396144373, 1e-9);
    expectRelative(fit.rSquared, 0.999993745883712, 1e-12);
}

TEST(LeastSquares, agreesWithNistLongleyThoughItsColumnsAreNearlyDependent) {
    // NIST/ITL StRD, data set Longley (J. Am. Stat. Assoc. 62 (1967) 819): certified values; normal equations fail on
    // it.
    const DataSet set = read("nist_strd_longley.csv");
    ASSERT_EQ(set.observed.size(), 16);
    const Regression fit = leastSquares(set.columns, set.observed);
    ASSERT_TRUE(fit.determined);
    const double certified[] = {-3482258.63459582, 15.0618722713733,       -0.358191792925910E-01, -2.02022980381683,
                                -1.03322686417359, -0.511041056535807E-01, 1829.15146461355};
    const double deviations[] = {890420.383607373,  84.9149257747669,  0.334910077722432E-01, 0.488399681651699,
                                 0.214274163161675, 0.226073200069370, 455.478499142212};
    for (Eigen::Index i = 0; i < 7; ++i) {
        expectRelative(fit.coefficients[i], certified[i], 1e-7);
        expectRelative(fit.standardErrors[i], deviations[i], 1e-7);
    }
    expectRelative(fit.residualDeviation, 304.854073561965, 1e-8);
    EXPECT_GT(fit.condition, 1e3); // said, so that nobody trusts the digits blindly
}

TEST(LeastSquares, refusesColumnsThatDependOnEachOther) {
    Eigen::MatrixXd columns(6, 3);
    Eigen::VectorXd observed(6);
    for (Eigen::Index i = 0; i < 6; ++i) {
        columns.row(i) << 1.0, static_cast<double>(i), 3.0 * static_cast<double>(i) + 2.0;
        observed[i] = static_cast<double>(i);
    }
    EXPECT_FALSE(leastSquares(columns, observed).determined);
    EXPECT_FALSE(leastSquares(columns.topRows(2), observed.head(2)).determined);
}

TEST(RobustRegression, keepsTheLineThatMostPointsLieOn) {
    // Closed form: 40 points on y = 3 − 2x with a small even wobble, four of them thrown far off.
    Eigen::MatrixXd columns(40, 2);
    Eigen::VectorXd observed(40);
    for (Eigen::Index i = 0; i < 40; ++i) {
        const double x = static_cast<double>(i) / 10.0;
        columns.row(i) << 1.0, x;
        observed[i] = 3.0 - 2.0 * x + (i % 2 == 0 ? 0.01 : -0.01) + (i % 10 == 3 ? 5.0 : 0.0);
    }
    const Regression plain = leastSquares(columns, observed), robust = robustRegression(columns, observed);
    EXPECT_GT(std::abs(plain.coefficients[0] - 3.0), 0.3);
    EXPECT_NEAR(robust.coefficients[0], 3.0, 0.02);
    EXPECT_NEAR(robust.coefficients[1], -2.0, 0.01);
}

} // namespace
} // namespace rw::review
