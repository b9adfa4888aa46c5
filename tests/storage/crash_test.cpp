// A committed change survives; an interrupted one leaves no trace: at every step that reaches the file system.
#include "tests/storage/fault_disk.h"
#include "tests/storage/support.h"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/file.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <functional>
#include <set>

namespace rw::test {

namespace {

namespace fs = std::filesystem;

GarageOptions faulty(GarageOptions::Journal journal) {
    registerFaultDisk();
    GarageOptions out;
    out.vfs = faultVfs;
    out.journal = journal;
    out.wait = std::chrono::milliseconds(0);
    return out;
}

void copyGarage(const std::string& from, const std::string& to) {
    for (const char* const part : {"-journal", "-wal", "-shm"})
        fs::remove(to + part);
    fs::copy_file(from, to, fs::copy_options::overwrite_existing);
}

// Runs `work` with a power cut at every step in turn. Returns how many points were tried.
struct Attempt {
    std::string base, file, before, after; // content
    GarageOptions options;
};

void expectOldOrNew(const Attempt& attempt, bool acknowledged, long at) {
    Garage found = Garage::open(attempt.file);
    ASSERT_EQ(found.access(), Garage::Access::ReadWrite)
        << "at step " << at << ": " << (found.problems().empty() ? "" : found.problems().front());
    const std::string content = contentOf(found);
    const bool old = content == attempt.before;
    EXPECT_TRUE(content == attempt.after || (old && !acknowledged))
        << (old ? "lost although acknowledged" : "neither old nor new") << " at step " << at;
}

long cutPowerAtEveryStep(const Attempt& attempt, std::uint32_t seed, const std::function<void(Garage&)>& work) {
    for (long at = 1;; ++at) {
        copyGarage(attempt.base, attempt.file);
        plan({Fault::Kind::PowerCut, at, seed});
        bool acknowledged = false;
        try {
            Garage garage = Garage::open(attempt.file, attempt.options);
            work(garage);
            acknowledged = true;
        } catch (const GarageError&) {
            EXPECT_TRUE(faultHappened());
        }
        const bool reached = faultHappened();
        losePower();
        expectOldOrNew(attempt, acknowledged, at);
        if (!reached || ::testing::Test::HasFatalFailure()) return at - 1;
    }
}

class Crash : public ::testing::TestWithParam<GarageOptions::Journal> {
protected:
    // A base file with one of everything, and its content before and after `work`.
    Attempt attemptOf(const std::function<void(Garage&)>& work) {
        Attempt out;
        out.base = folder.file("base.garage"), out.file = folder.file("try.garage");
        out.options = faulty(GetParam());
        {
            Garage garage = Garage::create(out.base, {}, [](Garage& made) { fill(made); });
            out.before = contentOf(garage);
        }
        copyGarage(out.base, out.file);
        Garage garage = Garage::open(out.file, out.options);
        const bool ahead = GetParam() == GarageOptions::Journal::WriteAhead;
        EXPECT_EQ(garage.check(false).journal.starts_with("write-ahead log"), ahead);
        work(garage);
        out.after = contentOf(garage);
        return out;
    }
    TempFolder folder;
};

void addALog(Garage& garage) { garage.addLog(logRecordFor(logText(7, 2000), 5)); }

// A log with a new outing and a new column map, which are nothing without it.
LogCompany company() {
    LogCompany out;
    out.outing.emplace();
    out.outing->name = "new day", out.outing->date = "2026-05-02", out.outing->venue = Id{ItemKind::Venue, 1};
    out.columnMap.emplace();
    out.columnMap->id.kind = ItemKind::ColumnMap, out.columnMap->name = "map.json", out.columnMap->document = "{}";
    return out;
}
void keepALog(Garage& garage) { garage.keepLog(logRecordFor(logText(8, 2000), 5), company()); }

} // namespace

TEST_P(Crash, aPowerCutAtAnyStepOfKeepingALogInANewOutingLeavesAllOfItOrNothing) {
    const Attempt attempt = attemptOf(keepALog);
    EXPECT_NE(attempt.after.find("new day"), std::string::npos);
    EXPECT_EQ(attempt.before.find("new day"), std::string::npos);
    EXPECT_GT(cutPowerAtEveryStep(attempt, 1, keepALog), 15);
}

TEST_P(Crash, aPowerCutAtAnyStepOfAddLogLeavesTheOldOrTheNewGarage) {
    const Attempt attempt = attemptOf(addALog);
    long points = 0;
    for (const std::uint32_t seed : {1u, 2u, 3u})
        points += cutPowerAtEveryStep(attempt, seed, addALog);
    RecordProperty("points", std::to_string(points));
    std::printf("power cuts tried: %ld\n", points);
    EXPECT_GT(points, 50);
}

TEST_P(Crash, aPowerCutAtAnyStepOfUndoLeavesTheOldOrTheNewGarage) {
    const auto work = [](Garage& garage) {
        garage.retire({ItemKind::Vehicle, 1});
        garage.undo();
        garage.remove({ItemKind::Checklist, 1});
    };
    Attempt attempt = attemptOf(work);
    const long points = cutPowerAtEveryStep(
        {attempt.base, attempt.file, attempt.before, attempt.after, attempt.options}, 4, [](Garage& garage) {
            garage.remove({ItemKind::Checklist, 1});
        });
    EXPECT_GT(points, 5);
}

TEST_P(Crash, aWriteThatFailsAnywhereInAddLogChangesNothingOrAll) {
    const Attempt attempt = attemptOf(addALog);
    for (const Fault::Kind kind : {Fault::Kind::FailOnce, Fault::Kind::DiskFull}) {
        for (long at = 1;; ++at) {
            copyGarage(attempt.base, attempt.file);
            bool acknowledged = false;
            {
                Garage garage = Garage::open(attempt.file, attempt.options);
                plan({kind, at, 1});
                try {
                    addALog(garage);
                    acknowledged = true;
                } catch (const GarageError& error) {
                    // Some of SQLite's own steps turn "full" into an input or output error of theirs.
                    const bool told =
                        error.kind() == GarageError::Kind::Full || error.kind() == GarageError::Kind::Failed;
                    EXPECT_TRUE(kind != Fault::Kind::DiskFull || told) << error.what();
                }
            }
            const bool reached = faultHappened();
            plan({});
            expectOldOrNew(attempt, acknowledged, at);
            if (!reached || HasFatalFailure()) break;
        }
    }
}

INSTANTIATE_TEST_SUITE_P(Journal, Crash,
                         ::testing::Values(GarageOptions::Journal::Rollback, GarageOptions::Journal::WriteAhead),
                         [](const auto& named) {
                             return named.param == GarageOptions::Journal::Rollback ? "rollback" : "writeAhead";
                         });

namespace {

// Every action of the garage, each to be done on what those before left.
std::vector<std::function<void(Garage&)>> everyAction() {
    return {[](Garage& g) { g.addSetupFromPlan(fullPlan(), {}); },
            [](Garage& g) {
                Part p = g.part({ItemKind::Vehicle, 1});
                p.notes = "changed";
                g.update(p);
            },
            [](Garage& g) {
                g.duplicate({ItemKind::Pack, 1}, "another");
            },
            [](Garage& g) {
                g.revise(g.setup({ItemKind::Setup, 1}), "because");
            },
            [](Garage& g) {
                Outing o;
                o.name = "day", o.date = "2026-05-01", o.setups = {{ItemKind::Setup, 2}};
                g.addOuting(o);
            },
            [](Garage& g) {
                LogRecord log = logRecordFor(logText(3, 50));
                log.setup = Id{ItemKind::Setup, 2};
                g.addLog(log);
            },
            [](Garage& g) {
                g.notePass({ItemKind::Pass, 2}, Direction::Back, "gust");
            },
            [](Garage& g) {
                g.setSession({ItemKind::Session, 1}, {}, Id{ItemKind::Pack, 2});
            },
            [](Garage& g) {
                g.replaceReview({ItemKind::Log, 1}, logRecordFor(logText(3, 50), 2));
            },
            keepALog,
            [](Garage& g) {
                LogRecord again = logRecordFor(logText(8, 2000), 4); // the same bytes, cut otherwise
                again.notes = "kept again", again.sessions[0].pack = Id{ItemKind::Pack, 1};
                g.keepLog(again, company());
            },
            [](Garage& g) {
                g.noteSpeeds({ItemKind::Pass, 1}, {{SpeedKind::Peak, 44.5, 0.3}});
            },
            [](Garage& g) {
                Fit f;
                f.name = "drag", f.setup = Id{ItemKind::Setup, 2}, f.passes = {{ItemKind::Pass, 2}};
                f.parameters = {{"vehicle.drag_area_m2", 0.02, 0.001, true, "", {}, {}, {}, {}, ""}};
                g.addFit(f);
            },
            [](Garage& g) {
                g.acceptFit({ItemKind::Fit, 1}, {{}, {{ItemKind::Vehicle, 1}}, ""});
            },
            [](Garage& g) {
                StoredPlan p;
                p.name = "plan", p.setup = Id{ItemKind::Setup, 2};
                g.addPlan(p);
            },
            [](Garage& g) {
                g.importItems(g.exportItem({ItemKind::Vehicle, 1}), "export");
            },
            [](Garage& g) {
                g.retire({ItemKind::Pack, 2});
            },
            [](Garage& g) {
                g.remove({ItemKind::Plan, 1});
            },
            [](Garage& g) { g.undo(); },
            [](Garage& g) { g.redo(); }};
}

} // namespace

TEST(Killed, whatAnInterruptedCreateLeftIsTakenAwayAndNothingElse) {
    const TempFolder folder;
    const std::string place = folder.file("g.garage");
    const pid_t child = ::fork();
    if (child == 0) {
        static_cast<void>(Garage::create(place, {}, [](Garage& made) {
            fill(made);
            ::raise(SIGKILL);
        }));
        ::_exit(0);
    }
    int status = 0;
    ASSERT_EQ(::waitpid(child, &status, 0), child);
    ASSERT_TRUE(WIFSIGNALED(status));
    const auto names = [&] {
        std::set<std::string> found;
        for (const auto& entry : fs::directory_iterator(folder.path()))
            found.insert(entry.path().filename().string());
        return found;
    };
    const std::set<std::string> left = names();
    ASSERT_FALSE(left.empty());
    EXPECT_EQ(left.count("g.garage"), 0U);
    // Other names, another garage's, and what somebody is making just now.
    const std::set<std::string> others{"g.garage.making-notes", "g.garage.making-1-2-old", "h.garage.making-1-1",
                                       "g.garage.making-7-7"};
    for (const std::string& name : others)
        writeBytes(folder.file(name), "mine");
    const int held = ::open(folder.file("g.garage.making-7-7").c_str(), O_RDWR);
    ASSERT_EQ(::flock(held, LOCK_EX), 0);
    std::set<std::string> expected = others;
    expected.insert("g.garage");
    { const Garage garage = Garage::create(place); }
    EXPECT_EQ(names(), expected);
    ::close(held);
    { const Garage garage = Garage::open(place); }
    expected.erase("g.garage.making-7-7");
    EXPECT_EQ(names(), expected);
}

TEST(Killed, atAnyWriteOfAnyActionTheGarageOpensWithEverythingThatWasAcknowledged) {
    const TempFolder folder;
    const auto actions = everyAction();
    const GarageOptions options = faulty(GarageOptions::Journal::ByLibrary);
    std::vector<std::string> states;
    { Garage made = Garage::create(folder.file("base.garage")); }
    copyGarage(folder.file("base.garage"), folder.file("try.garage"));
    plan({});
    {
        Garage garage = Garage::open(folder.file("try.garage"), options);
        plan({});
        states.push_back(contentOf(garage));
        for (const auto& action : actions) {
            action(garage);
            states.push_back(contentOf(garage));
        }
    }
    const long steps = stepsSeen();
    long points = 0;
    for (long at = 1; at <= steps; at += 2 + at % 7) { // every fifth write or so: the whole is some hundred kills
        copyGarage(folder.file("base.garage"), folder.file("try.garage"));
        int ends[2];
        ASSERT_EQ(::pipe(ends), 0);
        const pid_t child = ::fork();
        if (child == 0) {
            Garage garage = Garage::open(folder.file("try.garage"), options);
            plan({Fault::Kind::Kill, at, 1});
            for (const auto& action : actions) {
                action(garage);
                if (::write(ends[1], "+", 1) != 1) ::_exit(2);
            }
            ::_exit(0);
        }
        ::close(ends[1]);
        std::size_t acknowledged = 0;
        for (char c = 0; ::read(ends[0], &c, 1) == 1;)
            ++acknowledged;
        ::close(ends[0]);
        int status = 0;
        ::waitpid(child, &status, 0);
        Garage found = Garage::open(folder.file("try.garage"));
        ASSERT_EQ(found.access(), Garage::Access::ReadWrite) << "at " << at;
        const std::string content = contentOf(found);
        EXPECT_TRUE(content == states[acknowledged] ||
                    (acknowledged + 1 < states.size() && content == states[acknowledged + 1]))
            << "killed at write " << at << " after " << acknowledged << " acknowledged actions";
        ++points;
    }
    std::printf("kills tried: %ld of %ld writes\n", points, steps);
    EXPECT_GT(points, 50);
}

} // namespace rw::test
