// Hands instants of a running pass to its owner: at a fixed rate, and at events on both sides of a jump.
#pragma once

#include "core/pass/model.h"

namespace rw::pass {

[[nodiscard]] Instant instantOf(const Model& model, double time, const State& y, const Regime& regime,
                                const Solution& s, Phase phase, bool cutoffActed);

class Trace {
public:
    Trace(const InstantSink& sink, double rate)
        : sink_(sink)
        , rate_(rate) {}
    [[nodiscard]] bool wanted() const { return static_cast<bool>(sink_); }
    // Next regular time after what was given so far.
    [[nodiscard]] double nextTime() const { return static_cast<double>(next_) / rate_; }
    void regular(const Instant& instant) {
        sink_(instant);
        ++next_;
    }
    // An event; a regular time that coincides with it is not given again.
    void event(const Instant& instant) {
        sink_(instant);
        while (nextTime() <= instant.time)
            ++next_;
    }

private:
    const InstantSink& sink_;
    double rate_;
    long long next_ = 0;
};

} // namespace rw::pass
