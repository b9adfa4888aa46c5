// Random actions against a model in memory that knows nothing of files.
#include "core/error.h"
#include "tests/storage/support.h"

#include <gtest/gtest.h>

#include <map>
#include <random>

namespace rw::test {

namespace {

// What should be there: parts by id, logs by their bytes, and the states that undo and redo lead to.
struct Model {
    struct Thing {
        std::string name, notes;
        double mass = 0.0;
        bool retired = false;
        bool operator==(const Thing&) const = default;
    };
    struct State {
        std::map<Id, Thing> vehicles;
        std::map<std::string, int> logs;                 // bytes → passes
        std::map<Id, std::pair<Id, std::string>> setups; // id → parent (or itself), reason
        std::map<Id, double> noted;                      // pass → peak speed that was read off
        std::map<Id, std::string> outings;               // id → name
        bool operator==(const State&) const = default;
    };
    State now;
    std::vector<State> undo, redo;

    void change(State next) {
        undo.push_back(std::move(now));
        redo.clear();
        now = std::move(next);
        if (undo.size() > 100) undo.erase(undo.begin());
    }
};

class RandomActions {
public:
    explicit RandomActions(unsigned seed)
        : random_(seed) {
        Garage::create(path_, {}, [](Garage& garage) {
            const PlanIds ids = garage.addSetupFromPlan(fullPlan(), {});
            static_cast<void>(ids);
        });
        garage_ = std::make_unique<Garage>(Garage::open(path_));
        model_.now = look();
    }

    void step() {
        switch (random_() % 14) {
        case 0:
        case 1:
            addVehicle();
            break;
        case 2:
        case 3:
            changeVehicle();
            break;
        case 4:
            retireVehicle();
            break;
        case 5:
            removeVehicle();
            break;
        case 6:
            addLog();
            break;
        case 7:
            revise();
            break;
        case 8:
        case 9:
            undo();
            break;
        case 10:
            redo();
            break;
        case 11:
            noteSpeed();
            break;
        case 12:
            keepLog();
            break;
        default:
            reopen();
            break;
        }
    }

    [[nodiscard]] Model::State look() {
        Model::State out;
        for (const Part& part : garage_->parts(ItemKind::Vehicle, true)) {
            const auto mass = part.values.find("vehicle.mass_kg");
            out.vehicles[part.id] = {part.name, part.notes,
                                     mass == part.values.end() ? 0.0 : mass->second.number.value_or(0.0), part.retired};
        }
        for (const StoredLog& log : garage_->logs())
            out.logs[garage_->logBytes(log.id)] = log.passes;
        for (const Setup& setup : garage_->setups())
            out.setups[setup.id] = {setup.parent.value_or(setup.id), setup.reason};
        for (const StoredPass& pass : garage_->passes({}))
            for (const SpeedNote& note : pass.noted)
                out.noted[pass.id] = note.mps;
        for (const Outing& outing : garage_->outings())
            out.outings[outing.id] = outing.name;
        return out;
    }
    [[nodiscard]] const Model::State& expected() const { return model_.now; }
    [[nodiscard]] Garage& garage() { return *garage_; }

private:
    template<class Map>
    [[nodiscard]] typename Map::key_type any(const Map& map) {
        return std::next(map.begin(), static_cast<std::ptrdiff_t>(random_() % map.size()))->first;
    }
    [[nodiscard]] std::string text() { return "text " + std::to_string(random_() % 1000); }
    [[nodiscard]] bool referred(Id vehicle) const { return vehicle == Id{ItemKind::Vehicle, 1}; } // by the setup

