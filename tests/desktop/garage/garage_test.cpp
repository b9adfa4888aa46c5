// The Garage workspace as a person uses it; what is read there is what storage gives. The content of the garage is
// tests/storage/support.cpp, invented.
#include "app/desktop/garage/garage_side.h"
#include "app/desktop/garage/part_history.h"
#include "app/desktop/garage/revision_panel.h"
#include "app/desktop/garage/value_dialog.h"
#include "plotting/chart.h"
#include "tests/desktop/garage/garage_fixture.h"

#include <QComboBox>
#include <QDialogButtonBox>
#include <QInputDialog>
#include <QLineEdit>
#include <QListWidget>
#include <QMessageBox>
#include <QUndoStack>

using namespace rw;
using rw::test::await;
using rw::test::GarageTest;
using rw::test::GarageView;
using rw::test::inDialog;
using rw::test::menuAction;
using rw::test::samplePlan;

namespace {

const QString vehicles = QStringLiteral("Vehicles"), heron = QStringLiteral("Heron");

void setMass(Garage& garage, Id vehicle) {
    Part part = garage.part(vehicle);
    part.values["vehicle.mass_kg"] = {4.612, "", "", 0.009, Source::Measured, "kitchen scale"};
    garage.update(part);
}

} // namespace

TEST_F(GarageTest, theTreeShowsWhatTheGarageHolds) {
    openFilled();
    const std::pair<QString, ItemKind> kinds[] = {{vehicles, ItemKind::Vehicle},
                                                  {QStringLiteral("Packs"), ItemKind::Pack},
                                                  {QStringLiteral("Motors"), ItemKind::Motor},
                                                  {QStringLiteral("Controllers"), ItemKind::Controller},
                                                  {QStringLiteral("Tyres"), ItemKind::Tyre},
                                                  {QStringLiteral("Gears"), ItemKind::Gear},
                                                  {QStringLiteral("Venues"), ItemKind::Venue},
                                                  {QStringLiteral("Outings"), ItemKind::Outing},
                                                  {QStringLiteral("Limit sets"), ItemKind::LimitSet},
                                                  {QStringLiteral("Checklists"), ItemKind::Checklist}};
    for (const auto& [heading, kind] : kinds) {
        QStringList names;
        for (const ListRow& row : garage().list(kind))
            names << QString::fromStdString(row.name);
        EXPECT_FALSE(names.isEmpty());
        EXPECT_EQ(view.under(heading), names) << heading.toStdString();
    }
}

TEST_F(GarageTest, aPartsPageShowsValuesWithUncertaintyAndSource) {
    openFilled();
    ASSERT_TRUE(program.garage.attempt({}, [this](Garage& g) { setMass(g, g.setup(filled.plan.setup).vehicle); }));
    view.choose(heron);
    const QStringList mass = GarageView::row(view.table("Values"), QStringLiteral("mass"));
    EXPECT_EQ(mass.mid(1), QStringList({QStringLiteral("measured · kitchen scale"), QStringLiteral("4.612\u00a0kg"),
                                        QStringLiteral("± 0.0090")}));
    EXPECT_EQ(view.table("Values").model()->rowCount(),
              static_cast<int>(garage().part(garage().setup(filled.plan.setup).vehicle).values.size()));
    // 1 lb is 0.45359237 kg exactly; shown to what ± 0.009 kg means, two decimals: half a unit of the last.
    program.units.set(&UnitChoice::mass, MassUnit::Pound);
    const QString pounds = GarageView::row(view.table("Values"), QStringLiteral("mass")).at(2);
    EXPECT_NEAR(pounds.section(QChar(QChar::Nbsp), 0, 0).toDouble() * 0.45359237, 4.612, 0.005 * 0.45359237)
        << pounds.toStdString();
}

