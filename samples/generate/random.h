// Random numbers that are the same on every machine: the engine of the standard, conversions of our own.
#pragma once

#include <cstdint>
#include <random>

namespace rw::generate {

class Random {
public:
    explicit Random(std::uint64_t seed)
        : engine_(seed) {}
    [[nodiscard]] double uniform() { return static_cast<double>(engine_() >> 11) * 0x1.0p-53; } // [0, 1)
    [[nodiscard]] double between(double low, double high) { return low + (high - low) * uniform(); }
    [[nodiscard]] int whole(int low, int high) { return low + static_cast<int>(uniform() * (high - low + 1)); }
    [[nodiscard]] bool chance(double p) { return uniform() < p; }
    // Near enough normal: twelve uniform numbers, which need no function that differs between machines. Never beyond 6.
    [[nodiscard]] double normal() {
        double sum = -6.0;
        for (int i = 0; i < 12; ++i)
            sum += uniform();
        return sum;
    }

private:
    std::mt19937_64 engine_;
};

} // namespace rw::generate
