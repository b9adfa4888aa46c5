#include "samples/generate/truth.h"

#include "core/pass/pass.h"
#include "core/plan/plan.h"

#include <algorithm>
#include <cmath>

namespace rw::generate {

namespace {

// A figure against a threshold that it should be over: surely, perhaps, or surely not.
struct Verdict {
    bool found = false, certain = true;
};
Verdict over(double value, double threshold, double doubt) {
    return {value > threshold - doubt, std::abs(value - threshold) > doubt};
}

class Teller {
public:
    Teller(const Scenario& scenario, const SampledSession& session, std::size_t index, bool lastSession,
           GeneratedLog& log)
        : scenario_(scenario)
        , plan_(scenario.sessions[index])
        , session_(session)
        , index_(index)
        , lastSession_(lastSession)
        , log_(log) {}

    void tell() {
        const std::size_t first = log_.passes.size();
        for (std::size_t p = 0; p < session_.line.passes.size(); ++p)
            tellPass(p);
        tellSession(first);
    }

private:
    void add(const char* id, Verdict verdict, std::optional<std::size_t> pass) {
        if (verdict.found) log_.findings.push_back({id, index_, pass, verdict.certain});
    }
    void maybe(const char* id, std::optional<std::size_t> pass) { add(id, {true, false}, pass); }

    [[nodiscard]] const SensorSet& sensors() const { return scenario_.sensors; }
    [[nodiscard]] double step() const { return 1.0 / scenario_.rate_Hz; }

    // A plan is the first session's; a pack that is colder or warmer than that one, and not measured, is off it.
    [[nodiscard]] bool packIsNotAsPlanned() const {
        constexpr double alike = 1.0; // K
        const auto start = [](const SessionPlan& session) { return startState(session.plan).pack; };
        return !sensors().packTemperature.present && std::abs(start(plan_) - start(scenario_.sessions.front())) > alike;
    }

    template<class Value>
    [[nodiscard]] double largest(double from, double to, Value value) const {
        double most = -1e300;
        for (const Row& row : session_.rows)
            if (row.truth.time >= from && row.truth.time <= to) most = std::max(most, value(row.truth));
        return most;
    }

    void tellPass(std::size_t p) {
        const DrivenPass& pass = session_.line.passes[p];
        const PassTrouble& trouble = plan_.passes[p].trouble;
        const double end = trouble.powerLostAt > 0.0 ? pass.opens + trouble.powerLostAt : pass.closes;
        const auto within = [&](auto value) { return largest(pass.opens, std::min(end, pass.closes), value); };
        const std::size_t number = log_.passes.size();
        TruePass told;
        told.session = index_;
        told.start_s = pass.pedalMoves;
        told.end_s = end;
        told.minVoltage_V = -within([](const Moment& m) { return -m.voltage; });
        told.peakCurrent_A = within([](const Moment& m) { return m.current; });
        told.motorPeak_rpm = within([](const Moment& m) { return m.motorSpeed; });
        told.motorMax_C = within([](const Moment& m) { return m.motor; });
        log_.passes.push_back(told);
        if (trouble.restartAt > 0.0) { // the pass breaks off, and what is left of it may be one of its own
            log_.passes.back().end_s = pass.opens + trouble.restartAt;
            add("controller-restarted", {true, true}, number);
        }
        tellVoltage(p, number, told);
        tellHeat(p, number);
        tellPower(p, number, told);
        if (trouble.airborneAt > 0.0) add("wheels-unloaded", {true, true}, number);
        if (trouble.spikeAt > 0.0) add("sensor-fault", {true, true}, number);
        if (trouble.stuckAt > 0.0) add("sensor-fault", {true, true}, number);
        if (trouble.lift < 1.0) add("lifted-early", {true, trouble.lift < 0.95}, number);
        if (trouble.airborneAt > 0.0 || trouble.spikeAt > 0.0 || trouble.stuckAt > 0.0 || trouble.lift < 1.0 ||
            trouble.outputCeiling < 1.0 || trouble.restartAt > 0.0 || trouble.heldThrottle > 0.0 ||
            packIsNotAsPlanned())
            maybe("off-plan", number);
    }

