// Reading an exchange document: each item is found by its content, or added. Nothing that is there is changed.
#include "core/error.h"
#include "storage/codec.h"
#include "storage/evidence.h"
#include "storage/exchange.h"
#include "storage/exchange_reader.h"
#include "storage/item_store.h"
#include "storage/log_store.h"

#include <nlohmann/json.hpp>

namespace rw::store {

namespace {

using Json = nlohmann::ordered_json;

// What two items share that are the same thing: all but when and under which number they were stored.
std::string contentOf(Json item) {
    for (const char* const name : {"id", "created", "retired", "revision"})
        item.erase(name);
    return item.dump(-1, ' ', false, Json::error_handler_t::replace);
}

class Import {
public:
    Import(Connection& connection, const JsonSource& source)
        : connection_(connection)
        , source_(source) {}
    void add(const JsonValue& item);
    [[nodiscard]] ImportedItems result(const JsonValue& root) const;

private:
    ItemHead head(Members& members, const std::string& ref) const;
    Part readPart(const ItemHead& head, Members& members) const;
    Setup readSetup(const ItemHead& head, Members& members) const;
    Outing readOuting(const ItemHead& head, Members& members) const;
    StoredPlan readPlan(const ItemHead& head, Members& members) const;
    Fit readFit(const ItemHead& head, Members& members);
    LogRecord readLog(const ItemHead& head, Members& members) const;
    SessionRecord readSession(const JsonValue& object) const;
    SpeedNote readNoted(const JsonValue& object) const;
    PassRecord readPass(const JsonValue& object) const;

    Id place(const ItemHead& head, Members& members);
    template<class Thing>
    Id keep(const Thing& thing, const Json& item, Id (*insert)(Connection&, const Thing&));
    Id placeSetup(Setup setup);
    Id placeLog(const ItemHead& head, Members& members);
    std::optional<Id> sameThing(ItemKind kind, const Json& item);
    Id noted(Id id, bool added);

