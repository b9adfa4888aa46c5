// Exchange documents: complete, as their published schema says, merged by content; from a stranger at most refused.
#include "core/error.h"
#include "tests/storage/json_schema.h"
#include "tests/storage/support.h"

#include <gtest/gtest.h>

#include <functional>
#include <random>

namespace rw::test {

namespace {

using nlohmann::json;

json publishedSchema() {
    return json::parse(readBytes(std::string(RUNWRIGHT_SOURCE_DIR) + "/resources/garage-exchange.schema.json"));
}

struct Exported {
    TempFolder folder;
    Garage garage = Garage::create(folder.file("from"));
    Filled ids = fill(garage);
    std::string document = garage.exportItem({ItemKind::Vehicle, 1});
};

std::string refusal(Garage& garage, const std::string& document) {
    const std::string before = contentOf(garage);
    std::string out;
    try {
        garage.importItems(document, "stranger.json");
        out = "taken";
    } catch (const InputError& error) {
        out = error.what();
    } catch (const GarageError& error) {
        out = error.what();
    }
    EXPECT_TRUE(out == "taken" || contentOf(garage) == before) << out;
    EXPECT_EQ(out.find('\n'), std::string::npos) << out;
    return out;
}

} // namespace

TEST(Exchange, aVehicleGoesToAnotherGarageWithItsWholeHistoryAndComesBackEqual) {
    Exported from;
    Garage to = Garage::create(from.folder.file("to"));
    const ImportedItems items = to.importItems(from.document, "v.json");
    EXPECT_EQ(items.root.kind, ItemKind::Vehicle);
    EXPECT_TRUE(items.alreadyThere.empty());
    EXPECT_EQ(to.logBytes({ItemKind::Log, 1}), from.garage.logBytes(from.ids.log));
    EXPECT_EQ(to.planInput({ItemKind::Setup, 1}, {ItemKind::Venue, 1}), fullPlan());
    EXPECT_EQ(to.fit({ItemKind::Fit, 1}).passes, from.garage.fit(from.ids.fit).passes);
    // All but what nothing of the vehicle refers to: here the checklist and the limits.
    from.garage.remove(from.ids.checklist);
    from.garage.remove(from.ids.limits);
    EXPECT_EQ(contentOf(to), contentOf(from.garage));
    EXPECT_TRUE(to.check(true).ok);
}

TEST(Exchange, importedTwiceOrAtHomeItChangesNothing) {
    Exported from;
    const std::string before = contentOf(from.garage);
    EXPECT_TRUE(from.garage.importItems(from.document, "v.json").added.empty());
    EXPECT_EQ(contentOf(from.garage), before);
    Garage to = Garage::create(from.folder.file("to"));
    to.importItems(from.document, "v.json");
    const std::string once = contentOf(to);
    const ImportedItems again = to.importItems(from.document, "v.json");
    EXPECT_TRUE(again.added.empty());
    EXPECT_FALSE(again.alreadyThere.empty());
    EXPECT_EQ(contentOf(to), once);
}

TEST(Exchange, whatWasChangedAtHomeIsNeverOverwritten) {
    Exported from;
    Garage to = Garage::create(from.folder.file("to"));
    to.importItems(from.document, "v.json");
    Part vehicle = to.part({ItemKind::Vehicle, 1});
    vehicle.notes = "mine";
    to.update(vehicle);
    to.importItems(from.document, "v.json");
    EXPECT_EQ(to.part({ItemKind::Vehicle, 1}).notes, "mine");
    EXPECT_EQ(to.count(ItemKind::Vehicle), 2);
    to.undo();
    EXPECT_EQ(to.count(ItemKind::Vehicle), 1);
}

TEST(Exchange, everyKindOfExportIsAsThePublishedSchemaSays) {
    Exported from;
    const json schema = publishedSchema();
    for (const ItemKind kind : allKinds()) {
        if (kind == ItemKind::Session || kind == ItemKind::Pass) continue;
        for (const ListRow& row : from.garage.list(kind))
            EXPECT_EQ(schemaComplaint(schema, json::parse(from.garage.exportItem(row.id))), "") << toString(row.id);
    }
}

TEST(Exchange, theSchemaRefusesWhatImportRefuses) {
    Exported from;
    Garage to = Garage::create(from.folder.file("to"));
    const json schema = publishedSchema();
    const json good = json::parse(from.document);
    const auto refusedByBoth = [&](const char* what, const std::function<void(json&)>& spoil) {
        json spoilt = good;
        spoil(spoilt);
        EXPECT_NE(schemaComplaint(schema, spoilt), "") << what;
        EXPECT_NE(refusal(to, spoilt.dump()), "taken") << what;
    };
    refusedByBoth("another document", [](json& d) { d["runwright"] = "plan"; });
    refusedByBoth("another version", [](json& d) { d["version"] = 2; });
    refusedByBoth("an unknown member", [](json& d) { d["more"] = 1; });
    refusedByBoth("an unknown member of an item", [](json& d) { d["items"][0]["more"] = 1; });
    refusedByBoth("no items", [](json& d) { d.erase("items"); });
    refusedByBoth("items of another type", [](json& d) { d["items"] = "none"; });
    refusedByBoth("an unknown kind", [](json& d) { d["items"][0]["kind"] = "boat"; });
    refusedByBoth("a name too long", [](json& d) { d["items"][0]["name"] = std::string(300, 'x'); });
    refusedByBoth("no name", [](json& d) { d["items"][0].erase("name"); });
    refusedByBoth("an unknown source",
                  [](json& d) { d["items"][0]["values"]["vehicle.mass_kg"]["source"] = "hearsay"; });
    refusedByBoth("a negative uncertainty",
                  [](json& d) { d["items"][0]["values"]["vehicle.mass_kg"]["uncertainty"] = -1; });
}

TEST(Exchange, aStrangersDocumentIsRefusedWithItsPlaceAndLeavesNoTrace) {
    Exported from;
    Garage to = Garage::create(from.folder.file("to"));
    const json good = json::parse(from.document);
    const auto refused = [&](const std::string& document, const std::string& part) {
        const std::string told = refusal(to, document);
        EXPECT_NE(told.find(part), std::string::npos) << told;
        EXPECT_EQ(to.count(ItemKind::Vehicle, true), 0);
    };
    const auto spoilt = [&](const std::function<void(json&)>& spoil) {
        json out = good;
        spoil(out);
        return out.dump();
    };
    const auto item = [](json& document, const char* kind) -> json& {
        for (json& one : document["items"])
            if (one["kind"] == kind) return one;
        throw std::logic_error(kind);
    };
    refused("", "stranger.json");
    refused("[]", "expected an object");
    refused("{\"runwright\": 5}", "expected a text");
    refused(std::string(200, '[') + std::string(200, ']'), "100");
    refused("{\"runwright\": \"garage-exchange\", \"runwright\": \"x\"}", "stranger.json:1");
    refused(spoilt([](json& d) { d["root"] = "vehicle-99"; }), "root");
    refused(spoilt([&](json& d) { item(d, "setup")["vehicle"] = "vehicle-99"; }), "no item before this one");
    refused(spoilt([&](json& d) { item(d, "setup")["vehicle"] = item(d, "setup")["motor"]; }),
            "motor-1 stands where a vehicle is expected");
    refused(spoilt([&](json& d) { item(d, "setup")["parent"] = item(d, "setup")["id"]; }), "no item before this one");
    refused(spoilt([&](json& d) { item(d, "motor")["values"]["motor.kv_rpm_per_V"]["number"] = 1e9; }), "out of range");
    refused(spoilt([&](json& d) {
                item(d, "motor")["values"]["vehicle.mass_kg"] = item(d, "motor")["values"]["motor.kv_rpm_per_V"];
            }),
            "no value of a motor");
    refused(spoilt([&](json& d) { item(d, "log")["sha256"] = std::string(64, '0'); }), "SHA-256");
    refused(spoilt([&](json& d) { item(d, "log")["size"] = 1; }), "SHA-256");
    refused(spoilt([&](json& d) { item(d, "log")["bytes"] = "////"; }), "broken");
    refused(spoilt([&](json& d) { item(d, "log")["bytes"] = "not base64"; }), "broken");
    refused(spoilt([&](json& d) { item(d, "log")["passes"][0]["session"] = 77; }), "session 77");
    refused(spoilt([&](json& d) { item(d, "log")["rows"] = 1.5; }), "whole number");
    refused(spoilt([&](json& d) { item(d, "fit")["passes"][0]["index"] = 9; }), "no pass 9");
    refused(spoilt([&](json& d) { item(d, "fit")["covariance"].push_back(1.0); }), "covariance");
    refused(spoilt([&](json& d) { item(d, "outing")["date"] = "yesterday"; }), "no date");
    refused(spoilt([&](json& d) { d["items"].push_back(d["items"][0]); }), "stands twice");
    std::string nul = from.document;
    nul.replace(nul.find("\"Heron\""), 7, "\"He\\u0000\"");
    refused(nul, "NUL");
}

TEST(Exchange, hostileTextsInEveryFieldArriveAsTheyWere) {
    const TempFolder folder;
    Garage from = Garage::create(folder.file("from"));
    const Filled ids = fill(from);
    const std::string hostile = "'; DROP TABLE item; -- \"<b>\\u0000 \x01\x1b[31m \u202E 🏁 ../../x";
    Part vehicle = from.part({ItemKind::Vehicle, 1});
    vehicle.name = vehicle.description = vehicle.notes = vehicle.document = hostile;
    vehicle.values["vehicle.mass_kg"].note = vehicle.values["vehicle.mass_kg"].unitShown = hostile;
    from.update(vehicle);
    StoredLog log = from.log(ids.log);
    log.name = log.notes = hostile;
    from.updateLog(log);
    from.notePass({ItemKind::Pass, 1}, Direction::Back, hostile);
    rw::Setup setup = from.setup(ids.plan.setup);
    setup.name = setup.notes = hostile;
    from.revise(setup, hostile);
    from.remove(ids.checklist);
    from.remove(ids.limits);
    Garage to = Garage::create(folder.file("to"));
    to.importItems(from.exportItem({ItemKind::Vehicle, 1}), "v.json");
    EXPECT_EQ(contentOf(to), contentOf(from));
}

TEST(Exchange, bytesChangedAtRandomAreRefusedOrHarmless) {
    Exported from;
    Garage to = Garage::create(from.folder.file("to"));
    std::mt19937 random(20261125);
    int refusals = 0;
    for (int i = 0; i < 300; ++i) {
        std::string spoilt = from.document;
        for (int k = 0; k < 3; ++k)
            spoilt[random() % spoilt.size()] = static_cast<char>(random() % 256);
        if (i % 3 == 0) spoilt.resize(random() % spoilt.size());
        if (refusal(to, spoilt) != "taken")
            ++refusals;
        else
            to.undo();
    }
    EXPECT_GT(refusals, 150);
    EXPECT_TRUE(to.check(true).ok);
}

} // namespace rw::test