// The fit of the fixture: drag 0.0192 ± 0.0007.
TEST_F(GarageTest, whatLogsTaughtIsReadToItsUncertaintyAboveTheSeasonsPasses) {
    openFilled();
    ASSERT_TRUE(program.garage.attempt({}, [this](Garage& g) { static_cast<void>(g.acceptFit(filled.fit)); }));
    view.choose(heron);
    const QStringList row = GarageView::row(view.table("Fitted values"), QStringLiteral("drag area"));
    ASSERT_EQ(row.size(), 4);
    EXPECT_TRUE(row[1].contains(QStringLiteral("taken into Heron fast, revision 3"))) << row[1].toStdString();
    EXPECT_FALSE(row[1].contains(QStringLiteral("setup-"))) << row[1].toStdString();
    EXPECT_EQ(row[2], QStringLiteral("0.01920\u00a0m²"));
    EXPECT_EQ(row[3], QStringLiteral("± 0.00070"));
    EXPECT_LT(view.table("Fitted values").y(), view.part<KeptList>().y());
}

TEST_F(GarageTest, aLimitSetGoesOnTheBenchAsOneStep) {
    openFilled();
    Part set;
    set.id.kind = ItemKind::LimitSet;
    set.name = "careful";
    set.values["motor.comfort_C"].number = 45.0;
    set.values["review.restThrottle"].number = 0.05;
    ASSERT_TRUE(program.garage.attempt({}, [&](Garage& g) { static_cast<void>(g.add(set)); }));
    BenchContent content;
    content.input = std::make_shared<const PlanInput>(samplePlan());
    program.bench.put(content);
    program.window().showWorkspace(QStringLiteral("garage"));
    view.choose(QStringLiteral("careful"));
    EXPECT_FALSE(GarageView::row(view.table("Values"), QStringLiteral("rest throttle")).isEmpty());
    menuAction(view.window(), QStringLiteral("Take these limits on the bench"))->trigger();
    EXPECT_EQ(program.bench.content().input->motor.comfort_C, 45.0);
    QUndoStack& undo = *program.window().workspace(QStringLiteral("plan"))->undoStack();
    undo.undo();
    EXPECT_EQ(*program.bench.content().input, samplePlan());
}

TEST_F(GarageTest, aValueIsEditedUndoneAndDoneAgain) {
    openFilled();
    view.choose(heron);
    const Id vehicle = garage().setup(filled.plan.setup).vehicle;
    inDialog<ValueDialog>([](ValueDialog& dialog) {
        auto* edit = dialog.findChild<QLineEdit*>();
        edit->setText(QStringLiteral("heavy"));
        dialog.findChild<QDialogButtonBox*>()->button(QDialogButtonBox::Save)->click();
        EXPECT_TRUE(dialog.isVisible()); // refused in words
        edit->setText(QStringLiteral("4,75"));
        dialog.findChild<QDialogButtonBox*>()->button(QDialogButtonBox::Save)->click();
    });
    view.own<GarageActions>().editValue("vehicle.mass_kg");
    EXPECT_EQ(garage().part(vehicle).values.at("vehicle.mass_kg").number, 4.75);
    EXPECT_EQ(GarageView::row(view.table("Values"), QStringLiteral("mass")).at(2), QStringLiteral("4.75\u00a0kg"));
    menuAction(view.window(), QStringLiteral("Undo change vehicle Heron"))->trigger();
    EXPECT_EQ(GarageView::row(view.table("Values"), QStringLiteral("mass")).at(2), QStringLiteral("4.612\u00a0kg"));
    menuAction(view.window(), QStringLiteral("Redo change vehicle Heron"))->trigger();
    EXPECT_EQ(garage().part(vehicle).values.at("vehicle.mass_kg").number, 4.75);
}

TEST_F(GarageTest, theHistoryOfAPackIsWhatItsPassesSaid) {
    openFilled();
    ASSERT_TRUE(program.garage.attempt({}, [this](Garage& g) {
        for (const StoredSession& session : g.sessions(filled.log))
            g.setSession(session.id, filled.revision, g.setup(filled.revision).pack);
    }));
    view.choose(QStringLiteral("6S no. 2"));
    const auto points = garage().packHistory(garage().setup(filled.revision).pack);
    ASSERT_FALSE(points.empty());
    const auto* chart = view.part<PartPage>().findChild<Chart*>();
    ASSERT_TRUE(chart->isVisible());
    ASSERT_FALSE(chart->content().series.empty());
    EXPECT_EQ(chart->content().series.front().x.size(), points.size());
}

