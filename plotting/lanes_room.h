// Where the lines of a lane leave room for words. Private to this room.
#pragma once

#include "plotting/lanes_paint.h"

#include <QRectF>

#include <optional>
#include <vector>

namespace rw {

// Columns a few pixels wide: fine enough for words, and few enough to be looked up in every frame.
[[nodiscard]] PixelColumns wordColumns(const LanesPicture& picture);

class LaneRoom {
public:
    // What the lane's samples, predictions and limits cover.
    LaneRoom(const LanePicture& lane, const PixelColumns& columns);
    void take(const QRectF& place);                            // words that stand there
    [[nodiscard]] bool isFree(const QRectF& place) const;      // within the lane, over no line and no words
    [[nodiscard]] bool isUnwritten(const QRectF& place) const; // within the lane and over no words
    // Of a horizontal line at this height, between two verticals: just above it or just below, as far right as nothing
    // lies under the words; onLines: no other words at least. nullopt: nowhere.
    [[nodiscard]] std::optional<QRectF> beside(double y, QSizeF text, double left, double right,
                                               bool onLines = false) const;

private:
    void addCurve(const LaneTrace& trace, const LanePicture& lane);
    void cover(std::size_t column, double top, double bottom) { covered_[column].add({top, bottom}); }

    QRectF lane_;
    double columnWidth_ = 1.0;
    std::vector<Extent> covered_; // pixels from the top, by column
    std::vector<double> lines_;   // heights of limits
    std::vector<QRectF> taken_;
};

} // namespace rw