    Connection& connection_;
    const JsonSource& source_;
    IdsByRef ids_;
    std::map<ItemKind, std::map<std::string, Id>> known_; // content → id, by kind, read when first needed
    ImportedItems out_;
};

ItemHead Import::head(Members& members, const std::string& ref) const {
    ItemHead out;
    const std::string kind = members.text("kind");
    const auto found = kindFromName(kind);
    if (!found || *found == ItemKind::Session || *found == ItemKind::Pass)
        members.fail("'" + shortened(kind) + "' is no kind of item");
    if (ids_.contains(ref)) members.fail("the id '" + shortened(ref) + "' stands twice");
    out.id.kind = *found;
    out.name = members.text("name");
    out.notes = members.text("notes");
    out.retired = members.boolean("retired");
    out.created = members.text("created");
    return out;
}

Part Import::readPart(const ItemHead& head, Members& members) const {
    auto out = withHead<Part>(head);
    out.description = members.text("description"), out.document = members.text("document");
    out.values = members.values("values");
    return out;
}

Setup Import::readSetup(const ItemHead& head, Members& members) const {
    auto out = withHead<Setup>(head);
    const std::int64_t revision = members.whole("revision");
    if (revision < 1 || revision > 1'000'000) members.fail("a revision is a number from 1");
    out.revision = static_cast<int>(revision);
    if (const auto first = members.maybeReference("first")) out.first = *first;
    out.parent = members.maybeReference("parent");
    out.reason = members.text("reason");
    out.vehicle = members.reference("vehicle"), out.motor = members.reference("motor"),
    out.controller = members.reference("controller");
    out.pack = members.reference("pack"), out.tyre = members.reference("tyre");
    out.pinion = members.reference("pinion"), out.spur = members.reference("spur");
    out.values = members.values("values");
    out.evidence = readEvidence(members.textIfAny("learned"), source_.name + ": learned");
    return out;
}

Outing Import::readOuting(const ItemHead& head, Members& members) const {
    auto out = withHead<Outing>(head);
    out.date = members.text("date");
    out.venue = members.maybeReference("venue");
    for (const JsonValue& setup : members.list("setups"))
        out.setups.push_back(members.referenceOf(setup));
    for (const JsonValue& photo : members.list("photos")) {
        if (photo.type != JsonValue::Type::Text) members.fail(photo, "expected a path");
        out.photos.push_back(photo.text);
    }
    out.weather = members.values("values");
    return out;
}

StoredPlan Import::readPlan(const ItemHead& head, Members& members) const {
    auto out = withHead<StoredPlan>(head);
    out.setup = members.maybeReference("setup");
    out.venue = members.maybeReference("venue");
    out.input = members.text("input"), out.result = members.text("result"), out.settings = members.text("settings");
    out.program = members.text("program");
    return out;
}

Fit Import::readFit(const ItemHead& head, Members& members) {
    auto out = withHead<Fit>(head);
    out.setup = members.maybeReference("setup");
    for (const JsonValue& object : members.list("passes")) {
        Members place(source_, object, ids_);
        const Id log = place.reference("log");
        const std::int64_t index = place.whole("index");
        place.finish();
        Query find(connection_, "SELECT id FROM pass WHERE log = ? AND place = ?",
                   rowOf(connection_, log, ItemKind::Log), index);
        if (!find.step()) place.fail("the log has no pass " + std::to_string(index));
        out.passes.push_back({ItemKind::Pass, find.whole(0)});
    }
    for (const JsonValue& object : members.list("parameters")) {
        Members one(source_, object, ids_);
        FittedParameter p;
        p.key = one.text("key"), p.value = one.number("value"), p.standardError = one.maybeNumber("standard_error");
        p.determined = one.boolean("determined"), p.whyNot = one.text("why_not");
        p.low = one.numberIfAny("low"), p.high = one.numberIfAny("high");
        p.before = one.numberIfAny("before"), p.beforeDeviation = one.numberIfAny("before_deviation");
        p.conflict = one.textIfAny("conflict");
        out.parameters.push_back(std::move(p));
        one.finish();
    }
    for (const JsonValue& number : members.list("covariance")) {
        if (number.type != JsonValue::Type::Number) members.fail(number, "expected a number");
        out.covariance.push_back(number.number);
    }
    out.report = members.text("report"), out.program = members.text("program");
    out.learned = readLearnedInput(members.textIfAny("learned"), source_.name + ": learned");
    if (!members.has("accepted")) return out;
    out.accepted = members.reference("accepted");
    for (const JsonValue& object : members.list("taken")) {
        Members value(source_, object, ids_);
        out.taken.push_back({value.reference("item"), value.text("key")});
        value.finish();
    }
    return out;
}

SessionRecord Import::readSession(const JsonValue& object) const {
    Members s(source_, object, ids_);
    SessionRecord out{s.whole("start_row"),
                      s.whole("end_row"),
                      s.whole("start_line"),
                      s.whole("end_line"),
                      s.number("start_s"),
                      s.number("duration_s"),
                      {},
                      s.maybeNumber("resting_V"),
                      s.maybeReference("setup"),
                      s.maybeReference("pack")};
    if (const auto cells = s.maybeWhole("cells")) {
        if (*cells < 1 || *cells > 100) s.fail("a session has 1 to 100 cells");
        out.cells = static_cast<int>(*cells);
    }
    s.finish();
    return out;
}

SpeedNote Import::readNoted(const JsonValue& object) const {
    Members n(source_, object, ids_);
    const std::string kind = n.text("kind");
    if (kind != speedKindName(SpeedKind::ZoneMean) && kind != speedKindName(SpeedKind::Peak))
        n.fail("'" + shortened(kind) + "' is no kind of noted speed; expected timed zone or peak");
    const SpeedNote out{kind == speedKindName(SpeedKind::Peak) ? SpeedKind::Peak : SpeedKind::ZoneMean,
                        n.number("speed_mps"), n.number("uncertainty_mps")};
    n.finish();
    return out;
}

PassRecord Import::readPass(const JsonValue& object) const {
    Members p(source_, object, ids_);
    PassRecord out;
    const std::int64_t session = p.whole("session");
    if (session < 0 || session > 100'000) p.fail("there is no such session");
    out.session = static_cast<int>(session);
    out.start_s = p.number("start_s"), out.end_s = p.number("end_s"), out.complete = p.boolean("complete");
    const auto direction = directionFromName(p.text("direction"));
    if (!direction) p.fail("a direction is there, back, or empty");
    out.direction = *direction;
    out.notes = p.text("notes");
    out.figures = p.figures("figures");
    if (p.has("noted"))
        for (const JsonValue& noted : p.list("noted"))
            out.noted.push_back(readNoted(noted));
    p.finish();
    return out;
}

LogRecord Import::readLog(const ItemHead& head, Members& members) const {
    LogRecord out;
    out.name = head.name, out.notes = head.notes;
    out.setup = members.maybeReference("setup"), out.outing = members.maybeReference("outing");
    out.columnMap = members.maybeReference("column_map");
    out.started = members.text("started"), out.rows = members.whole("rows");
    out.dialect = members.text("dialect"), out.review = members.text("review"), out.edits = members.text("edits");
    out.judging = members.textIfAny("judging"), out.track = members.textIfAny("track");
    for (const JsonValue& session : members.list("sessions"))
        out.sessions.push_back(readSession(session));
    for (const JsonValue& pass : members.list("passes"))
        out.passes.push_back(readPass(pass));
    out.packed.sha256 = members.text("sha256");
    out.packed.size = members.whole("size");
    const std::string bytes = members.text("bytes");
    try {
        out.packed.zstd = base64Decode(bytes);
        if (zstdFingerprint(out.packed.zstd, largestLog) != std::pair(out.packed.sha256, out.packed.size))
            members.fail("the log's bytes are not those that its SHA-256 and size name");
    } catch (const InputError&) {
        throw;
    } catch (const std::runtime_error& error) {
        members.fail(std::string("the log's bytes are broken: ") + error.what());
    }
    return out;
}

std::optional<Id> Import::sameThing(ItemKind kind, const Json& item) {
    const auto [entry, first] = known_.try_emplace(kind);
    if (first) {
        for (const ItemHead& one : heads(connection_, kind, true)) {
            Json there;
            if (isPart(kind))
                there = exchangeJson(partFrom(one, values(connection_, one.row)));
            else if (kind == ItemKind::Setup)
                there = exchangeJson(setup(connection_, one.id));
            else if (kind == ItemKind::Outing)
                there = exchangeJson(outing(connection_, one.id));
            else if (kind == ItemKind::Plan)
                there = exchangeJson(plan(connection_, one.id));
            else if (const Fit known = fit(connection_, one.id); true)
                there = exchangeJson(known, placesOf(connection_, known.passes));
            entry->second.emplace(contentOf(std::move(there)), one.id);
        }
    }
    const auto found = entry->second.find(contentOf(item));
    return found == entry->second.end() ? std::nullopt : std::optional(found->second);
}

Id Import::noted(Id id, bool added) {
    (added ? out_.added : out_.alreadyThere).push_back(id);
    return id;
}

template<class Thing>
Id Import::keep(const Thing& thing, const Json& item, Id (*insert)(Connection&, const Thing&)) {
    const auto there = sameThing(thing.id.kind, item);
    return there ? noted(*there, false) : noted(insert(connection_, thing), true);
}

Id Import::placeSetup(Setup one) {
    const Json item = exchangeJson(one);
    if (one.first.stored()) { // its number may be taken by a revision that was made here
        Query line(connection_, "SELECT max(revision) FROM setup WHERE first = ?",
                   rowOf(connection_, one.first, ItemKind::Setup));
        line.step();
        one.revision = std::max(one.revision, static_cast<int>(line.whole(0)) + 1);
    }
    return keep(one, item, insertSetup);
}

Id Import::placeLog(const ItemHead& head, Members& members) {
    const LogRecord record = readLog(head, members);
    const AddedLog added = addLog(connection_, record);
    if (!added.alreadyThere && head.retired) retire(connection_, added.log, true);
    return noted(added.log, !added.alreadyThere);
}

Id Import::place(const ItemHead& head, Members& members) {
    if (isPart(head.id.kind)) {
        const Part part = readPart(head, members);
        return keep(part, exchangeJson(part), addPart);
    }
    if (head.id.kind == ItemKind::Setup) return placeSetup(readSetup(head, members));
    if (head.id.kind == ItemKind::Log) return placeLog(head, members);
    if (head.id.kind == ItemKind::Outing) {
        const Outing outing = readOuting(head, members);
        return keep(outing, exchangeJson(outing), addOuting);
    }
    if (head.id.kind == ItemKind::Plan) {
        const StoredPlan plan = readPlan(head, members);
        return keep(plan, exchangeJson(plan), addPlan);
    }
    const Fit fit = readFit(head, members);
    return keep(fit, exchangeJson(fit, placesOf(connection_, fit.passes)), insertFit);
}

void Import::add(const JsonValue& item) {
    Members members(source_, item, ids_);
    const std::string ref = members.text("id");
    const ItemHead known = head(members, ref);
    try {
        const Id id = place(known, members);
        members.finish();
        ids_.emplace(ref, id);
    } catch (const InputError& error) { // a value that the garage does not take: say where it stands
        if (error.place().starts_with(source_.name)) throw;
        throw InputError(source_.place(item.at), error.what());
    }
}

ImportedItems Import::result(const JsonValue& root) const {
    ImportedItems out = out_;
    const auto found = ids_.find(root.text);
    if (found == ids_.end()) throw InputError(source_.place(root.at), "the root is none of the items");
    out.root = found->second;
    return out;
}

} // namespace

ImportedItems importItems(Connection& connection, const std::string& document, const std::string& fileName) {
    if (document.size() > largestExchange)
        throw InputError(fileName, "is over 256 MB: too large for an exchange document");
    const JsonSource source{document, fileName};
    const JsonValue tree = parseJson(source);
    const IdsByRef none;
    Members top(source, tree, none);
    if (top.text("runwright") != exchangeName) top.fail("is no garage exchange document");
    if (const double version = top.number("version"); version != exchangeVersion)
        top.fail("is an exchange document of another version; expected version " + std::to_string(exchangeVersion));
    static_cast<void>(top.text("program"));
    static_cast<void>(top.text("made"));
    static_cast<void>(top.text("root"));
    const std::vector<JsonValue>& items = top.list("items");
    top.finish();
    if (items.size() > 100'000) top.fail("holds more than 100,000 items");
    Import import(connection, source);
    double done = 0.0;
    for (const JsonValue& item : items) {
        connection.checkStop();
        import.add(item);
        if (const auto& told = connection.options().progress) told(++done / static_cast<double>(items.size()));
    }
    return import.result(*tree.find("root"));
}

} // namespace rw::store