TEST_F(GarageTest, revisionsAreListedWithWhatChanged) {
    openFilled();
    view.choose(heron);
    const FigureTable& revisions = view.table("Setup revisions");
    ASSERT_EQ(revisions.model()->rowCount(), 2);
    EXPECT_EQ(revisions.model()->index(0, 0).data().toString(), QStringLiteral("Heron fast, revision 2"));
    EXPECT_EQ(revisions.model()->index(0, 2).data().toString(), QStringLiteral("cutoff off leaves room for one step"));
    const FigureTable& changes = view.table("What changed");
    EXPECT_EQ(changes.model()->rowCount(),
              static_cast<int>(garage().difference(filled.plan.setup, filled.revision).size()));
    EXPECT_EQ(
        GarageView::row(changes, QStringLiteral("pinion")),
        QStringList({QStringLiteral("pinion"), QStringLiteral("26\u00a0teeth"), QStringLiteral("27\u00a0teeth")}));
    EXPECT_TRUE(view.pageText().contains(QStringLiteral("Revision 1 → 2")));
    // The other way round: the first revision beside the second.
    auto* against = view.workspace().widget()->findChild<QComboBox*>(QStringLiteral("comparedWith"));
    ASSERT_TRUE(against && against->isVisible());
    view.table("Setup revisions").selectRow(1);
    against->setCurrentIndex(1);
    emit against->activated(1);
    EXPECT_TRUE(view.pageText().contains(QStringLiteral("Revision 2 → 1")));
}

TEST_F(GarageTest, searchFindsWordsAndShowsWhereTheyStand) {
    openFilled();
    auto& side = view.part<GarageSide>();
    side.findChild<QLineEdit*>()->setText(QStringLiteral("gusty"));
    auto* finds = side.findChild<QListWidget*>();
    ASSERT_TRUE(await([&] { return finds->count() > 0; }));
    EXPECT_EQ(finds->count(), static_cast<int>(garage().search("gusty").size()));
    EXPECT_TRUE(finds->item(0)->text().contains(QStringLiteral("“gusty”"))) << finds->item(0)->text().toStdString();
    emit finds->itemActivated(finds->item(0));
    EXPECT_TRUE(view.pageText().startsWith(QStringLiteral("Saturday"))) << view.pageText().toStdString();
    side.findChild<QLineEdit*>()->setText(QStringLiteral("zeppelin"));
    EXPECT_TRUE(await([&] { return finds->count() == 0; }));
}

TEST_F(GarageTest, bestPassesAreThoseOfTheGarageInTheUnitChosen) {
    openFilled();
    program.units.set(&UnitChoice::speed, SpeedUnit::Kmh);
    const auto best = garage().bestPasses({}, 12);
    const FigureTable& table = view.table("Best passes");
    ASSERT_EQ(table.model()->rowCount(), static_cast<int>(best.size()));
    for (int i = 0; i < table.model()->rowCount(); ++i) {
        const BestPass& pass = best[static_cast<std::size_t>(i)];
        EXPECT_NEAR(table.model()->index(i, 1).data().toString().toDouble(), pass.oneWay.mps * 3.6,
                    0.051); // one decimal
        EXPECT_TRUE(table.model()->index(i, 0).data().toString().startsWith(QString::fromStdString(pass.vehicleName)));
    }
}

