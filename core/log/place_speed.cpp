
#include "core/log/channel_finish.h"
#include "core/log/gps.h"
#include "core/log/integrals.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>
#include <utility>

namespace rw {
namespace {

constexpr double standstill = 1.5; // median intervals without another place: the car stands, the receiver goes on

class PlaceSpeed {
public:
    explicit PlaceSpeed(Log& log)
        : log_(log)
        , latitude_(log[Quantity::Latitude].values)
        , longitude_(log[Quantity::Longitude].values) {}

    void work() {
        interval_ = medianStep(timesOfChange());
        if (interval_ <= 0.0) return;
        speed_.assign(log_.rows(), std::numeric_limits<double>::quiet_NaN());
        std::size_t from = 0;
        for (const RowMark& mark : log_.marks)
            stretch(std::exchange(from, mark.row), mark.row);
        stretch(from, log_.rows());
        if (places_ == 0) return;
        Channel& channel = log_[Quantity::Speed];
        channel.values = std::move(speed_);
        channel.confidence = std::min(log_[Quantity::Latitude].confidence, log_[Quantity::Longitude].confidence);
        finishChannel(channel, log_.time, log_.marks);
        say();
    }

private:
    [[nodiscard]] bool isPlace(std::size_t row) const {
        const double latitude = latitude_[row], longitude = longitude_[row];
        return std::abs(latitude) <= 90.0 && std::abs(longitude) <= 180.0 && (latitude != 0.0 || longitude != 0.0);
    }
    [[nodiscard]] bool same(std::size_t a, std::size_t b) const {
        return latitude_[a] == latitude_[b] && longitude_[a] == longitude_[b];
    }

    [[nodiscard]] std::vector<double> timesOfChange() const {
        std::vector<double> times;
        for (std::size_t row = 1; row < log_.rows(); ++row)
            if (isPlace(row) && isPlace(row - 1) && !same(row, row - 1)) times.push_back(log_.time[row]);
        return times;
    }

    // The rows of one session, cut further where a place is missing or the time steps back.
    void stretch(std::size_t from, std::size_t to) {
        fixes_.clear();
        rows_.clear();
        for (std::size_t row = from; row < to; ++row) {
            if (!isPlace(row)) {
                flush();
                continue;
            }
            const double time = log_.time[row];
            if (!rows_.empty() && time < fixes_.back().time) flush();
            if (!rows_.empty() && (time == fixes_.back().time ||
                                   (same(row, rows_.back()) && time - fixes_.back().time < standstill * interval_)))
                continue;
            GpsFix fix;
            fix.time = time;
            fix.latitude = latitude_[row];
            fix.longitude = longitude_[row];
            fixes_.push_back(fix);
            rows_.push_back(row);
        }
        flush();
    }

    void flush() {
        places_ += speedsFromPlaces(fixes_);
        for (std::size_t i = 0; i < rows_.size(); ++i)
            speed_[rows_[i]] = fixes_[i].speed;
        fixes_.clear();
        rows_.clear();
    }

    void say() {
        // WGS84, NIMA TR8350.2: a degree of latitude is 110.6 to 111.7 km long.
        constexpr double metresInDegree = 111'000.0;
        constexpr double roughSpeed = 0.5; // m/s
        log_.notes.push_back(
            fmt::format("Speed over ground is worked out from latitude and longitude, {} places, one every {:.3g} s; "
                        "the log has no column of speed.",
                        places_, interval_));
        const double step = metresInDegree * std::max(log_[Quantity::Latitude].step, log_[Quantity::Longitude].step);
        if (step / (2.0 * interval_) < roughSpeed) return;
        log_.notes.push_back(
            fmt::format("Places are written in steps of {:.2g} m: a speed between two of them is good to {:.2g} m/s.",
                        step, step / (2.0 * interval_)));
    }

    Log& log_;
    const std::vector<double>&latitude_, &longitude_;
    double interval_ = 0.0; // s between places
    std::vector<double> speed_;
    std::vector<GpsFix> fixes_;
    std::vector<std::size_t> rows_; // of the fixes
    std::size_t places_ = 0;
};

} // namespace

void addSpeedFromPlaces(Log& log) {
    if (log[Quantity::Speed].present() || !log[Quantity::Latitude].present() || !log[Quantity::Longitude].present())
        return;
    PlaceSpeed(log).work();
}

} // namespace rw
