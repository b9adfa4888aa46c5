#include "samples/generate/sampling.h"

#include "samples/generate/random.h"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace rw::generate {

namespace {

constexpr double receiverSupply = 6.0;                              // V
constexpr double dipLength = 0.4, restartGap = 0.8, stuckFor = 1.6; // s

double rounded(double value, double step) { return step > 0.0 ? std::round(value / step) * step : value; }

int decimalsOf(double step) {
    int decimals = 0;
    while (decimals < 6 && std::abs(step - std::round(step)) > 1e-9)
        step *= 10.0, ++decimals;
    return decimals;
}

void append(std::string& text, double value, int decimals, char decimal) {
    char digits[40];
    const auto end =
        std::to_chars(digits, digits + sizeof digits, value == 0.0 ? 0.0 : value, std::chars_format::fixed, decimals)
            .ptr;
    for (char* c = digits; c != end; ++c)
        text += *c == '.' ? decimal : *c;
}

// What a sensor shows at a row: its own period, its noise, its step.
class Reader {
public:
    Reader(const Column& column, const Scenario& scenario)
        : column_(column)
        , sensor_(scenario.sensors.*column.sensor)
        , scenario_(scenario) {}

    void write(std::string& text, const SampledSession& session, std::size_t row, Random& random) {
        const Row& r = session.rows[row];
        if (row == 0 || sensor_.period_s <= 0.0 || r.truth.time >= next_) {
            const double truth = column_.value(r), noise = sensor_.noise * random.normal();
            // A sensor of turns counts none while nothing turns.
            const bool still = column_.sensor == &SensorSet::motorSpeed && truth == 0.0;
            shown_ = rounded(adjusted(truth) + (still ? 0.0 : noise), sensor_.step);
            if (column_.sensor == &SensorSet::motorSpeed) shown_ = std::max(0.0, shown_);
            next_ = r.truth.time + sensor_.period_s - 1e-9;
        }
        append(text, troubled(session, row), decimalsOf(sensor_.step), scenario_.text.decimal);
    }

private:
    [[nodiscard]] double adjusted(double value) const {
        if (column_.sensor == &SensorSet::current)
            return (scenario_.currentNegated ? -1.0 : 1.0) * scenario_.currentGain * value + scenario_.currentOffset_A;
        if (column_.sensor == &SensorSet::voltage) return scenario_.voltageGain * value;
        if (column_.sensor == &SensorSet::throttle)
            return value + 100.0 * scenario_.throttleTrim * (1.0 - value / 100.0);
        return value;
    }

    // Planted faults: a voltage of nought in one sample, a motor speed that freezes.
    [[nodiscard]] double troubled(const SampledSession& session, std::size_t row) {
        const double time = session.rows[row].truth.time;
        for (std::size_t p = 0; p < session.line.passes.size(); ++p) {
            const PassTrouble& trouble = troubles_->at(p).trouble;
            const double opens = session.line.passes[p].opens;
            const bool first = row > 0 && session.rows[row - 1].truth.time < opens + trouble.spikeAt &&
                               time >= opens + trouble.spikeAt;
            if (column_.sensor == &SensorSet::voltage && trouble.spikeAt > 0.0 && first) return 0.0;
            const bool stuck =
                trouble.stuckAt > 0.0 && time >= opens + trouble.stuckAt && time < opens + trouble.stuckAt + stuckFor;
            if (column_.sensor == &SensorSet::motorSpeed && stuck) {
                if (!frozen_) frozen_ = shown_;
                return *frozen_;
            }
        }
        frozen_.reset();
        return shown_;
    }

public:
    void begin(const SessionPlan& plan) { troubles_ = &plan.passes; }

private:
    const Column& column_;
    const Sensor& sensor_;
    const Scenario& scenario_;
    const std::vector<PassPlan>* troubles_ = nullptr;
    double shown_ = 0.0, next_ = 0.0;
    std::optional<double> frozen_;
};

} // namespace

