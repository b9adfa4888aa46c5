// What the sensors make of a simulated piece.
#include "core/learn/predict.h"

#include <algorithm>

namespace rw::learning {

namespace {

// What a sensor without errors of its own reads at an instant.
double trueReading(Sensor sensor, const DrivenSample& s) {
    switch (sensor) {
    case Sensor::Voltage:
        return s.packVoltage;
    case Sensor::Current:
        return s.packCurrent;
    case Sensor::MotorCurrent:
        return s.motorCurrent;
    case Sensor::MotorSpeed:
        return s.motorSpeed;
    case Sensor::Speed:
        return s.speed;
    case Sensor::Output:
        return s.duty;
    case Sensor::Case:
        return s.motorCase;
    case Sensor::Controller:
        return s.controller;
    case Sensor::Pack:
        return s.pack;
    default:
        return 0.0;
    }
}

double meanReading(const Piece& piece, const Reading& reading, const DrivenResult& result) {
    double sum = 0.0;
    for (std::size_t k = 0; k < reading.instants; ++k) {
        const std::size_t at = std::min(piece.instants[reading.at + k], result.samples.size() - 1);
        sum += trueReading(reading.sensor, result.samples[at]);
    }
    return sum / static_cast<double>(reading.instants);
}

} // namespace

void Predictor::read(const Piece& piece, const DrivenResult& result, const Sensors& sensors, double* out) const {
    for (std::size_t i = 0; i < piece.readings.size(); ++i) {
        const Reading& reading = piece.readings[i];
        if (reading.sensor == Sensor::Peak || reading.sensor == Sensor::Zone) {
            out[i] = reading.sensor == Sensor::Peak ? result.peakSpeed : result.zoneMean.value_or(result.peakSpeed);
            continue;
        }
        out[i] = meanReading(piece, reading, result);
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
void Predictor::sensorColumns(const Piece& piece, const DrivenResult& result, std::size_t row,
                              Eigen::MatrixXd& jacobian) const {
    const auto sensorOf = [](Unknown kind) {
        if (kind == Unknown::VoltageGain) return Sensor::Voltage;
        if (kind == Unknown::CurrentGain || kind == Unknown::CurrentZero) return Sensor::Current;
        return kind == Unknown::MotorGain ? Sensor::MotorCurrent : Sensor::Count_;
    };
    for (std::size_t j = 0; j < unknowns_.size(); ++j) {
        const Unknown kind = unknowns_[j].kind;
        const Sensor sensor = sensorOf(kind);
        for (std::size_t i = 0; i < piece.readings.size() && sensor != Sensor::Count_; ++i)
            if (piece.readings[i].sensor == sensor)
                jacobian(static_cast<Eigen::Index>(row + i), static_cast<Eigen::Index>(j)) =
                    kind == Unknown::CurrentZero ? 1.0 : meanReading(piece, piece.readings[i], result);
    }
}

} // namespace rw::learning