TEST_F(GarageTest, duplicatingRetiringAndDeletingCanBeUndone) {
    openFilled();
    view.choose(heron);
    inDialog<QInputDialog>([](QInputDialog& dialog) {
        dialog.setTextValue(QStringLiteral("Heron two"));
        dialog.accept();
    });
    menuAction(view.window(), QStringLiteral("Duplicate…"))->trigger();
    EXPECT_TRUE(view.under(vehicles).contains(QStringLiteral("Heron two")));
    EXPECT_TRUE(view.pageText().startsWith(QStringLiteral("Heron two")));

    menuAction(view.window(), QStringLiteral("Retire or take back"))->trigger();
    EXPECT_EQ(view.under(vehicles), QStringList{heron});
    menuAction(view.window(), QStringLiteral("Show what is retired"))->setChecked(true);
    EXPECT_TRUE(view.under(vehicles).contains(QStringLiteral("Heron two (retired)")));

    view.choose(QStringLiteral("Heron two (retired)"));
    inDialog<QMessageBox>([](QMessageBox& box) { box.button(QMessageBox::Yes)->click(); });
    menuAction(view.window(), QStringLiteral("Delete…"))->trigger();
    EXPECT_EQ(view.under(vehicles), QStringList{heron});
    EXPECT_EQ(garage().count(ItemKind::Vehicle, true), 1);
    for (int i = 0; i < 3; ++i)
        view.workspace().undoStack()->undo();
    EXPECT_EQ(view.under(vehicles), QStringList{heron});
    for (int i = 0; i < 3; ++i)
        view.workspace().undoStack()->redo();
    EXPECT_EQ(garage().count(ItemKind::Vehicle, true), 1);

    view.choose(heron); // setups stand on it: it is kept
    menuAction(view.window(), QStringLiteral("Delete…"))->trigger();
    EXPECT_TRUE(view.window().notice().contains(QStringLiteral("Retire it instead")))
        << view.window().notice().toStdString();
    EXPECT_EQ(view.under(vehicles), QStringList{heron});
}

TEST_F(GarageTest, aVehicleGoesToAnotherGarageAndMergesThere) {
    openFilled();
    listen();
    auto& files = view.own<GarageFiles>();
    const QString document = folder.filePath(QStringLiteral("heron.json"));
    files.exportTo(garage().setup(filled.plan.setup).vehicle, document);
    view.awaitWork();
    EXPECT_TRUE(said().contains(QStringLiteral("heron.json")));
    const std::string before = rw::test::contentOf(garage());
    view.window().openFiles({document}); // into the garage that it came from: all there already
    view.awaitWork();
    EXPECT_TRUE(said().startsWith(QStringLiteral("0 added"))) << said().toStdString();
    EXPECT_EQ(rw::test::contentOf(garage()), before);

    ASSERT_TRUE(program.garage.create(folder.filePath(QStringLiteral("second.runwright"))));
    EXPECT_TRUE(view.under(vehicles).isEmpty());
    view.window().openFiles({document});
    view.awaitWork();
    EXPECT_EQ(view.under(vehicles), QStringList{heron});
    EXPECT_TRUE(view.pageText().startsWith(heron));
    EXPECT_EQ(view.table("Setup revisions").model()->rowCount(), 2);
    EXPECT_EQ(garage().passes({}).size(), 3U);
    view.workspace().undoStack()->undo();
    EXPECT_TRUE(view.under(vehicles).isEmpty());
    view.workspace().undoStack()->redo();
    EXPECT_EQ(view.under(vehicles), QStringList{heron});
}

TEST_F(GarageTest, aBackupBringsBackWhatWasThere) {
    openFilled();
    const std::string full = rw::test::contentOf(garage());
    auto& files = view.own<GarageFiles>();
    files.backup();
    view.awaitWork();
    const auto backups = garage().backups();
    ASSERT_EQ(backups.size(), 1U);
    ASSERT_TRUE(program.garage.attempt({}, [this](Garage& g) { g.retire(filled.checklist); }));
    EXPECT_TRUE(view.under(QStringLiteral("Checklists")).isEmpty());
    files.restoreFrom(QString::fromStdString(backups.front().path));
    view.awaitWork();
    EXPECT_EQ(view.under(QStringLiteral("Checklists")), QStringList{QStringLiteral("before a pass")});
    EXPECT_EQ(rw::test::contentOf(garage()), full);
    EXPECT_FALSE(view.workspace().undoStack()->canUndo());
}

TEST_F(GarageTest, passesAreWrittenAsTheGarageTellsThem) {
    openFilled();
    const QString csv = folder.filePath(QStringLiteral("passes.csv"));
    view.own<GarageFiles>().writeCsv({}, csv);
    view.awaitWork();
    EXPECT_EQ(rw::test::readBytes(csv.toStdString()), garage().passesCsv({}));
}
