// Long work in a thread of its own: it can be stopped anywhere, tells how far it is, and leaves nothing half-done.
#include "core/stopped.h"
#include "storage/garage.h"
#include "tests/storage/support.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <gtest/gtest.h>

#include <chrono>
#include <set>

namespace rw::test {

namespace {

namespace fs = std::filesystem;

std::set<std::string> filesIn(const fs::path& folder) {
    std::set<std::string> names;
    for (const auto& entry : fs::recursive_directory_iterator(folder))
        names.insert(entry.path().string());
    return names;
}

GarageError::Kind kindOf(const std::function<void()>& work) {
    try {
        work();
    } catch (const GarageError& error) {
        return error.kind();
    }
    ADD_FAILURE() << "no GarageError";
    return GarageError::Kind::Failed;
}

// Enough pages for a copy in several steps.
void fillALot(Garage& garage) {
    fill(garage);
    Part list;
    list.id.kind = ItemKind::Checklist;
    list.document = std::string(60'000, '.');
    for (int i = 0; i < 80; ++i) {
        list.name = "list " + std::to_string(i);
        garage.add(list);
    }
}

// Runs `work` on a garage of its own that is asked to stop the `after`th time it tells its progress (0: before it
// begins). Returns whether it was stopped.
bool stopped(const std::string& path, int after, const std::function<void(Garage&)>& work) {
    std::stop_source source;
    int told = 0;
    GarageOptions options;
    options.stop = source.get_token();
    options.progress = [&](double share) {
        EXPECT_GE(share, 0.0);
        EXPECT_LE(share, 1.0);
        if (++told == after) source.request_stop();
    };
    Garage garage = Garage::open(path, options);
    if (after == 0) source.request_stop();
    try {
        work(garage);
    } catch (const Stopped&) {
        return true;
    }
    return false;
}

} // namespace

TEST(LongWork, aStoppedBackupLeavesNoFile) {
    const TempFolder folder;
    Garage::create(folder.file("g"), {}, fillALot);
    const auto before = filesIn(folder.path());
    for (int after = 0; after < 3; ++after) {
        EXPECT_TRUE(stopped(folder.file("g"), after, [&](Garage& garage) { garage.backupTo(folder.file("copy")); }));
        EXPECT_EQ(filesIn(folder.path()), before);
    }
    EXPECT_FALSE(stopped(folder.file("g"), -1, [&](Garage& garage) { garage.backupTo(folder.file("copy")); }));
    Garage copy = Garage::open(folder.file("copy")), garage = Garage::open(folder.file("g"));
    EXPECT_EQ(contentOf(copy), contentOf(garage));
}

TEST(LongWork, aStoppedRestoreChangesNothing) {
    const TempFolder folder;
    Garage garage = Garage::create(folder.file("g"), {}, fillALot);
    garage.backupTo(folder.file("copy"));
    const std::string full = contentOf(garage);
    garage.retire(garage.list(ItemKind::Checklist).front().id);
    const std::string now = contentOf(garage);
    ASSERT_NE(now, full);
    int after = 0;
    while (stopped(folder.file("g"), after, [&](Garage& worker) { worker.restore(folder.file("copy")); })) {
        EXPECT_EQ(contentOf(garage), now) << "stopped after " << after;
        EXPECT_TRUE(garage.check(true).ok);
        ASSERT_LT(++after, 1000);
    }
    EXPECT_GT(after, 4); // while it was backed up and while it was put in place
    EXPECT_EQ(contentOf(garage), full);
}

TEST(LongWork, aStoppedImportAddsNothingAndAWholeOneCanBeUndoneByTheWindow) {
    const TempFolder folder;
    Garage from = Garage::create(folder.file("from"));
    const Filled filled = fill(from);
    const std::string document = from.exportItem(from.setup(filled.plan.setup).vehicle);
    Garage garage = Garage::create(folder.file("g"));
    const std::string empty = contentOf(garage);
    const auto import = [&](Garage& worker) {
        worker.importItems(document, "document");
        garage.takeSteps(worker);
    };
    int after = 0;
    while (stopped(folder.file("g"), after, import)) {
        EXPECT_EQ(contentOf(garage), empty) << "stopped after " << after;
        EXPECT_FALSE(garage.undoText());
        ASSERT_LT(++after, 1000);
    }
    EXPECT_GT(after, 5);
    EXPECT_NE(contentOf(garage), empty);
    EXPECT_EQ(garage.undoText(), "import document");
    garage.undo();
    EXPECT_EQ(contentOf(garage), empty);
    garage.redo();
    EXPECT_EQ(garage.count(ItemKind::Vehicle), from.count(ItemKind::Vehicle));
}

TEST(LongWork, anExportStops) {
    const TempFolder folder;
    Garage garage = Garage::create(folder.file("g"));
    const Id vehicle = garage.setup(fill(garage).plan.setup).vehicle;
    EXPECT_TRUE(stopped(folder.file("g"), 0, [&](Garage& worker) { static_cast<void>(worker.exportItem(vehicle)); }));
    EXPECT_FALSE(stopped(folder.file("g"), -1, [&](Garage& worker) { static_cast<void>(worker.exportItem(vehicle)); }));
}

TEST(FileInPlace, oneThatWentIsNotWrittenToButCanStillBeCopied) {
    const TempFolder folder;
    Garage garage = Garage::create(folder.file("g"), {}, [](Garage& fresh) { fill(fresh); });
    const std::string full = contentOf(garage);
    EXPECT_TRUE(garage.inPlace());
    fs::rename(folder.file("g"), folder.file("elsewhere"));
    EXPECT_FALSE(garage.inPlace());
    const Id vehicle = garage.list(ItemKind::Vehicle).front().id;
    EXPECT_EQ(kindOf([&] { garage.retire(vehicle); }), GarageError::Kind::Gone);
    EXPECT_EQ(contentOf(garage), full);
    garage.backupTo(folder.file("copy"));
    Garage copy = Garage::open(folder.file("copy"));
    EXPECT_EQ(contentOf(copy), full);
    Garage::create(folder.file("g")); // another file under the same name
    EXPECT_EQ(kindOf([&] { garage.retire(vehicle); }), GarageError::Kind::Gone);
    fs::remove(folder.file("g"));
    fs::rename(folder.file("elsewhere"), folder.file("g"));
    EXPECT_TRUE(garage.inPlace());
    garage.retire(vehicle);
    EXPECT_NE(contentOf(garage), full);
}

TEST(TwoPrograms, theChangeCounterNeverWaits) {
    const TempFolder folder;
    Garage::create(folder.file("g"));
    GarageOptions patient;
    patient.wait = std::chrono::hours(1); // waiting would not end
    patient.journal = GarageOptions::Journal::Rollback;
    Garage garage = Garage::open(folder.file("g"), patient);
    SQLite::Database other(folder.file("g"), SQLite::OPEN_READWRITE);
    other.exec("BEGIN EXCLUSIVE");
    EXPECT_EQ(kindOf([&] { static_cast<void>(garage.changeCounter()); }), GarageError::Kind::Busy);
    other.exec("ROLLBACK");
    EXPECT_NO_THROW(static_cast<void>(garage.changeCounter()));
}

} // namespace rw::test
