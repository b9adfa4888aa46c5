#include "core/learn/drive_line.h"

#include <algorithm>
#include <cmath>

namespace rw::learning {

namespace {

struct Line {
    std::size_t first = 0, last = 0; // rows
    double time = 0.0, level = 0.0, slope = 0.0;
    [[nodiscard]] double at(double t) const { return level + slope * (t - time); }
};

Line lineOf(const std::vector<DriveRow>& rows, std::size_t first, std::size_t last) {
    Line out{first, last, 0.0, 0.0, 0.0};
    const auto n = static_cast<double>(last - first + 1);
    for (std::size_t i = first; i <= last; ++i)
        out.time += rows[i].time / n, out.level += rows[i].ask / n;
    double tt = 0.0, ty = 0.0;
    for (std::size_t i = first; i <= last; ++i) {
        const double t = rows[i].time - out.time;
        tt += t * t, ty += t * (rows[i].ask - out.level);
    }
    bool flat = true; // exactly: full output does not chop, a hair less does
    for (std::size_t i = first; i <= last && flat; ++i)
        flat = rows[i].ask == rows[first].ask;
    if (flat)
        out.level = rows[first].ask;
    else if (tt > 0.0)
        out.slope = ty / tt;
    return out;
}

bool follows(const std::vector<DriveRow>& rows, const Line& line, double most) {
    for (std::size_t i = line.first; i <= line.last; ++i)
        if (std::abs(rows[i].ask - line.at(rows[i].time)) > most) return false;
    return true;
}

// The longest from a row on, by doubling and halving.
Line longestFrom(const std::vector<DriveRow>& rows, std::size_t first, double most) {
    std::size_t good = std::min(first + 1, rows.size() - 1), length = 2;
    std::size_t bad = rows.size();
    while (first + length < rows.size()) {
        if (!follows(rows, lineOf(rows, first, first + length), most)) {
            bad = first + length;
            break;
        }
        good = first + length;
        length *= 2;
    }
    if (bad == rows.size() && good + 1 < bad && follows(rows, lineOf(rows, first, bad - 1), most)) good = bad - 1;
    while (good + 1 < bad) {
        const std::size_t middle = good + (bad - good) / 2;
        (follows(rows, lineOf(rows, first, middle), most) ? good : bad) = middle;
    }
    return lineOf(rows, first, good);
}

// Where two neighbours cross, if that is between the rows beside their border.
bool cross(const std::vector<DriveRow>& rows, const Line& a, const Line& b, std::size_t beside, double& time) {
    if (a.last == a.first || b.last == b.first || a.slope == b.slope) return false;
    time = (a.level - a.slope * a.time - b.level + b.slope * b.time) / (b.slope - a.slope);
    const std::size_t from = a.last - std::min(a.last - a.first, beside);
    return time >= rows[from].time && time <= rows[std::min(b.last, b.first + beside)].time;
}

// A line drawn as long as it goes takes in rows beyond the corner: they are given to whom they belong.
void settleBorders(const std::vector<DriveRow>& rows, std::vector<Line>& lines) {
    constexpr int rounds = 3;
    constexpr std::size_t few = 8;
    for (int round = 0; round < rounds; ++round)
        for (std::size_t k = 0; k + 1 < lines.size(); ++k) {
            double time = 0.0;
            if (!cross(rows, lines[k], lines[k + 1], few, time)) continue;
            std::size_t last = lines[k].first + 1;
            while (last + 2 < lines[k + 1].last && rows[last + 1].time <= time)
                ++last;
            if (last == lines[k].last || last + 2 > lines[k + 1].last) continue;
            lines[k] = lineOf(rows, lines[k].first, last);
            lines[k + 1] = lineOf(rows, last + 1, lines[k + 1].last);
        }
}

} // namespace

DriveLine drawnThrough(const std::vector<DriveRow>& rows, double closeness) {
    std::vector<Line> lines;
    for (std::size_t i = 0; i < rows.size(); i = lines.back().last + 1)
        lines.push_back(longestFrom(rows, i, closeness));
    settleBorders(rows, lines);
    DriveLine out;
    if (lines.empty()) return out;
    const auto add = [&out](double time, double ask) {
        const double before = out.knots.empty() ? time : out.knots.back().time;
        out.knots.push_back({std::max(time, before), ask});
    };
    out.rows = lines.front().last + 1;
    out.slope = lines.front().slope;
    add(rows.front().time, lines.front().at(rows.front().time));
    for (std::size_t k = 0; k + 1 < lines.size(); ++k) {
        const Line &a = lines[k], &b = lines[k + 1];
        double time = 0.0;
        if (cross(rows, a, b, 1, time) && time >= out.knots.back().time) {
            add(time, b.slope == 0.0 ? b.level : a.at(time));
            continue;
        }
        add(rows[a.last].time, a.at(rows[a.last].time));
        add(rows[b.first].time, b.at(rows[b.first].time));
    }
    add(rows.back().time, lines.back().at(rows.back().time));
    return out;
}

} // namespace rw::learning