    void tellVoltage(std::size_t p, std::size_t number, const TruePass& told) {
        const int cells = plan_.plan.pack.series;
        const double noise = (3.0 * sensors().voltage.noise + sensors().voltage.step) / cells;
        add("sag-deep", over(-told.minVoltage_V / cells, -3.2, noise + 0.015), number);
        if (sensors().packTemperature.present && -told.minVoltage_V / cells > -3.2 - noise) {
            Verdict cold = over(-session_.line.passes[p].start.pack, -20.0, 0.5);
            cold.certain = cold.certain && told.minVoltage_V / cells < 3.2 - noise - 0.015;
            add("cold-pack", cold, number);
        }
        // A cutoff acts by the limit that bound, or by a voltage that only just stays above it.
        const auto& cutoff = plan_.plan.controller.cutoff;
        if (cutoff.mode == CutoffMode::Off) return;
        const double bound = session_.line.passes[p].boundByCutoff, above = told.minVoltage_V / cells - *cutoff.cell_V;
        if (bound > 0.0 || above < noise + 0.1) add("cutoff-acted", {true, bound > 0.6 + 4.0 * step()}, number);
        if (bound > 0.0) {
            maybe("off-plan", number);
            maybe("output-below-full", number);
            maybe("throttle-slow", number);
        }
    }

    void tellHeat(std::size_t p, std::size_t number) {
        const DrivenPass& pass = session_.line.passes[p];
        const double until =
            p + 1 < session_.line.passes.size() ? session_.line.passes[p + 1].opens : session_.line.length;
        const auto hottest = [&](double Moment::*part) {
            return largest(pass.opens, until, [&](const Moment& m) { return m.*part; });
        };
        struct Part {
            const char* id;
            double Moment::*part;
            Sensor SensorSet::*sensor;
            double comfort;
        };
        const PlanInput& plan = plan_.plan;
        for (const Part& part :
             {Part{"motor-hot", &Moment::motor, &SensorSet::motorTemperature, plan.motor.comfort_C},
              Part{"controller-hot", &Moment::controller, &SensorSet::controllerTemperature, plan.controller.comfort_C},
              Part{"pack-hot", &Moment::pack, &SensorSet::packTemperature, plan.pack.comfort_C}}) {
            const Sensor& sensor = sensors().*part.sensor;
            if (!sensor.present) continue;
            Verdict hot = over(hottest(part.part), part.comfort, 4.0 * sensor.noise + sensor.step + 0.5);
            // The peak of soak may lie beyond the log's end and be predicted.
            if (part.part == &Moment::motor && !hot.found &&
                soakPeak(pass.setup, pass.result.end).temperature > part.comfort - 6.0)
                hot = {true, false};
            add(part.id, hot, number);
            if (hottest(part.part) > part.comfort - 1.0) maybe("heat-limited", number);
        }
    }

    void tellPower(std::size_t p, std::size_t number, const TruePass& told) {
        const DrivenPass& pass = session_.line.passes[p];
        const PassTrouble& trouble = plan_.passes[p].trouble;
        const PlanInput& plan = plan_.plan;
        if (sensors().output.present && trouble.outputCeiling < 0.985) add("output-below-full", {true, true}, number);
        if (pass.boundByCurrent > 0.0) {
            add("current-limited", {true, pass.boundByCurrent > 1.2}, number);
            maybe("throttle-slow", number);
            maybe("output-below-full", number);
        }
        if (pass.boundByTraction > 0.05)
            for (const char* id : {"current-limited", "output-below-full", "throttle-slow", "heat-limited"})
                maybe(id, number);
        constexpr double share = 0.8; // of a straight ramp lies between 10 and 90 %
        Verdict slow = over(share * (1.0 - trouble.heldThrottle) * plan.drive.throttle_ramp_s, 1.5, 0.1 + 2.0 * step());
        slow.certain = slow.certain && pass.boundByCutoff <= 0.0; // where the cutoff acts a rise is not judged
        add("throttle-slow", slow, number);
        const auto rating = [&](std::optional<double> rate) { return rate ? *rate * plan.pack.capacity_Ah : 1e300; };
        const double noise = 4.0 * sensors().current.noise + sensors().current.step;
        if (sensors().current.present) {
            const double allowed = rating(plan.pack.continuous_c_rate);
            add("pack-current-over", over(told.peakCurrent_A, allowed, noise + 0.01 * allowed), number);
            const double motor = sensors().motorCurrent.present ? pass.result.peakMotorCurrent : told.peakCurrent_A,
                         carries = plan.controller.continuous_A.value_or(1e300);
            add("controller-current-over", over(motor, carries, noise + 0.02 * carries), number);
        }
        if (sensors().ripple.present) {
            const double most = largest(pass.opens, pass.closes, [](const Moment& m) { return m.ripple / m.voltage; });
            add("ripple-high", over(most, 0.05, 0.006), number);
        }
        if (plan.motor.max_speed_rpm)
            add("motor-overspeed",
                over(told.motorPeak_rpm, *plan.motor.max_speed_rpm, 0.01 * *plan.motor.max_speed_rpm), number);
    }

