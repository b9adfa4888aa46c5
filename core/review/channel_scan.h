// One pass over a channel that tells what is worth a closer look: range, largest step, spikes, frozen values, block by
// block. Internal to core/review. Cost: one read of the column.
#pragma once

#include "core/log/log.h"
#include "core/review/rows.h"

#include <array>
#include <limits>
#include <span>
#include <vector>

namespace rw::review {

struct ChannelScan {
    static constexpr std::size_t blockRows = 4096;
    struct Block {
        double low = std::numeric_limits<double>::infinity(), high = -std::numeric_limits<double>::infinity();
        double spike = 0.0;  // largest distance of one sample from both neighbours, on the same side
        double step = 0.0;   // largest change between neighbours
        bool frozen = false; // may hold a run of 20 equal values other than 0
    };
    std::vector<Block> blocks;
    double low = std::numeric_limits<double>::infinity(), high = -std::numeric_limits<double>::infinity();

    [[nodiscard]] double span() const { return high > low ? high - low : 0.0; }
    // Rows of a block, of a channel of `count` rows.
    [[nodiscard]] static Rows rowsOf(std::size_t block, std::size_t count) {
        return {block * blockRows, std::min(count, (block + 1) * blockRows) - 1};
    }
};

[[nodiscard]] ChannelScan scanChannel(std::span<const double> values);
[[nodiscard]] std::vector<ChannelScan> scanChannels(const std::vector<std::span<const double>>& channels,
                                                    unsigned threads);

// Of every judged channel, by quantity.
struct ChannelScans {
    std::array<ChannelScan, quantityCount> of;
    [[nodiscard]] const ChannelScan& operator[](Quantity q) const { return of[static_cast<std::size_t>(q)]; }
    [[nodiscard]] ChannelScan& operator[](Quantity q) { return of[static_cast<std::size_t>(q)]; }
};

} // namespace rw::review
