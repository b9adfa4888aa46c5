// Files that are not what they should be, disks that may not be written to, texts that mean harm.
#include "core/error.h"
#include "core/system/disk.h"
#include "storage/connection.h"
#include "storage/files.h"
#include "tests/storage/support.h"

#include <gtest/gtest.h>
#include <sqlite3.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cmath>
#include <functional>

namespace rw::test {

namespace {

GarageError::Kind kindOf(const std::function<void()>& work) {
    try {
        work();
    } catch (const GarageError& error) {
        EXPECT_EQ(std::string(error.what()).find('\n'), std::string::npos);
        return error.kind();
    }
    ADD_FAILURE() << "nothing was thrown";
    return GarageError::Kind::Failed;
}

void makeFilled(const std::string& path) {
    Garage::create(path, {}, [](Garage& garage) { fill(garage); });
}

void setNumber(const std::string& path, std::size_t at, std::uint32_t value) {
    std::string bytes = readBytes(path);
    for (int i = 0; i < 4; ++i)
        bytes[at + static_cast<std::size_t>(i)] = static_cast<char>(value >> (24 - 8 * i));
    writeBytes(path, bytes);
}

// As a user without rights, in a process of its own: the tests may run as root, whom no permission stops.
int asNobody(const std::function<int()>& work) {
    const pid_t child = ::fork();
    if (child == 0) {
        if (::geteuid() == 0 && (::setgid(65534) != 0 || ::setuid(65534) != 0)) ::_exit(99);
        try {
            ::_exit(work());
        } catch (...) {
            ::_exit(98);
        }
    }
    int status = 0;
    ::waitpid(child, &status, 0);
    return WIFEXITED(status) ? WEXITSTATUS(status) : 97;
}

} // namespace

TEST(Journal, isChosenByTheLibraryVersionThatHasTheFix) {
    // sqlite.org/wal.html, "The WAL-reset bug": 3.7.0 to 3.51.2; fixed in 3.51.3, backported to 3.50.7 and 3.44.6.
    for (const int faulty : {3007000, 3040001, 3044005, 3045000, 3049002, 3050006, 3051000, 3051002})
        EXPECT_FALSE(writeAheadIsSafe(faulty)) << faulty;
    for (const int fixed : {3044006, 3044009, 3050007, 3051003, 3052000})
        EXPECT_TRUE(writeAheadIsSafe(fixed)) << fixed;
}

TEST(Journal, bothKindsKeepTheContentAndSayWhichTheyAre) {
    const TempFolder folder;
    for (const auto journal :
         {GarageOptions::Journal::Rollback, GarageOptions::Journal::WriteAhead, GarageOptions::Journal::Rollback}) {
        GarageOptions options;
        options.journal = journal;
        if (!disk::exists(folder.file("g"))) makeFilled(folder.file("g"));
        Garage garage = Garage::open(folder.file("g"), options);
        garage.duplicate({ItemKind::Pack, 1}, "one more");
        const std::string words = garage.check(true).journal;
        const bool ahead = journal == GarageOptions::Journal::WriteAhead;
        EXPECT_NE(words.find(ahead ? "write-ahead log, synchronous FULL" : "rollback journal, synchronous EXTRA"),
                  std::string::npos)
            << words;
    }
    Garage garage = Garage::open(folder.file("g"));
    EXPECT_EQ(garage.count(ItemKind::Pack), 4);
    EXPECT_FALSE(disk::exists(folder.file("g-wal")));
}

TEST(Safety, theFileCarriesItsNumbersWhereSqliteSaysTheyAre) {
    const TempFolder folder;
    Garage::create(folder.file("g"));
    const std::string bytes = readBytes(folder.file("g"));
    // sqlite.org/fileformat2.html, section 1.3: header string at 0, user version at 60, application id at 68.
    EXPECT_EQ(bytes.substr(0, 16), std::string("SQLite format 3\0", 16));
    EXPECT_EQ(bytes.substr(60, 4), std::string("\0\0\0\3", 4));
    EXPECT_EQ(bytes.substr(68, 4), "RWG1");
}

TEST(Safety, anotherKindOfFileIsRefusedUntouched) {
    const TempFolder folder;
    writeBytes(
        folder.file("text"),
        "just some text, and not a short one either, so that a header would fit into it: 100 bytes at least, yes");
    writeBytes(folder.file("empty"), "");
    sqlite3* other = nullptr;
    ASSERT_EQ(sqlite3_open(folder.file("foreign").c_str(), &other), SQLITE_OK);
    ASSERT_EQ(sqlite3_exec(other, "CREATE TABLE item (id); PRAGMA user_version = 1", nullptr, nullptr, nullptr),
              SQLITE_OK);
    sqlite3_close(other);
    for (const char* const name : {"text", "empty", "foreign"}) {
        const std::string before = readBytes(folder.file(name));
        EXPECT_EQ(kindOf([&] { Garage::open(folder.file(name)); }), GarageError::Kind::NotAGarage) << name;
        EXPECT_TRUE(readBytes(folder.file(name)) == before) << name;
    }
    EXPECT_EQ(kindOf([&] { Garage::open(folder.path().string()); }), GarageError::Kind::NotAGarage);
    EXPECT_EQ(kindOf([&] { Garage::open(folder.file("missing")); }), GarageError::Kind::NotFound);
    EXPECT_EQ(kindOf([&] { Garage::create(folder.file("text")); }), GarageError::Kind::Refused);
    EXPECT_EQ(kindOf([&] { Garage::create(folder.file("no/such/folder")); }), GarageError::Kind::NotFound);
}

TEST(Safety, aNewerGarageIsRefusedUntouched) {
    const TempFolder folder;
    makeFilled(folder.file("g"));
    setNumber(folder.file("g"), 60, Garage::schemaVersion + 1);
    const std::string before = readBytes(folder.file("g"));
    EXPECT_EQ(kindOf([&] { Garage::open(folder.file("g")); }), GarageError::Kind::Newer);
    EXPECT_TRUE(readBytes(folder.file("g")) == before);
}

TEST(Safety, aTruncatedGarageIsOpenedForReadingAtMostAndNeverWritten) {
    const TempFolder folder;
    makeFilled(folder.file("whole"));
    const std::string whole = readBytes(folder.file("whole"));
    for (const std::size_t size :
         {std::size_t{0}, std::size_t{50}, std::size_t{100}, std::size_t{4095}, std::size_t{4096}, std::size_t{20000},
          whole.size() / 2, whole.size() - 4096, whole.size() - 1}) {
        writeBytes(folder.file("g"), whole.substr(0, size));
        try {
            Garage garage = Garage::open(folder.file("g"));
            EXPECT_EQ(garage.access(), Garage::Access::Damaged) << size;
            EXPECT_FALSE(garage.problems().empty());
            EXPECT_EQ(kindOf([&] { garage.retire({ItemKind::Vehicle, 1}); }), GarageError::Kind::Damaged);
        } catch (const GarageError& error) {
            EXPECT_TRUE(error.kind() == GarageError::Kind::Damaged || error.kind() == GarageError::Kind::NotAGarage)
                << size << error.what();
        }
        EXPECT_TRUE(readBytes(folder.file("g")) == whole.substr(0, size)) << size;
    }
}

TEST(Safety, aFlippedByteAnywhereIsToldOrHarmlessAndADamagedFileIsNeverWritten) {
    const TempFolder folder;
    makeFilled(folder.file("whole"));
    const std::string whole = readBytes(folder.file("whole"));
    int damaged = 0, refused = 0, unseen = 0;
    for (std::size_t at = 0; at < whole.size(); at += at < 200 ? 1 : 997) {
        for (const char* const part : {"g-journal", "g-wal", "g-shm"})
            disk::removeFile(folder.file(part));
        std::string flipped = whole;
        flipped[at] = static_cast<char>(flipped[at] ^ (1 << (at % 8)));
        writeBytes(folder.file("g"), flipped);
        bool isDamaged = false;
        try {
            Garage garage = Garage::open(folder.file("g"));
            isDamaged = garage.access() == Garage::Access::Damaged;
            ++(isDamaged ? damaged : unseen);
            static_cast<void>(garage.check(true));
            static_cast<void>(contentOf(garage));
        } catch (const GarageError&) {
            ++refused;
        } catch (const InputError&) {
            ++refused; // a stored document that no longer reads
        }
        EXPECT_TRUE(!isDamaged || readBytes(folder.file("g")) == flipped) << at;
    }
    std::printf("flips: %d damaged, %d refused, %d within values or free space\n", damaged, refused, unseen);
    EXPECT_GT(damaged + refused, 20);
}

TEST(Safety, aFlippedByteInALogIsAlwaysFoundByTheFullCheck) {
    const TempFolder folder;
    std::string packed;
    Garage::create(folder.file("whole"), {}, [&packed](Garage& garage) {
        LogRecord log = logRecordFor(logText(5, 3000));
        packed = log.packed.zstd;
        garage.addLog(log);
    });
    const std::string whole = readBytes(folder.file("whole"));
    const std::size_t begin = whole.find(packed.substr(2000, 200)); // within one overflow page
    ASSERT_NE(begin, std::string::npos);
    for (std::size_t at = begin; at < begin + 200; at += 7) {
        std::string flipped = whole;
        flipped[at] = static_cast<char>(flipped[at] ^ 4);
        writeBytes(folder.file("g"), flipped);
        Garage garage = Garage::open(folder.file("g"));
        EXPECT_FALSE(garage.check(true).ok) << at;
        EXPECT_EQ(kindOf([&] { static_cast<void>(garage.logBytes({ItemKind::Log, 1})); }), GarageError::Kind::Damaged);
    }
}

TEST(Safety, aReadOnlyFileOrFolderCanBeReadAndSaysWhyItCannotBeChanged) {
    const TempFolder folder;
    ::chmod(folder.path().c_str(), 0777);
    makeFilled(folder.file("g"));
    ::chmod(folder.file("g").c_str(), 0444);
    const auto readsAndRefuses = [&folder] {
        Garage garage = Garage::open(folder.file("g"));
        if (garage.access() != Garage::Access::ReadOnly || garage.count(ItemKind::Vehicle) != 1) return 1;
        try {
            garage.retire({ItemKind::Vehicle, 1});
        } catch (const GarageError& error) {
            return error.kind() == GarageError::Kind::ReadOnly ? 0 : 2;
        }
        return 3;
    };
    EXPECT_EQ(asNobody(readsAndRefuses), 0) << "file";
    ::chmod(folder.file("g").c_str(), 0666);
    ::chmod(folder.path().c_str(), 0555);
    EXPECT_EQ(asNobody(readsAndRefuses), 0) << "folder";
    const auto createsNot = [&folder] {
        try {
            Garage::create(folder.file("new"));
        } catch (const GarageError& error) {
            return error.kind() == GarageError::Kind::ReadOnly ? 0 : 2;
        }
        return 3;
    };
    EXPECT_EQ(asNobody(createsNot), 0);
    ::chmod(folder.path().c_str(), 0777);
}

namespace {

const char* const hostileTexts[] = {"'; DROP TABLE item; --",
                                    "\"\"\"",
                                    "%s%n%x",
                                    "<script>alert(1)</script><b>&amp;",
                                    "line\nbreak\r\ttab\x01\x1b[31m",
                                    "\u202Egnirts",
                                    "🏁 żółć 漢字",
                                    "' OR '1'='1",
                                    "../../etc/passwd",
                                    "NULL",
                                    "\\x00",
                                    "search MATCH \"*",
                                    "=1+1"};

} // namespace

TEST(Hostile, textsInEveryFieldAreDataAndComeBackAsTheyWere) {
    const TempFolder folder;
    Garage garage = Garage::create(folder.file("g"));
    const Filled ids = fill(garage);
    for (const std::string text : hostileTexts) {
        for (const ItemKind kind : allKinds()) {
            if (!isPart(kind)) continue;
            Part part;
            part.id.kind = kind, part.name = text, part.description = text, part.notes = text, part.document = text;
            const Id id = garage.add(part);
            const Part back = garage.part(id);
            EXPECT_TRUE(back.name == text && back.description == text && back.notes == text && back.document == text);
        }
        Part vehicle = garage.part({ItemKind::Vehicle, 1});
        vehicle.values["vehicle.mass_kg"].unitShown = text.substr(0, 50), vehicle.values["vehicle.mass_kg"].note = text;
        garage.update(vehicle);
        EXPECT_EQ(garage.part({ItemKind::Vehicle, 1}).values.at("vehicle.mass_kg").note, text);
        rw::Setup setup = garage.setup(ids.plan.setup);
        setup.name = text, setup.notes = text;
        const rw::Setup revised = garage.setup(garage.revise(setup, text));
        EXPECT_TRUE(revised.name == text && revised.notes == text && revised.reason == text);
        Outing outing = garage.outing(ids.outing);
        outing.name = text, outing.notes = text, outing.photos = {text};
        garage.updateOuting(outing);
        EXPECT_EQ(garage.outing(ids.outing).photos.front(), text);
        StoredLog log = garage.log(ids.log);
        log.name = text, log.notes = text;
        garage.updateLog(log);
        garage.notePass({ItemKind::Pass, 1}, Direction::There, text);
        EXPECT_EQ(garage.pass({ItemKind::Pass, 1}).notes, text);
        StoredPlan plan;
        plan.name = plan.input = plan.result = plan.settings = plan.program = plan.notes = text;
        EXPECT_EQ(garage.plan(garage.addPlan(plan)).settings, text);
        static_cast<void>(garage.search(text));
        static_cast<void>(garage.passesCsv({}));
        EXPECT_NO_THROW(static_cast<void>(garage.exportItem({ItemKind::Vehicle, 1})));
    }
    EXPECT_TRUE(garage.check(true).ok);
}

TEST(Hostile, whatIsNoTextOrTooLongOrNoNumberIsRefusedBeforeAnythingChanges) {
    const TempFolder folder;
    Garage garage = Garage::create(folder.file("g"));
    fill(garage);
    const std::string before = contentOf(garage);
    Part part = garage.part({ItemKind::Vehicle, 1});
    const auto refuses = [&](const std::function<void(Part&)>& spoil) {
        Part spoilt = part;
        spoil(spoilt);
        EXPECT_THROW(garage.add(spoilt), InputError);
        EXPECT_THROW(garage.update(spoilt), InputError);
    };
    refuses([](Part& p) { p.name = std::string("a\0b", 3); });
    refuses([](Part& p) { p.name = ""; });
    refuses([](Part& p) { p.name = "\xFF\xFE"; });
    refuses([](Part& p) { p.notes = "\xC0\x80"; });         // NUL in two bytes: not the shortest form, RFC 3629
    refuses([](Part& p) { p.notes = "\xED\xA0\x80"; });     // a surrogate
    refuses([](Part& p) { p.notes = "\xF4\x90\x80\x80"; }); // over U+10FFFF
    refuses([](Part& p) { p.notes = "cut \xE2\x82"; });
    refuses([](Part& p) { p.name = std::string(201, 'x'); });
    refuses([](Part& p) { p.values["motor.kv_rpm_per_V"].number = 1.0; });
    refuses([](Part& p) { p.values["nonsense"].number = 1.0; });
    refuses([](Part& p) { p.values["vehicle.mass_kg"].number = -1.0; });
    refuses([](Part& p) { p.values["vehicle.mass_kg"].number = std::nan(""); });
    refuses([](Part& p) { p.values["vehicle.mass_kg"].uncertainty = -1.0; });
    refuses([](Part& p) { p.values["vehicle.driven"].text = "sideways"; });
    EXPECT_THROW(garage.revise(garage.setup({ItemKind::Setup, 1}), " "), InputError);
    EXPECT_EQ(contentOf(garage), before);
}

} // namespace rw::test
