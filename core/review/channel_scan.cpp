#include "core/review/channel_scan.h"

#include <atomic>
#include <cmath>
#include <thread>

namespace rw::review {

namespace {

constexpr std::size_t lanes = 4;          // independent chains: the latency of min and max would be the cost otherwise
constexpr std::size_t frozenStride = 10;  // a run of 20 equal values holds two rows of this grid

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

// Rows first…last all have both neighbours.
void takeSteps(const double* v, std::size_t first, std::size_t last, ChannelScan::Block& block) {
    double spike[lanes] = {}, step[lanes] = {};
    const auto look = [&](std::size_t i, std::size_t k) {
        const double before = v[i] - v[i - 1], after = v[i] - v[i + 1];
        const double a = std::abs(before), b = std::abs(after);
        const double off = before * after > 0.0 ? (a < b ? a : b) : 0.0;
        spike[k] = off > spike[k] ? off : spike[k];
        step[k] = a > step[k] ? a : step[k];
        step[k] = b > step[k] ? b : step[k];
    };
    std::size_t i = first;
    for (; i + lanes <= last + 1; i += lanes)
        for (std::size_t k = 0; k < lanes; ++k) look(i + k, k);
    for (; i <= last; ++i) look(i, 0);
    block.spike = *std::max_element(spike, spike + lanes);
    block.step = *std::max_element(step, step + lanes);
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
        for (std::size_t i = (rows.first + frozenStride - 1) / frozenStride * frozenStride; i <= rows.last && i + frozenStride < count;
             i += frozenStride)
            block.frozen |= v[i] == v[i + frozenStride] && v[i] != 0.0;
        scan.low = std::min(scan.low, block.low);
        scan.high = std::max(scan.high, block.high);
    }
    return scan;
}

std::vector<ChannelScan> scanChannels(const std::vector<std::span<const double>>& channels) {
    std::vector<ChannelScan> scans(channels.size());
    std::size_t rows = 0;
    for (const auto& channel : channels) rows = std::max(rows, channel.size());
    std::atomic<std::size_t> next{0};
    const auto work = [&] {
        for (std::size_t i = next++; i < channels.size(); i = next++) scans[i] = scanChannel(channels[i]);
    };
    constexpr std::size_t worthAThread = 50'000;  // rows; starting one costs what some thousand rows cost
    if (rows < worthAThread || std::thread::hardware_concurrency() < 2) {
        work();
    } else {
        std::jthread second(work);
        work();
    }
    return scans;
}

} // namespace rw::review
