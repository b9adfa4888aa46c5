// Several windows and programs on one garage; files of earlier versions; copies and the way back.
#include "tests/storage/fault_disk.h"
#include "tests/storage/support.h"

#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <atomic>
#include <functional>
#include <set>
#include <thread>

namespace rw::test {

namespace {

namespace fs = std::filesystem;

GarageError::Kind kindOf(const std::function<void()>& work) {
    try {
        work();
    } catch (const GarageError& error) {
        return error.kind();
    }
    ADD_FAILURE() << "nothing was thrown";
    return GarageError::Kind::Failed;
}

GarageOptions patient(GarageOptions::Journal journal) {
    GarageOptions out;
    out.wait = std::chrono::seconds(60);
    out.journal = journal;
    return out;
}

Part checklist(const std::string& name) {
    Part part;
    part.id.kind = ItemKind::Checklist;
    part.name = name;
    return part;
}

std::string fixture(const std::string& name) {
    return std::string(RUNWRIGHT_SOURCE_DIR) + "/tests/storage/fixtures/" + name;
}

class Shared : public ::testing::TestWithParam<GarageOptions::Journal> {};

} // namespace

TEST_P(Shared, eightWritersAtOnceLoseNothing) {
    const TempFolder folder;
    Garage::create(folder.file("g"));
    constexpr int writers = 8, each = 10;
    std::vector<pid_t> children;
    for (int w = 0; w < writers; ++w) {
        const pid_t child = ::fork();
        if (child == 0) {
            try {
                Garage garage = Garage::open(folder.file("g"), patient(GetParam()));
                for (int i = 0; i < each; ++i)
                    garage.add(checklist("w" + std::to_string(w) + " " + std::to_string(i)));
                ::_exit(0);
            } catch (const std::exception& error) {
                std::fprintf(stderr, "writer: %s\n", error.what());
                ::_exit(1);
            }
        }
        children.push_back(child);
    }
    for (const pid_t child : children) {
        int status = 0;
        ::waitpid(child, &status, 0);
        EXPECT_EQ(status, 0);
    }
    Garage garage = Garage::open(folder.file("g"));
    EXPECT_EQ(garage.count(ItemKind::Checklist), writers * each);
    std::set<std::int64_t> numbers;
    for (const Part& part : garage.parts(ItemKind::Checklist))
        numbers.insert(part.id.number);
    EXPECT_EQ(numbers.size(), static_cast<std::size_t>(writers * each));
    EXPECT_TRUE(garage.check(true).ok);
}

TEST_P(Shared, aReaderSeesWholeChangesOnlyWhileAnotherWrites) {
    const TempFolder folder;
    Garage::create(folder.file("g"));
    std::atomic<bool> done{false};
    std::jthread writer([&] {
        Garage garage = Garage::open(folder.file("g"), patient(GetParam()));
        for (unsigned i = 0; i < 20; ++i)
            garage.addLog(logRecordFor(logText(i, 100), 3));
        done = true;
    });
    Garage reader = Garage::open(folder.file("g"), patient(GetParam()));
    int looks = 0;
    for (std::int64_t last = 0; !done; ++looks) {
        const std::int64_t passes = static_cast<std::int64_t>(reader.passes({}).size());
        EXPECT_EQ(passes % 3, 0);
        EXPECT_GE(passes, last);
        last = passes;
    }
    EXPECT_EQ(reader.count(ItemKind::Pass), 60);
    EXPECT_GT(looks, 0);
}

INSTANTIATE_TEST_SUITE_P(Journal, Shared,
                         ::testing::Values(GarageOptions::Journal::Rollback, GarageOptions::Journal::WriteAhead),
                         [](const auto& named) {
                             return named.param == GarageOptions::Journal::Rollback ? "rollback" : "writeAhead";
                         });

TEST(TwoWindows, aStaleViewNoticesAndAStaleChangeIsRefused) {
    const TempFolder folder;
    Garage one = Garage::create(folder.file("g"));
    const Id id = one.add(checklist("list"));
    Garage two = Garage::open(folder.file("g"));
    const std::uint64_t before = two.changeCounter();
    Part mine = two.part(id);
    Part theirs = one.part(id);
    theirs.notes = "theirs";
    one.update(theirs);
    EXPECT_GT(two.changeCounter(), before);
    mine.notes = "mine";
    EXPECT_EQ(kindOf([&] { two.update(mine); }), GarageError::Kind::Refused);
    EXPECT_EQ(two.part(id).notes, "theirs");
}

TEST(TwoWindows, undoIsRefusedWhereTheOtherWindowChangedTheSameThing) {
    const TempFolder folder;
    Garage one = Garage::create(folder.file("g"));
    const Id id = one.add(checklist("list"));
    const Id other = one.add(checklist("other"));
    Garage two = Garage::open(folder.file("g"));
    Part part = one.part(id);
    part.notes = "first";
    one.update(part);
    Part theirs = two.part(id);
    theirs.notes = "second";
    two.update(theirs);
    EXPECT_EQ(kindOf([&] { one.undo(); }), GarageError::Kind::Refused);
    EXPECT_EQ(two.part(id).notes, "second");
    two.retire(other);
    EXPECT_EQ(*two.undoText(), "retire " + toString(other));
    two.undo();
    EXPECT_EQ(one.part(other).retired, false);
}

TEST(TwoWindows, aSecondWriterWaitsOrGetsAClearMessage) {
    const TempFolder folder;
    Garage::create(folder.file("g"), {}, [](Garage& garage) { fill(garage); });
    GarageOptions impatient;
    impatient.wait = std::chrono::milliseconds(0);
    Garage two = Garage::open(folder.file("g"), impatient);
    std::atomic<int> busy{0}, written{0};
    const auto write = [&](Garage& garage, int count) {
        for (int i = 0; i < count; ++i) {
            try {
                garage.add(checklist("x"));
                ++written;
            } catch (const GarageError& error) {
                EXPECT_EQ(error.kind(), GarageError::Kind::Busy) << error.what();
                ++busy;
            }
        }
    };
    std::jthread other([&] {
        Garage one = Garage::open(folder.file("g"), patient(GarageOptions::Journal::ByLibrary));
        write(one, 100);
    });
    write(two, 100);
    other.join();
    EXPECT_EQ(written + busy, 200);
    EXPECT_EQ(two.count(ItemKind::Checklist), written + 1);
}

TEST(Migration, aFileOfVersion1ComesUpToDateWithABackupBesideIt) {
    const TempFolder folder;
    fs::copy_file(fixture("version_1.garage"), folder.file("g"));
    const std::string old = readBytes(folder.file("g"));
    Garage garage = Garage::open(folder.file("g"));
    EXPECT_EQ(contentOf(garage), readBytes(fixture("content.txt")));
    const GarageCheck check = garage.check(true);
    EXPECT_TRUE(check.ok) << (check.problems.empty() ? "" : check.problems.front());
    EXPECT_EQ(check.schema, Garage::schemaVersion);
    EXPECT_FALSE(garage.search("gusty").empty()); // the step that came with version 2
    std::string backup;
    for (const auto& entry : fs::directory_iterator(folder.path()))
        if (entry.path().string().find(".before-version-3-") != std::string::npos) backup = entry.path().string();
    ASSERT_FALSE(backup.empty());
    EXPECT_EQ(readBytes(backup).substr(60, 4), std::string("\0\0\0\1", 4));
    EXPECT_EQ(readBytes(backup).size(), old.size());
}

TEST(Migration, aFileOfVersion2ComesUpToDateAndTakesWhatIsNew) {
    const TempFolder folder;
    fs::copy_file(fixture("version_2.garage"), folder.file("g"));
    Garage garage = Garage::open(folder.file("g"));
    EXPECT_EQ(contentOf(garage), readBytes(fixture("content.txt")));
    EXPECT_FALSE(garage.search("gusty").empty());
    const std::vector<SpeedNote> noted{{SpeedKind::ZoneMean, 41.5, 0.2}, {SpeedKind::Peak, 43.0, 0.3}};
    garage.noteSpeeds({ItemKind::Pass, 1}, noted);
    EXPECT_EQ(garage.pass({ItemKind::Pass, 1}).noted, noted);
    Part motor = garage.parts(ItemKind::Motor).front();
    motor.values["motor.kv_rpm_per_V"].source = Source::Label;
    motor.values["motor.resistance_ohm"].source = Source::Estimated;
    garage.update(motor);
    EXPECT_EQ(garage.part(motor.id).values, motor.values);
    EXPECT_TRUE(garage.check(true).ok);
}

TEST(Migration, aPowerCutAtAnyStepLeavesTheOldOrTheNewVersion) {
    const TempFolder folder;
    registerFaultDisk();
    GarageOptions options;
    options.vfs = faultVfs;
    const std::string content = readBytes(fixture("content.txt"));
    long points = 0;
    for (long at = 1;; ++at) {
        for (const auto& entry : fs::directory_iterator(folder.path()))
            fs::remove(entry.path());
        fs::copy_file(fixture("version_1.garage"), folder.file("g"));
        plan({Fault::Kind::PowerCut, at, 11});
        try {
            Garage garage = Garage::open(folder.file("g"), options);
        } catch (const GarageError&) {
            EXPECT_TRUE(faultHappened());
        }
        const bool reached = faultHappened();
        losePower();
        Garage found = Garage::open(folder.file("g"));
        ASSERT_EQ(found.access(), Garage::Access::ReadWrite) << "at " << at;
        ASSERT_EQ(contentOf(found), content) << "at " << at;
        ASSERT_EQ(found.search("gusty").size(), 1u) << "at " << at;
        if (!reached) break;
        ++points;
    }
    std::printf("power cuts during migration tried: %ld\n", points);
    EXPECT_GT(points, 30);
}

TEST(Migration, anOlderFileThatMayNotBeWrittenSaysSo) {
    const TempFolder folder;
    fs::copy_file(fixture("version_1.garage"), folder.file("g"));
    GarageOptions options;
    options.readOnly = true;
    EXPECT_EQ(kindOf([&] { Garage::open(folder.file("g"), options); }), GarageError::Kind::ReadOnly);
}

TEST(Backup, keepsTheNewestTenAndRestoresAnyOfThem) {
    const TempFolder folder;
    Garage garage = Garage::create(folder.file("g"));
    fill(garage);
    const std::string full = contentOf(garage);
    const std::string first = garage.backupNow();
    garage.add(checklist("after the backup"));
    EXPECT_NE(contentOf(garage), full);
    garage.restore(first);
    EXPECT_EQ(contentOf(garage), full);
    EXPECT_FALSE(garage.undoText());
    EXPECT_EQ(garage.backups().size(), 2u); // the one, and what was there before restoring
    for (int i = 0; i < 12; ++i)
        garage.backupNow();
    EXPECT_EQ(garage.backups().size(), 10u);
    EXPECT_EQ(garage.backupIfDue().path, std::nullopt);
    for (const BackupInfo& backup : garage.backups()) {
        Garage copy = Garage::open(backup.path);
        EXPECT_EQ(contentOf(copy), full);
    }
}

// Sixteen that find none make one between them; that several fall into the same second matters to nobody.
TEST(Backup, sixteenAtOnceAreAllAcknowledged) {
    const TempFolder folder;
    {
        Garage garage = Garage::create(folder.file("g"), {}, [](Garage& made) { fill(made); });
    }
    std::atomic<int> refused{0}, made{0};
    const auto each = [&](const std::function<void(Garage&)>& work) {
        std::vector<std::jthread> threads;
        for (int i = 0; i < 16; ++i)
            threads.emplace_back([&] {
                try {
                    Garage garage = Garage::open(folder.file("g"), patient(GarageOptions::Journal::ByLibrary));
                    work(garage);
                } catch (const GarageError& error) {
                    std::fprintf(stderr, "%s\n", error.what());
                    ++refused;
                }
            });
    };
    each([&](Garage& garage) {
        const DueBackup backup = garage.backupIfDue();
        refused += backup.problem.empty() ? 0 : 1;
        made += backup.path ? 1 : 0;
    });
    EXPECT_EQ(refused, 0);
    EXPECT_EQ(made, 1);
    each([](Garage& garage) { garage.backupNow(); });
    EXPECT_EQ(refused, 0);
    Garage garage = Garage::open(folder.file("g"));
    EXPECT_EQ(garage.backups().size(), 10u);
}

TEST(Backup, oneThatFailsByItselfIsToldAndStandsInNobodysWay) {
    const TempFolder folder;
    Garage garage = Garage::create(folder.file("g"));
    writeBytes(folder.file("g.backups"), "a file where the folder should be");
    const DueBackup backup = garage.backupIfDue();
    EXPECT_FALSE(backup.path);
    EXPECT_NE(backup.problem.find("g.backups"), std::string::npos) << backup.problem;
    EXPECT_NO_THROW(garage.add(checklist("still kept")));
}

TEST(Backup, neverReplacesAFileAndNeverTakesAnUnsoundOne) {
    const TempFolder folder;
    Garage garage = Garage::create(folder.file("g"));
    fill(garage);
    const std::string full = contentOf(garage);
    writeBytes(folder.file("there"), "precious");
    EXPECT_EQ(kindOf([&] { garage.backupTo(folder.file("there")); }), GarageError::Kind::Refused);
    EXPECT_EQ(readBytes(folder.file("there")), "precious");
    EXPECT_EQ(kindOf([&] { garage.restore(folder.file("there")); }), GarageError::Kind::NotAGarage);
    garage.backupTo(folder.file("copy"));
    std::string bytes = readBytes(folder.file("copy"));
    writeBytes(folder.file("half"), bytes.substr(0, bytes.size() / 2));
    EXPECT_EQ(kindOf([&] { garage.restore(folder.file("half")); }), GarageError::Kind::Damaged);
    EXPECT_EQ(contentOf(garage), full);
}

TEST(Backup, aGarageThatCannotBeOpenedIsReplacedAndKept) {
    const TempFolder folder;
    std::string full;
    {
        Garage garage = Garage::create(folder.file("g"));
        fill(garage);
        full = contentOf(garage);
        garage.backupTo(folder.file("copy"));
    }
    writeBytes(folder.file("g"), "rubbish");
    const std::string kept = restoreGarageFile(folder.file("g"), folder.file("copy"));
    EXPECT_EQ(readBytes(kept), "rubbish");
    Garage garage = Garage::open(folder.file("g"));
    EXPECT_EQ(contentOf(garage), full);
}

TEST(Salvage, takesEverythingFromASoundFileAndWhatIsReadableFromADamagedOne) {
    const TempFolder folder;
    std::string full;
    {
        Garage garage = Garage::create(folder.file("g"));
        fill(garage);
        for (int i = 0; i < 200; ++i) {
            Part list = checklist("list " + std::to_string(i));
            list.notes = std::string(300, '.');
            garage.add(list);
        };
        full = contentOf(garage);
    }
    EXPECT_TRUE(salvageGarage(folder.file("g"), folder.file("whole")).lost.empty());
    Garage whole = Garage::open(folder.file("whole"));
    EXPECT_EQ(contentOf(whole), full);
    const std::string bytes = readBytes(folder.file("g"));
    int saved = 0;
    for (std::size_t page = 1; page < bytes.size() / 4096; page += 7) {
        std::string broken = bytes;
        broken.replace(page * 4096, 4096, std::string(4096, '\x5A'));
        writeBytes(folder.file("broken"), broken);
        fs::remove(folder.file("saved"));
        try {
            const SalvageReport report = salvageGarage(folder.file("broken"), folder.file("saved"));
            Garage garage = Garage::open(folder.file("saved"));
            EXPECT_EQ(garage.access(), Garage::Access::ReadWrite);
            EXPECT_TRUE(garage.check(false).ok);
            static_cast<void>(contentOf(garage));
            saved += garage.count(ItemKind::Checklist) > 100 ? 1 : 0;
        } catch (const GarageError& error) {
            EXPECT_EQ(error.kind(), GarageError::Kind::Damaged) << error.what();
        }
        EXPECT_TRUE(readBytes(folder.file("broken")) == broken);
    }
    EXPECT_GT(saved, 2);
}

} // namespace rw::test