    void tellSession(std::size_t firstPass) {
        TrueSession told;
        told.startRow = 0;
        for (const auto& before : log_.sessions)
            told.startRow = before.endRow + 1;
        told.endRow = told.startRow + session_.rows.size() - 1;
        told.cells = plan_.plan.pack.series;
        log_.sessions.push_back(told);
        if (plan_.receiverDip > 0.0) add("receiver-low", {true, true}, std::nullopt);
        if (session_.line.passes.empty()) return;
        const int cells = told.cells;
        const auto resting = [&](double time) {
            std::size_t from = 0;
            return session_.line.at(time, from).voltage / cells;
        };
        add("start-charge-low", over(-resting(session_.line.passes.front().opens - 0.2), -4.0, 0.02), firstPass);
        const bool cut = plan_.passes.back().trouble.powerLostAt > 0.0;
        if (!cut) add("left-empty", over(-resting(session_.line.length), -3.5, 0.02), std::nullopt);
        const double rise = 0.8 * plan_.plan.drive.throttle_ramp_s * scenario_.rate_Hz;
        Verdict few = over(-rise, -5.0, 1.0), slow = over(-scenario_.rate_Hz, -8.0, 0.5);
        if (few.found || slow.found)
            add("sampled-too-slowly", {true, (few.found && few.certain) || (slow.found && slow.certain)}, std::nullopt);
        tellClimb(firstPass);
        tellEnd();
    }

    void tellClimb(std::size_t firstPass) {
        const auto& passes = session_.line.passes;
        bool found = false, certain = false;
        std::size_t last = 0;
        for (double Moment::*part : {&Moment::motor, &Moment::controller, &Moment::pack}) {
            const Sensor& sensor = part == &Moment::motor        ? sensors().motorTemperature
                                   : part == &Moment::controller ? sensors().controllerTemperature
                                                                 : sensors().packTemperature;
            if (!sensor.present) continue;
            const auto start = [&](std::size_t p) {
                std::size_t from = 0;
                return session_.line.at(passes[p].opens, from).*part;
            };
            const double doubt = 5.0 * sensor.noise + sensor.step + 0.3;
            for (std::size_t p = 1; p < passes.size(); ++p) {
                const double rise = start(p) - start(p - 1), before = p >= 2 ? start(p - 1) - start(p - 2) : -1.0;
                const Verdict two = over(rise, 10.0, doubt), three = over(std::min(rise, before), 3.0, doubt);
                if (two.found || three.found) found = true, last = p;
                certain |= (two.found && two.certain) || (three.found && three.certain);
            }
        }
        if (found) add("heat-accumulates", {true, certain}, firstPass + last);
    }

    void tellEnd() {
        if (!lastSession_) return;
        const DrivenPass& pass = session_.line.passes.back();
        const PassTrouble& trouble = plan_.passes.back().trouble;
        const double left = trouble.powerLostAt > 0.0 ? 0.0 : session_.line.length - pass.closes;
        if (left > 20.5) return;
        const std::size_t number = log_.passes.size() - 1;
        // Still rising beyond what the sensor's step and noise hide, or surely not, or in between.
        const Sensor& sensor = sensors().motorTemperature;
        std::size_t from = 0;
        const double since = trouble.powerLostAt > 0.0 ? pass.opens : pass.closes, end = session_.line.length;
        const double begun = session_.line.at(since, from).motor, before = session_.line.at(end - 2.0, from).motor,
                     now = session_.line.at(end, from).motor;
        const bool rises = sensor.present && now - begun > sensor.step + 5.0 * sensor.noise + 0.5 &&
                           (now - before > 0.1 || left < 2.0);
        add("log-ends-early", {true, left < 19.0 && rises}, number);
    }

    const Scenario& scenario_;
    const SessionPlan& plan_;
    const SampledSession& session_;
    std::size_t index_;
    bool lastSession_;
    GeneratedLog& log_;
};

} // namespace

void tellTruth(const Scenario& scenario, const std::vector<SampledSession>& sessions, GeneratedLog& log) {
    for (std::size_t s = 0; s < sessions.size(); ++s)
        Teller(scenario, sessions[s], s, s + 1 == sessions.size(), log).tell();
}

} // namespace rw::generate
