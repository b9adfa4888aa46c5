#include "app/desktop/review/review_edit.h"
#include "app/desktop/review/review_units.h"
#include "app/desktop/review/review_workspace.h"
#include "app/desktop/review/saying_dialogs.h"
#include "app/desktop/review/session_ribbon.h"

#include <gmock/gmock.h>

#include <QDir>
#include <QTemporaryDir>

using testing::ElementsAre;

TEST(RibbonScale, mapsTimesAndPixelsBothWaysAndShortensLongGaps) {
    const rw::RibbonScale scale({{0.0, 100.0}, {4000.0, 4200.0}}, {0.0, 600.0});
    for (const double t : {0.0, 40.0, 100.0, 4000.0, 4123.0, 4200.0})
        EXPECT_NEAR(scale.timeOf(scale.pixelOf(t)), t, 1e-6);
    ASSERT_EQ(scale.blocks().size(), 2U);
    EXPECT_NEAR(scale.blocks()[1].span() / scale.blocks()[0].span(), 2.0, 1e-9) << "blocks are as wide as they last";
    EXPECT_NEAR(scale.blocks()[1].from - scale.blocks()[0].to, 50.0, 1e-9)
        << "an hour is drawn as a twelfth of the width";
    EXPECT_NEAR(scale.blocks()[1].to, 600.0, 1e-9);
    EXPECT_EQ(scale.blockAt(10.0), 0U);
    EXPECT_FALSE(scale.blockAt(scale.blocks()[0].to + 20.0).has_value());
    EXPECT_EQ(rw::RibbonScale().blocks().size(), 0U);
}

TEST(RibbonScale, ashortGapKeepsItsLength) {
    const rw::RibbonScale scale({{0.0, 100.0}, {110.0, 210.0}}, {0.0, 600.0});
    EXPECT_LT(scale.blocks()[1].from - scale.blocks()[0].to, 50.0);
    EXPECT_GE(scale.blocks()[1].from - scale.blocks()[0].to, 12.0);
}

TEST(ReviewEdit, movingAMovedSessionAgainIsOneCorrection) {
    rw::ReviewEdits edits = rw::withMovedSession({}, 3001, 2950);
    edits = rw::withMovedSession(edits, 2950, 2900);
    EXPECT_THAT(edits.movedSessions, ElementsAre(rw::ReviewEdits::MovedStart{3001, 2900}));
    edits = rw::withMovedSession(edits, 2900, 3001);
    EXPECT_TRUE(edits.empty()) << "moved home: nothing is left of it";
}

TEST(ReviewEdit, removingWhatWasAddedLeavesNoTrace) {
    EXPECT_TRUE(rw::withoutSession(rw::withAddedSession({}, 500), 500).empty());
    EXPECT_TRUE(rw::withoutPass(rw::withAddedPass({}, {500, 700}), {500, 700}).empty());
    EXPECT_TRUE(rw::withAddedSession(rw::withoutSession({}, 500), 500).empty());
}

TEST(ReviewEdit, removingAMovedPassRemovesTheFoundOne) {
    const rw::ReviewEdits edits = rw::withoutPass(rw::withMovedPass({}, {100, 200}, {90, 210}), {90, 210});
    EXPECT_TRUE(edits.movedPasses.empty());
    EXPECT_THAT(edits.removedPasses, ElementsAre(rw::LineSpan{100, 200}));
}

TEST(CellsFromText, readsOneOrOneASession) {
    EXPECT_THAT(*rw::cellsFromText(QStringLiteral("4, 6")), ElementsAre(4, 6));
    EXPECT_TRUE(rw::cellsFromText(QStringLiteral(" "))->empty());
    EXPECT_FALSE(rw::cellsFromText(QStringLiteral("4; 6")).has_value());
    EXPECT_FALSE(rw::cellsFromText(QStringLiteral("0")).has_value());
    EXPECT_FALSE(rw::cellsFromText(QStringLiteral("31")).has_value());
}

TEST(LogFileKind, isToldByContentFirst) {
    const QTemporaryDir folder;
    const auto write = [&](const QString& name, const QByteArray& bytes) {
        QFile file(folder.filePath(name));
        EXPECT_TRUE(file.open(QIODevice::WriteOnly));
        file.write(bytes);
        return file.fileName();
    };
    EXPECT_EQ(rw::logFileKind(write(QStringLiteral("a.csv"), "Time,Volt\n1,2\n")), rw::LogFileKind::Log);
    EXPECT_EQ(rw::logFileKind(write(QStringLiteral("b.txt"), "$GPRMC,1,2\n")), rw::LogFileKind::Track);
    EXPECT_EQ(rw::logFileKind(write(QStringLiteral("c.csv"), "<?xml?><gpx version=\"1.1\">")), rw::LogFileKind::Track);
    EXPECT_EQ(rw::logFileKind(write(QStringLiteral("d.json"), "{\"runwright\": \"plan\"}")), rw::LogFileKind::Other);
    EXPECT_EQ(rw::logFileKind(write(QStringLiteral("e.csv"), QByteArray("SQLite format 3\0more", 20))),
              rw::LogFileKind::Other);
    EXPECT_EQ(rw::logFileKind(write(QStringLiteral("f"), "a b\n1 2\n")), rw::LogFileKind::PerhapsLog);
    EXPECT_EQ(rw::logFileKind(folder.path()), rw::LogFileKind::Other);
    EXPECT_EQ(rw::logFileKind(folder.filePath(QStringLiteral("missing.csv"))), rw::LogFileKind::Other);
}

TEST(QuantityView, followsTheUnitSwitch) {
    rw::Units units;
    units.set(&rw::UnitChoice::temperature, rw::TemperatureUnit::Fahrenheit);
    units.set(&rw::UnitChoice::speed, rw::SpeedUnit::Mph);
    // 100 °C = 212 °F; 1 mile an hour = 0.44704 m/s exactly (international mile and hour).
    EXPECT_NEAR(rw::viewOf(rw::Quantity::MotorTemperature, units).unit.shown(373.15), 212.0, 1e-9);
    EXPECT_NEAR(rw::viewOf(rw::Quantity::Speed, units).unit.shown(44.704), 100.0, 1e-9);
}
