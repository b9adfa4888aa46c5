// What is saved of files with a tenth of their pages overwritten. The account of which rows lay on which page is
// SQLite's own (dbstat, sqlite.org/dbstat.html).
#include "storage/leaf_pages.h"
#include "tests/storage/support.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <gtest/gtest.h>

#include <array>
#include <map>
#include <random>
#include <set>

namespace rw::test {

namespace {

namespace fs = std::filesystem;

// A garage in which every table is larger than one page.
void fillLarge(Garage& garage) {
    const Filled ids = fill(garage);
    for (int i = 0; i < 60; ++i) {
        Part part = garage.part(garage.setup(ids.plan.setup).motor);
        part.name = "motor " + std::to_string(i), part.notes = std::string(static_cast<std::size_t>(20 + i), 'n');
        garage.add(part);
    }
    for (unsigned i = 0; i < 25; ++i) {
        Setup edited = garage.setup(ids.revision);
        edited.values["gears.pinion_teeth"].number = 10.0 + i;
        LogRecord log = logRecordFor(logText(100 + i, 60), 12);
        log.setup = garage.revise(edited, "step " + std::to_string(i)), log.outing = ids.outing;
        for (PassRecord& pass : log.passes)
            pass.notes = "noted " + std::to_string(i), pass.noted = {{SpeedKind::Peak, 40.0 + i / 7.0, 0.3}};
        garage.addLog(log);
        Outing outing;
        outing.name = "day " + std::to_string(i), outing.date = "2026-06-" + std::to_string(10 + i % 20);
        outing.setups = {ids.revision}, outing.photos = {"photos/" + std::to_string(i) + ".jpg"};
        outing.notes = std::string(200, 'd');
        garage.addOuting(outing);
    }
}

// Of a table: the columns that identify a row, and those that must come back as they were.
struct Compared {
    const char* table;
    const char* key;
    const char* columns;
};
constexpr std::array compared{
    Compared{"item", "id", "kind, number, name, description, notes, created"},
    Compared{"item_value", "item || '|' || key", "number, text, unit_shown, uncertainty, source, note"},
    Compared{"outing", "item", "date"},
    Compared{"setup", "item", "revision, reason, motor, pinion"},
    Compared{"session", "id", "log, place, start_row, end_row, start_s, resting_V"},
    Compared{"pass", "id", "log, session, place, start_s, complete, direction, notes, zone_speed_mps, pack_ohm"},
    Compared{"pass_figures", "pass", "json"},
    Compared{"pass_noted", "pass || '|' || kind", "speed_mps, uncertainty_mps"},
    Compared{"outing_photo", "outing || '|' || place", "path"},
};

std::map<std::string, std::string> rowsOf(SQLite::Database& file, const Compared& table,
                                          std::vector<std::string>* order = nullptr) {
    std::map<std::string, std::string> out;
    SQLite::Statement all(file, std::string("SELECT ") + table.key + ", " + table.columns + " FROM " + table.table +
                                    " NOT INDEXED");
    while (all.executeStep()) {
        std::string row;
        for (int i = 1; i < all.getColumnCount(); ++i)
            row += all.getColumn(i).getString() + "\n";
        const std::string key = all.getColumn(0).getString();
        if (order != nullptr) order->push_back(key);
        out.emplace(key, std::move(row));
    }
    return out;
}

// Keys by the leaf page that they lie on. A table without rowid keeps one row above between every two leaves.
std::map<int, std::vector<std::string>> keysByLeaf(SQLite::Database& file, const Compared& table) {
    std::vector<std::string> order;
    rowsOf(file, table, &order);
    SQLite::Statement rowless(file, "SELECT wr FROM pragma_table_list WHERE schema = 'main' AND name = ?");
    rowless.bind(1, table.table);
    const bool between = rowless.executeStep() && rowless.getColumn(0).getInt() == 1;
    SQLite::Statement leaves(file,
                             "SELECT pageno, ncell FROM dbstat WHERE name = ? AND pagetype = 'leaf' ORDER BY path");
    leaves.bind(1, table.table);
    std::map<int, std::vector<std::string>> out;
    std::size_t at = 0;
    while (leaves.executeStep()) {
        std::vector<std::string>& keys = out[leaves.getColumn(0).getInt()];
        for (int i = 0; i < leaves.getColumn(1).getInt() && at < order.size(); ++i)
            keys.push_back(order[at++]);
        if (between) ++at;
    }
    EXPECT_GE(at + 1, order.size()) << table.table;
    return out;
}

struct Damage {
    std::set<int> pages; // from 1
    std::string bytes;
};

Damage damaged(std::string bytes, unsigned seed) {
    constexpr std::size_t pageSize = 4096;
    std::mt19937 random(seed);
    const int pages = static_cast<int>(bytes.size() / pageSize);
    Damage out;
    if (seed % 2 == 1) out.pages = {1, 2}; // the schema too
    while (static_cast<int>(out.pages.size()) < pages / 10)
        out.pages.insert(1 + static_cast<int>(random() % static_cast<unsigned>(pages)));
    for (const int page : out.pages)
        for (std::size_t i = 0; i < pageSize; ++i)
            bytes[static_cast<std::size_t>(page - 1) * pageSize + i] =
                seed % 3 == 0 ? '\0' : static_cast<char>(random() & 0xFFU);
    out.bytes = std::move(bytes);
    return out;
}

class Overwritten : public ::testing::TestWithParam<unsigned> {};

} // namespace

TEST_P(Overwritten, everyRowOfEveryLeafPageThatIsLeftIsSaved) {
    const TempFolder folder;
    Garage::create(folder.file("g"), {}, fillLarge);
    const std::string sound = readBytes(folder.file("g"));
    const Damage damage = damaged(sound, GetParam());
    writeBytes(folder.file("broken"), damage.bytes);
    const SalvageReport report = salvageGarage(folder.file("broken"), folder.file("saved"));
    EXPECT_TRUE(readBytes(folder.file("broken")) == damage.bytes);
    {
        Garage saved = Garage::open(folder.file("saved"));
        EXPECT_EQ(saved.access(), Garage::Access::ReadWrite);
        const GarageCheck check = saved.check(true);
        EXPECT_TRUE(check.ok) << (check.problems.empty() ? "" : check.problems.front());
        for (const ItemKind kind : allKinds()) // everything that is listed can be read
            for (const ListRow& row : saved.list(kind, true))
                if (kind == ItemKind::Setup)
                    static_cast<void>(saved.setup(row.id));
                else if (kind == ItemKind::Log)
                    static_cast<void>(saved.logBytes(row.id));
                else if (kind == ItemKind::Fit)
                    static_cast<void>(saved.fit(row.id));
                else if (kind == ItemKind::Outing)
                    static_cast<void>(saved.outing(row.id));
        EXPECT_FALSE(saved.passes({}).empty());
        // A log whose bytes are lost can be added again.
        const AddedLog again = saved.addLog(logRecordFor(logText(103, 60), 12));
        EXPECT_EQ(saved.logBytes(again.log), logText(103, 60));
        Part motor;
        motor.id.kind = ItemKind::Motor, motor.name = "goes on";
        EXPECT_NO_THROW(saved.add(motor));
    }
    SQLite::Database before(folder.file("g")), after(folder.file("saved"));
    int leaves = 0;
    for (const Compared& table : compared) {
        const auto was = rowsOf(before, table), is = rowsOf(after, table);
        for (const auto& [page, keys] : keysByLeaf(before, table)) {
            if (damage.pages.contains(page)) continue;
            ++leaves;
            for (const std::string& key : keys) {
                const auto found = is.find(key);
                ASSERT_NE(found, is.end()) << table.table << " " << key << " of page " << page;
                EXPECT_EQ(found->second, was.at(key)) << table.table << " " << key << " of page " << page;
            }
        }
    }
    EXPECT_GT(leaves, 60);
    // Nothing is invented: every row that stood on a page was there before, stand-ins aside.
    const auto values = rowsOf(before, compared[1]);
    for (const auto& [key, row] : rowsOf(after, compared[1]))
        EXPECT_TRUE(values.contains(key)) << key;
}

INSTANTIATE_TEST_SUITE_P(Seed, Overwritten, ::testing::Range(1u, 9u));

// Whatever stands on a page: it is read within its bounds (under the sanitizers), and to an end.
TEST(LeafPages, anyBytesAreReadWithoutHarm) {
    const TempFolder folder;
    {
        Garage garage = Garage::create(folder.file("g"), {}, [](Garage& made) { fill(made); });
    }
    const std::string sound = readBytes(folder.file("g"));
    std::mt19937 random(3);
    std::size_t records = 0;
    for (int round = 0; round < 60; ++round) {
        std::string bytes = sound.substr(0, sound.size() - random() % 5000);
        for (int i = 0; i < 3000; ++i) // most of it in the headers of pages, where lengths and places stand
            bytes[(random() % bytes.size()) & (random() % 2 == 0 ? ~std::size_t{0} : ~std::size_t{0xFC0})] =
                static_cast<char>(random() & 0xFFU);
        const RawFile file(bytes);
        for (std::uint32_t page = 0; page <= file.pages() + 1; ++page)
            if (const auto found = file.page(page)) records += found->records.size();
    }
    EXPECT_GT(records, 100u);
    for (const std::size_t size : {0U, 1U, 99U, 100U, 511U, 4095U, 4096U})
        EXPECT_LE(RawFile(sound.substr(0, size)).pages(), size / 512);
}

TEST(Salvage, rowsThatWereRemovedDoNotComeBack) {
    const TempFolder folder;
    {
        Garage garage = Garage::create(folder.file("g"), {}, fillLarge);
        for (const Part& part : garage.parts(ItemKind::Motor))
            if (part.name.starts_with("motor ")) garage.remove(part.id);
    }
    std::string bytes = readBytes(folder.file("g"));
    SQLite::Database before(folder.file("g"));
    const int root = before.execAndGet("SELECT rootpage FROM sqlite_schema WHERE name = 'item_value'").getInt();
    bytes.replace(static_cast<std::size_t>(root - 1) * 4096, 4096, std::string(4096, '\x5A'));
    writeBytes(folder.file("broken"), bytes);
    static_cast<void>(salvageGarage(folder.file("broken"), folder.file("saved")));
    Garage saved = Garage::open(folder.file("saved"));
    for (const Part& part : saved.parts(ItemKind::Motor))
        EXPECT_FALSE(part.name.starts_with("motor ")) << part.name;
}

} // namespace rw::test
