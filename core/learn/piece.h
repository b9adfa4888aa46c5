// One pass of a log as a piece of the day: how it was driven, what was read, where it starts. Internal to core/learn.
#pragma once

#include "core/learn/day.h"

#include <string>

namespace rw::learning {

// Of the rows' times, s; 0.02 where none is above 0.
[[nodiscard]] double medianInterval(std::span<const double> time, std::size_t first, std::size_t last);

class PieceCutter {
public:
    PieceCutter(const LearnLog& log, const LearnOptions& options, Day& day);
    // Adds the pass to the day; else why not.
    [[nodiscard]] std::string cut(const PassRef& ref, bool reverse);

private:
    struct Span {
        std::size_t closed = 0, open = 0, last = 0,
                    end = 0; // rows: last closed, first open, last open, end of the piece
    };
    [[nodiscard]] double stepOf(Quantity quantity) const;                 // that it is rounded to, SI
    [[nodiscard]] double value(Quantity quantity, std::size_t row) const; // NaN where missing or faulty; °C
    [[nodiscard]] bool has(Quantity quantity) const { return !values_[static_cast<std::size_t>(quantity)].empty(); }
    [[nodiscard]] double signal(std::size_t row) const; // what drives: output, throttle, else the current's share
    [[nodiscard]] std::size_t firstOpen(const ReviewPass& pass) const;
    [[nodiscard]] std::size_t closedRow(const ReviewPass& pass) const;
    [[nodiscard]] std::string findSpan(const PassRef& ref, Span& span, bool& drivenOn) const;
    [[nodiscard]] bool fillDriven(Piece& piece, const Span& span) const; // false: too few rows
    void fillOpening(Driven& driven, const Span& span) const;            // rows become lines here
    void fillRolling(Piece& piece, const Span& span) const;
    void fillReadings(Piece& piece, const Span& span) const;
    [[nodiscard]] double rowNoise(Quantity quantity, std::size_t first, std::size_t last, bool held) const;
    [[nodiscard]] bool isHeld(Quantity quantity, const Span& span) const;
    void leaveOut(Piece& piece, const Span& span) const;
    [[nodiscard]] StartPrior startBefore(const ReviewPass& pass, std::size_t row) const;
    void chooseDrive(Piece& piece, const Span& span) const;
    void chooseBraking(Piece& piece) const;

    const LearnLog& log_;
    const LearnOptions& options_;
    Day& day_;
    std::span<const double> time_;
    std::array<std::vector<double>, quantityCount> values_; // faulty spans made missing
    std::optional<std::size_t> before_;                     // row where the piece before ended at rest
};

} // namespace rw::learning