const std::vector<Column>& columns() {
    static const std::vector<Column> all{
        {"throttle asked (%)", &SensorSet::throttle, [](const Row& r) { return 100.0 * r.truth.throttle; }},
        {"output given (%)", &SensorSet::output, [](const Row& r) { return 100.0 * r.truth.output; }},
        {"pack voltage (V)", &SensorSet::voltage, [](const Row& r) { return r.truth.voltage; }},
        {"pack current (A)", &SensorSet::current, [](const Row& r) { return r.truth.current; }},
        {"motor current (A)", &SensorSet::motorCurrent, [](const Row& r) { return r.truth.motorCurrent; }},
        {"ripple voltage (V)", &SensorSet::ripple, [](const Row& r) { return r.truth.ripple; }},
        {"motor speed (rpm)", &SensorSet::motorSpeed, [](const Row& r) { return r.truth.motorSpeed; }},
        {"controller temperature (°C)", &SensorSet::controllerTemperature,
         [](const Row& r) { return r.truth.controller; }},
        {"motor temperature (°C)", &SensorSet::motorTemperature, [](const Row& r) { return r.truth.motor; }},
        {"pack temperature (°C)", &SensorSet::packTemperature, [](const Row& r) { return r.truth.pack; }},
        {"receiver voltage (V)", &SensorSet::receiver, [](const Row& r) { return r.receiver; }},
        {"ground speed (m/s)", &SensorSet::speed, [](const Row& r) { return r.truth.speed; }}};
    return all;
}

SampledSession sampleSession(const Scenario& scenario, const SessionPlan& plan, double clockStart, Random& random) {
    SampledSession session;
    session.line = driveSession(plan);
    const double step = 1.0 / scenario.rate_Hz;
    std::size_t from = 0;
    double clock = clockStart, last = -1.0;
    for (std::size_t k = 0; static_cast<double>(k) * step <= session.line.length; ++k) {
        const double time = static_cast<double>(k) * step;
        bool missing = false, restart = false;
        for (std::size_t p = 0; p < session.line.passes.size(); ++p) {
            const double at = plan.passes[p].trouble.restartAt;
            if (at <= 0.0) continue;
            const double since = time - session.line.passes[p].opens - at;
            missing |= since >= 0.0 && since < restartGap;
            restart |= since >= restartGap && since < restartGap + step;
        }
        if (missing) continue;
        if (restart) {
            session.restarts.push_back(session.rows.size());
            clock = scenario.clockStart_s - time; // its clock starts anew
            last = -1.0;
        }
        Row row;
        row.truth = session.line.at(time, from);
        row.stamp = rounded(clock + time + scenario.jitter_s * random.normal(), scenario.stampStep_s);
        if (scenario.equalStamps && k % 2 == 1 && !session.rows.empty() && !restart)
            row.stamp = session.rows.back().stamp;
        row.stamp = std::max(row.stamp, std::max(last, scenario.clockStart_s));
        last = row.stamp;
        row.receiver = receiverSupply;
        if (plan.receiverDip > 0.0 && time >= plan.before_s && time < plan.before_s + dipLength)
            row.receiver = plan.receiverDip;
        session.rows.push_back(row);
    }
    return session;
}

std::string writeText(const Scenario& scenario, const std::vector<SampledSession>& sessions, Random& random) {
    const TextForm& form = scenario.text;
    const std::string end = form.carriageReturn ? "\r\n" : "\n";
    std::string text = form.byteOrderMark ? "\xEF\xBB\xBF" : "";
    text += "# Invented log, no real car: " + scenario.story + end;
    std::vector<Reader> readers;
    text += "clock (s)";
    for (const Column& column : columns()) {
        if (!(scenario.sensors.*column.sensor).present) continue;
        readers.emplace_back(column, scenario);
        text += form.separator + std::string(column.heading);
    }
    text += end;
    const int stampDecimals = decimalsOf(scenario.stampStep_s);
    std::size_t lineStart = text.size();
    for (std::size_t s = 0; s < sessions.size(); ++s) {
        for (Reader& reader : readers)
            reader.begin(scenario.sessions[s]);
        for (std::size_t row = 0; row < sessions[s].rows.size(); ++row) {
            lineStart = text.size();
            append(text, sessions[s].rows[row].stamp, stampDecimals, form.decimal);
            for (Reader& reader : readers) {
                text += form.separator;
                reader.write(text, sessions[s], row, random);
            }
            text += end;
        }
    }
    if (form.endsInTheMiddle) text.resize(lineStart + (text.size() - lineStart) / 2);
    return text;
}

} // namespace rw::generate
