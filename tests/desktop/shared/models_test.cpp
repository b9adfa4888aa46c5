#include "app/desktop/plan/gear_panel.h"
#include "app/desktop/shared/figure_table.h"
#include "app/desktop/shared/garage_text.h"
#include "tests/desktop/window_fixture.h"

#include <QAbstractItemModelTester>
#include <QClipboard>

using namespace rw;

namespace {

constexpr auto fatal = QAbstractItemModelTester::FailureReportingMode::Fatal;

GearRow row(int pinion, double zoneMean, double margin) {
    GearRow made;
    made.pinion = pinion;
    made.spur = 44;
    made.overallRatio = 44.0 / pinion * 2.85;
    made.zoneMean = zoneMean;
    made.peakPackCurrent = 180.0;
    made.caseSoakPeak = 69.0;
    made.tightest = Margin{"cell_voltage", 3.38, 3.2, margin};
    made.withinLimits = margin >= 0.0;
    return made;
}

} // namespace

TEST(GearTableModel, keepsTheRulesOfModelsThroughResetsAndUnits) {
    Units units;
    GearTableModel model;
    const QAbstractItemModelTester tester(&model, fatal);
    EXPECT_EQ(model.rowCount(), 0);
    GearTable table;
    table.rows = {row(25, 41.9, 0.24), row(26, 42.8, 0.18), row(28, 44.0, -0.03)};
    model.show(&table, 0, 0, units);
    EXPECT_EQ(model.rowCount(), 3);
    EXPECT_EQ(model.fittedRow(), -1);
    model.show(&table, 26, 44, units);
    EXPECT_EQ(model.fittedRow(), 1);
    model.show(nullptr, 26, 44, units);
    EXPECT_EQ(model.rowCount(), 0);
    EXPECT_EQ(model.fittedRow(), -1);
}

TEST(GearTableModel, showsUnitsOfTheSwitchAndKeepsTheRawValue) {
    Units units;
    units.set(&UnitChoice::speed, SpeedUnit::Kmh);
    GearTableModel model;
    GearTable table;
    table.rows = {row(26, 42.8, 0.18), row(28, 44.0, -0.03)};
    model.show(&table, 26, 44, units);
    EXPECT_EQ(model.index(0, GearTableModel::Pair).data().toString(), QStringLiteral("26/44"));
    EXPECT_EQ(model.index(0, GearTableModel::ZoneSpeed).data().toString(), QStringLiteral("154.1")); // 42.8 · 3.6
    EXPECT_DOUBLE_EQ(model.index(0, GearTableModel::ZoneSpeed).data(GearTableModel::RawRole).toDouble(), 42.8);
    EXPECT_EQ(model.headerData(GearTableModel::ZoneSpeed, Qt::Horizontal, Qt::DisplayRole).toString(),
              QStringLiteral("zone km/h"));
    EXPECT_EQ(model.index(0, GearTableModel::Tightest).data().toString(), QStringLiteral("cells 18 %"));
    EXPECT_EQ(model.index(1, GearTableModel::Tightest).data().toString(), QStringLiteral("cells over"));
    EXPECT_NE(model.index(1, 0).data(Qt::ToolTipRole), model.index(0, 0).data(Qt::ToolTipRole)) << "what to do";
    EXPECT_TRUE(model.index(0, 0).data(Qt::FontRole).value<QFont>().weight() >
                model.index(1, 0).data(Qt::FontRole).value<QFont>().weight())
        << "the pair on the bench stands out";
}

// Cells that are made when they are looked at are those that were handed over.
TEST(ValueTableModel, makesCellsWhenTheyAreLookedAt) {
    ValueTableModel model(1);
    const QAbstractItemModelTester tester(&model, fatal);
    int made = 0;
    model.setCells({QStringLiteral("what"), QStringLiteral("is")}, 1000,
                   [&made](std::size_t row, std::size_t column) {
                       ++made;
                       return ValueCell{QStringLiteral("%1/%2").arg(row).arg(column), static_cast<int>(row)};
                   },
                   {QString(), QStringLiteral("help")});
    EXPECT_EQ(model.rowCount(), 1000);
    EXPECT_LT(made, 1000);
    EXPECT_EQ(model.index(999, 1).data().toString(), QStringLiteral("999/1"));
    EXPECT_EQ(model.index(999, 1).data(ValueTableModel::RawRole).toInt(), 999);
    EXPECT_EQ(model.headerData(1, Qt::Horizontal, Qt::ToolTipRole).toString(), QStringLiteral("help"));
    EXPECT_FALSE(model.headerData(0, Qt::Horizontal, Qt::ToolTipRole).isValid());
}

TEST(ValueTableModel, keepsTheRulesOfModels) {
    ValueTableModel model(1);
    const QAbstractItemModelTester tester(&model, fatal);
    model.setRows({QStringLiteral("what"), QStringLiteral("is")},
                  {{{QStringLiteral("pinion")}, {QStringLiteral("26"), 26}}});
    EXPECT_EQ(model.rowCount(), 1);
    EXPECT_EQ(model.index(0, 1).data(ValueTableModel::RawRole).toInt(), 26);
    model.setRows({}, {});
    EXPECT_EQ(model.rowCount(), 0);
}

TEST(FigureTable, copiesAsTextWithItsHeader) {
    ValueTableModel model(1);
    model.setRows({QStringLiteral("what"), QStringLiteral("is")}, {{{QStringLiteral("pinion")}, {QStringLiteral("26")}},
                                                                   {{QStringLiteral("spur")}, {QStringLiteral("44")}}});
    FigureTable table;
    table.setModel(&model);
    EXPECT_EQ(table.asText(), QStringLiteral("what\tis\npinion\t26\nspur\t44\n"));
    table.selectRow(1);
    QTest::keyClick(&table, Qt::Key_C, Qt::ControlModifier);
    EXPECT_EQ(QApplication::clipboard()->text(), QStringLiteral("what\tis\nspur\t44\n"));
}

TEST(ValueRows, anEstimateNeverLooksLikeAFact) {
    const rw::Units units;
    rw::Values values;
    values["motor.resistance_ohm"].number = 0.0063;
    values["motor.resistance_ohm"].uncertainty = 0.0032;
    values["motor.resistance_ohm"].source = rw::Source::Estimated;
    values["motor.resistance_ohm"].note = "torque per ampere over motor constant";
    values["motor.kv_rpm_per_V"].number = 2000.0;
    values["motor.kv_rpm_per_V"].source = rw::Source::Label;
    for (const std::vector<rw::ValueCell>& row : rw::valueRows(values, units)) {
        const bool estimate = row[0].raw.toString() == QStringLiteral("motor.resistance_ohm");
        EXPECT_EQ(row[2].tone == rw::Tone::Soft, estimate);
        EXPECT_EQ(row[1].text.startsWith(QStringLiteral("estimated")), estimate) << row[1].text.toStdString();
        EXPECT_EQ(row[3].text.startsWith(QStringLiteral("±")), estimate);
    }
}
