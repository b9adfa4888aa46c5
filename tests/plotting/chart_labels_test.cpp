#include "plotting/chart_labels.h"

#include <gtest/gtest.h>

#include <cmath>

TEST(Crowding, countsWhatALabelWouldCover) {
    rw::Crowding crowding(QRectF(0, 0, 200, 100));
    crowding.addLine({{0, 50}, {200, 50}});
    EXPECT_EQ(crowding.cost(QRectF(20, 60, 40, 20)), 0.0);
    EXPECT_GT(crowding.cost(QRectF(20, 40, 40, 20)), 5.0);
    EXPECT_GT(crowding.cost(QRectF(190, 60, 40, 20)), 10.0) << "outside is worse than a line";
}

TEST(PlaceBeside, findsRoomNextToItsOwnLineAndOffTheOthers) {
    rw::Crowding crowding(QRectF(0, 0, 300, 200));
    const QPolygonF own{{0, 100}, {300, 100}};
    crowding.addLine(own);
    crowding.addLine({{0, 90}, {300, 90}});
    const auto placed = rw::placeBeside(crowding, own, {60, 14}, {});
    ASSERT_TRUE(placed.has_value());
    EXPECT_GT(placed->rect.top(), 100.0) << "below: above lies the other line";
    EXPECT_LT(placed->rect.top(), 115.0);
    EXPECT_FALSE(rw::placeBeside(crowding, {{500, 10}, {600, 10}}, {60, 14}, {}).has_value());
}

TEST(Crowding, missingPointsAreNowhere) {
    const double none = std::nan("");
    rw::Crowding crowding(QRectF(0, 0, 200, 100));
    const QPolygonF line{{0, 50}, {none, none}, {100, none}, {200, 50}};
    crowding.addLine(line);
    EXPECT_EQ(crowding.cost(QRectF(0, 0, 200, 100)), 0.0);
    EXPECT_EQ(crowding.linesAt({none, 10.0}), 0);
    EXPECT_TRUE(rw::placeBeside(crowding, line, {60, 14}, {}).has_value());
}

TEST(PlaceNearCursor, turnsToTheOtherSideAtTheEdge) {
    const rw::Crowding crowding(QRectF(0, 0, 300, 200));
    EXPECT_GT(rw::placeNearCursor(crowding, 100, {80, 40}).rect.left(), 100.0);
    EXPECT_LT(rw::placeNearCursor(crowding, 280, {80, 40}).rect.right(), 280.0);
}

TEST(PlaceNearCursor, aPlotSqueezedToNothingHasNoInside) {
    rw::Crowding crowding(QRectF(30, 20, -5, -8));
    crowding.addLine({{0, 0}, {100, 100}});
    EXPECT_GT(crowding.cost(QRectF(0, 0, 8, 8)), 0.0);
}
