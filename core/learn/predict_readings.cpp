// What the sensors make of a simulated piece.
#include "core/learn/predict.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rw::learning {

namespace {

double meanOf(const Piece& piece, const Reading& reading, const std::vector<double>& series) {
    double sum = 0.0;
    for (std::size_t k = 0; k < reading.instants; ++k)
        sum += series[std::min(piece.instants[reading.at + k], series.size() - 1)];
    return sum / static_cast<double>(reading.instants);
}

// A sensor over all instants of the piece; behind by a lag of first order, exact for what is linear between them. Below
// 0, which no sensor is but an estimate may be, the mirror image: smooth across it.
std::vector<double> seriesOf(const Piece& piece, Sensor sensor, const DrivenResult& result, double lag) {
    std::vector<double> out;
    out.reserve(result.samples.size());
    const auto reads = sensorInfo(sensor).reads;
    for (const DrivenSample& sample : result.samples)
        out.push_back(sample.*reads);
    const double size = std::abs(lag);
    constexpr double none = 1e-9; // s
    if (size < none || out.size() < 2) return out;
    const double sign = lag > 0.0 ? 1.0 : -1.0;
    double before = out[0]; // of the temperature itself; `behind` it the sensor
    double behind = size * (out[1] - out[0]) / (piece.times[1] - piece.times[0]);
    out[0] -= sign * behind;
    for (std::size_t k = 1; k < out.size(); ++k) {
        const double length = piece.times[k] - piece.times[k - 1];
        const double steady = size * (out[k] - before) / length;
        behind = steady + (behind - steady) * std::exp(-length / size);
        before = out[k];
        out[k] -= sign * behind;
    }
    return out;
}

} // namespace

void Predictor::read(const Piece& piece, const DrivenResult& result, const Sensors& sensors, double* out) const {
    std::array<std::vector<double>, sensorCount> series;
    for (std::size_t i = 0; i < piece.readings.size(); ++i) {
        const Reading& reading = piece.readings[i];
        if (isNoted(reading.sensor)) {
            out[i] = reading.sensor == Sensor::Peak ? result.peakSpeed : result.zoneMean.value_or(result.peakSpeed);
            continue;
        }
        const auto s = static_cast<std::size_t>(reading.sensor);
        if (series[s].empty()) series[s] = seriesOf(piece, reading.sensor, result, sensors.lag[s]);
        out[i] = meanOf(piece, reading, series[s]);
        if (reading.sensor == Sensor::Voltage) out[i] *= sensors.voltageGain;
        if (reading.sensor == Sensor::Current) out[i] = sensors.currentGain * out[i] + sensors.currentZero;
        if (reading.sensor == Sensor::MotorCurrent) out[i] *= sensors.motorGain;
    }
}

void Predictor::markSteep(const Piece& piece, const DrivenResult& result, std::uint8_t* out) const {
    constexpr double least = 0.12, rows = 1.1; // s; of an interval
    const double beside = std::max(least, rows * piece.driven.interval);
    std::vector<double> switches;
    for (std::size_t k = 1; k < result.samples.size(); ++k)
        if (result.samples[k].atEdge != result.samples[k - 1].atEdge && piece.times[k] < piece.driven.close)
            switches.push_back(0.5 * (piece.times[k] + piece.times[k - 1]));
    for (std::size_t i = 0; i < piece.readings.size(); ++i) {
        const Reading& reading = piece.readings[i];
        if (!reading.driven || reading.sensor >= Sensor::Case) continue;
        const double begins = piece.times[piece.instants[reading.at]] - beside;
        const double ends = piece.times[piece.instants[reading.at + reading.instants - 1]] + beside;
        for (const double at : switches)
            if (at >= begins && at <= ends) out[i] = 1;
    }
}

// The sensors' own unknowns move readings, not the vehicle.
void Predictor::sensorColumns(const Piece& piece, const DrivenResult& result, const Sensors& sensors, std::size_t row,
                              Eigen::MatrixXd& jacobian) const {
    const auto sensorOf = [](const UnknownItem& u) {
        if (u.kind == Unknown::VoltageGain) return Sensor::Voltage;
        if (u.kind == Unknown::CurrentGain || u.kind == Unknown::CurrentZero) return Sensor::Current;
        if (u.kind == Unknown::Lag) return static_cast<Sensor>(u.place);
        return u.kind == Unknown::MotorGain ? Sensor::MotorCurrent : Sensor::Count_;
    };
    for (std::size_t j = 0; j < unknowns_.size(); ++j) {
        const UnknownItem& u = unknowns_[j];
        const Sensor sensor = sensorOf(u);
        if (sensor == Sensor::Count_) continue;
        std::vector<double> slope;
        if (u.kind == Unknown::Lag) {
            const double lag = sensors.lag[u.place];
            slope = seriesOf(piece, sensor, result, lag + u.step);
            const std::vector<double> here = seriesOf(piece, sensor, result, lag);
            for (std::size_t k = 0; k < slope.size(); ++k)
                slope[k] = (slope[k] - here[k]) / u.step;
        } else {
            slope = seriesOf(piece, sensor, result, 0.0);
            if (u.kind == Unknown::CurrentZero) slope.assign(slope.size(), 1.0);
        }
        for (std::size_t i = 0; i < piece.readings.size(); ++i)
            if (piece.readings[i].sensor == sensor)
                jacobian(static_cast<Eigen::Index>(row + i), static_cast<Eigen::Index>(j)) =
                    meanOf(piece, piece.readings[i], slope);
    }
}

} // namespace rw::learning
