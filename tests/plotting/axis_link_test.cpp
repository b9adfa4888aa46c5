#include "plotting/axis_link.h"

#include <gtest/gtest.h>

#include <cmath>

#include <QSignalSpy>

using rw::AxisLink;
using rw::Range;

TEST(AxisLink, zoomKeepsThePointUnderThePointer) {
    AxisLink link;
    link.setBounds({0.0, 100.0});
    link.zoom(2.0, 25.0);
    EXPECT_EQ(link.range(), (Range{12.5, 62.5})); // 25 stays at a quarter of the way
    link.zoom(0.5, 25.0);
    EXPECT_EQ(link.range(), (Range{0.0, 100.0}));
}

TEST(AxisLink, neverLeavesItsBounds) {
    AxisLink link;
    link.setBounds({0.0, 100.0});
    link.setRange({90.0, 130.0});
    EXPECT_EQ(link.range(), (Range{60.0, 100.0}));
    link.pan(-500.0);
    EXPECT_EQ(link.range(), (Range{0.0, 40.0}));
    link.zoom(1e9, 0.0);
    EXPECT_GE(link.range().span(), 100.0 * 1e-6 * 0.999);
    link.setRange({std::nan(""), 5.0});
    EXPECT_GE(link.range().from, 0.0);
    link.showAll();
    EXPECT_EQ(link.range(), (Range{0.0, 100.0}));
}

TEST(AxisLink, speaksOnlyOfChanges) {
    AxisLink link;
    link.setBounds({0.0, 10.0});
    QSignalSpy ranges(&link, &AxisLink::rangeChanged);
    QSignalSpy cursors(&link, &AxisLink::cursorChanged);
    link.setRange({2.0, 4.0});
    link.setRange({2.0, 4.0});
    link.setCursor(3.0);
    link.setCursor(3.0);
    EXPECT_EQ(ranges.count(), 1);
    EXPECT_EQ(cursors.count(), 1);
}

TEST(AxisLink, hoveringDoesNotMoveAHeldCursor) {
    AxisLink link;
    link.setBounds({0.0, 10.0});
    link.hover(3.0);
    link.setPinned(true);
    link.hover(5.0);
    link.hover(std::nullopt);
    EXPECT_EQ(link.cursor(), 3.0);
    link.setPinned(false);
    link.hover(5.0);
    EXPECT_EQ(link.cursor(), 5.0);
}
