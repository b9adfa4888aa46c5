#include "core/review/channel_scan.h"

#include "core/parallel.h"

#include <cmath>

namespace rw::review {

namespace {

constexpr std::size_t lanes = 4;         // independent chains: the latency of min and max would be the cost otherwise
constexpr std::size_t frozenStride = 10; // a run of 20 equal values holds two rows of this grid

void takeRange(const double* v, std::size_t first, std::size_t last, ChannelScan::Block& block) {
    double low[lanes], high[lanes];
    std::fill(low, low + lanes, block.low);
    std::fill(high, high + lanes, block.high);
    std::size_t i = first;
    for (; i + lanes <= last + 1; i += lanes)
        for (std::size_t k = 0; k < lanes; ++k) {
            low[k] = v[i + k] < low[k] ? v[i + k] : low[k];
            high[k] = v[i + k] > high[k] ? v[i + k] : high[k];
        }
    for (; i <= last; ++i) {
        low[0] = v[i] < low[0] ? v[i] : low[0];
        high[0] = v[i] > high[0] ? v[i] : high[0];
    }
    block.low = *std::min_element(low, low + lanes);
    block.high = *std::max_element(high, high + lanes);
}

// Rows first…last all have both neighbours. Written so that the compiler takes several rows at once.
void takeSteps(const double* v, std::size_t first, std::size_t last, ChannelScan::Block& block) {
    double spike[lanes] = {}, step[lanes] = {}, change[ChannelScan::blockRows + 1];
    const std::size_t count = last - first + 1;
    for (std::size_t i = 0; i <= count; ++i)
        change[i] = v[first + i] - v[first + i - 1];
    const auto look = [&](std::size_t i, std::size_t k) {
        const double a = std::abs(change[i]), b = std::abs(change[i + 1]), nearer = a < b ? a : b;
        const double off = change[i] * change[i + 1] < 0.0 ? nearer : 0.0;
        spike[k] = off > spike[k] ? off : spike[k];
        step[k] = a > step[k] ? a : step[k];
    };
    std::size_t i = 0;
    for (; i + lanes <= count; i += lanes)
        for (std::size_t k = 0; k < lanes; ++k)
            look(i + k, k);
    for (; i < count; ++i)
        look(i, 0);
    block.spike = *std::max_element(spike, spike + lanes);
    block.step = std::max(*std::max_element(step, step + lanes), std::abs(change[count]));
    if (std::isnan(block.step)) block.step = *std::max_element(step, step + lanes);
}

} // namespace

ChannelScan scanChannel(std::span<const double> values) {
    ChannelScan scan;
    const std::size_t count = values.size();
    if (count == 0) return scan;
    const double* v = values.data();
    scan.blocks.resize((count + ChannelScan::blockRows - 1) / ChannelScan::blockRows);
    for (std::size_t b = 0; b < scan.blocks.size(); ++b) {
        ChannelScan::Block& block = scan.blocks[b];
        const Rows rows = ChannelScan::rowsOf(b, count);
        takeRange(v, rows.first, rows.last, block);
        const std::size_t first = std::max<std::size_t>(rows.first, 1), last = std::min(rows.last, count - 2);
        if (count >= 3 && first <= last) takeSteps(v, first, last, block);
        for (std::size_t i = (rows.first + frozenStride - 1) / frozenStride * frozenStride;
             i <= rows.last && i + frozenStride < count; i += frozenStride)
            block.frozen |= v[i] == v[i + frozenStride] && v[i] != 0.0;
        scan.low = std::min(scan.low, block.low);
        scan.high = std::max(scan.high, block.high);
    }
    return scan;
}

std::vector<ChannelScan> scanChannels(const std::vector<std::span<const double>>& channels, unsigned threads) {
    std::vector<ChannelScan> scans(channels.size());
    parallelFor(threads, channels.size(), [&](std::size_t i, bool) { scans[i] = scanChannel(channels[i]); });
    return scans;
}

} // namespace rw::review