    void addVehicle() {
        Part part;
        part.id.kind = ItemKind::Vehicle, part.name = text(),
        part.values["vehicle.mass_kg"].number = 1.0 + static_cast<double>(random_() % 1000) / 7.0 / 10.0;
        Model::State next = model_.now;
        const Id id = garage_->add(part);
        EXPECT_FALSE(next.vehicles.contains(id));
        next.vehicles[id] = {part.name, "", *part.values["vehicle.mass_kg"].number, false};
        model_.change(std::move(next));
    }
    void changeVehicle() {
        const Id id = any(model_.now.vehicles);
        Part part = garage_->part(id);
        part.notes = text() + std::to_string(++serial_);
        garage_->update(part);
        Model::State next = model_.now;
        next.vehicles[id].notes = part.notes;
        model_.change(std::move(next));
    }
    void retireVehicle() {
        const Id id = any(model_.now.vehicles);
        Model::State next = model_.now;
        next.vehicles[id].retired = !next.vehicles[id].retired;
        garage_->retire(id, next.vehicles[id].retired);
        model_.change(std::move(next));
    }
    void removeVehicle() {
        const Id id = any(model_.now.vehicles);
        if (referred(id)) {
            EXPECT_THROW(garage_->remove(id), GarageError);
            return;
        }
        garage_->remove(id);
        Model::State next = model_.now;
        next.vehicles.erase(id);
        model_.change(std::move(next));
    }
    void addLog() {
        const std::string bytes = logText(static_cast<unsigned>(random_() % 6), 20);
        const AddedLog added = garage_->addLog(logRecordFor(bytes, 2));
        EXPECT_EQ(added.alreadyThere, model_.now.logs.contains(bytes));
        if (added.alreadyThere) return;
        Model::State next = model_.now;
        next.logs[bytes] = 2;
        model_.change(std::move(next));
    }
    // A log with a new outing: both or none; the same bytes are kept again, with another outing.
    void keepLog() {
        const std::string bytes = logText(static_cast<unsigned>(random_() % 6), 20);
        LogCompany with;
        with.outing.emplace();
        with.outing->name = text();
        const AddedLog kept = garage_->keepLog(logRecordFor(bytes, 2), with);
        EXPECT_EQ(kept.alreadyThere, model_.now.logs.contains(bytes));
        Model::State next = model_.now;
        next.logs[bytes] = 2;
        next.outings[kept.outing.value()] = with.outing->name;
        model_.change(std::move(next));
    }
    void noteSpeed() {
        const std::vector<StoredPass> passes = garage_->passes({});
        if (passes.empty()) return;
        const Id pass = passes[random_() % passes.size()].id;
        Model::State next = model_.now;
        next.noted[pass] = 30.0 + ++serial_ / 7.0;
        garage_->noteSpeeds(pass, {{SpeedKind::Peak, next.noted[pass], 0.3}});
        model_.change(std::move(next));
    }
    void revise() {
        const Id parent = any(model_.now.setups);
        const std::string reason = text();
        const Id id = garage_->revise(garage_->setup(parent), reason);
        Model::State next = model_.now;
        next.setups[id] = {parent, reason};
        model_.change(std::move(next));
    }
    void undo() {
        EXPECT_EQ(garage_->undoText().has_value(), !model_.undo.empty());
        if (model_.undo.empty()) return;
        garage_->undo();
        model_.redo.push_back(std::move(model_.now));
        model_.now = std::move(model_.undo.back());
        model_.undo.pop_back();
    }
    void redo() {
        EXPECT_EQ(garage_->redoText().has_value(), !model_.redo.empty());
        if (model_.redo.empty()) return;
        garage_->redo();
        model_.undo.push_back(std::move(model_.now));
        model_.now = std::move(model_.redo.back());
        model_.redo.pop_back();
    }
    void reopen() {
        if (random_() % 8 != 0) return;
        garage_.reset();
        garage_ = std::make_unique<Garage>(Garage::open(path_));
        model_.undo.clear();
        model_.redo.clear();
    }

    TempFolder folder_;
    std::string path_ = folder_.file("g");
    std::mt19937 random_;
    std::unique_ptr<Garage> garage_;
    Model model_;
    int serial_ = 0;
};

} // namespace

TEST(RandomActions, leaveTheGarageAsAModelInMemorySays) {
    for (unsigned seed = 1; seed <= 12; ++seed) {
        RandomActions actions(seed);
        for (int i = 0; i < 60; ++i) {
            actions.step();
            ASSERT_EQ(actions.look(), actions.expected()) << "seed " << seed << " step " << i;
        }
        EXPECT_TRUE(actions.garage().check(true).ok);
    }
}

} // namespace rw::test
