// What belongs to an export, in the order in which it can be read: everything stands after what it refers to.
#include "core/error.h"
#include "core/system/clock.h"
#include "storage/exchange_writer.h"
#include "storage/log_store.h"

#include <algorithm>
#include <set>

namespace rw::store {

namespace {

using Json = nlohmann::ordered_json;

KeptFit keptFit(Connection& connection, Id id) {
    KeptFit out{fit(connection, id), {}};
    for (const Id one : out.passes) {
        const StoredPass place = pass(connection, one);
        out.places.push_back({place.log, place.index});
    }
    return out;
}

KeptLog keptLog(Connection& connection, Id id) {
    const StoredLog one = log(connection, id);
    KeptLog out;
    out.id = id, out.name = one.name, out.notes = one.notes, out.retired = one.retired, out.created = one.created;
    out.setup = one.setup, out.outing = one.outing, out.columnMap = one.columnMap;
    out.started = one.started, out.rows = one.rows, out.dialect = one.dialect, out.edits = one.edits;
    out.judging = one.judging, out.review = logReview(connection, id), out.track = logTrack(connection, id);
    out.sessions = ownSessions(connection, id), out.passes = passRecords(connection, id);
    out.packed = packedLog(connection, id);
    return out;
}

// What the document says of an item, to `use`.
template<class Use>
auto withItem(Connection& connection, Id id, const Use& use) {
    switch (id.kind) {
    case ItemKind::Setup:
        return use(setup(connection, id));
    case ItemKind::Outing:
        return use(outing(connection, id));
    case ItemKind::Log:
        return use(keptLog(connection, id));
    case ItemKind::Plan:
        return use(plan(connection, id));
    case ItemKind::Fit:
        return use(keptFit(connection, id));
    default:
        if (!isPart(id.kind)) throw InputError("id", toString(id) + " cannot be exported by itself; export its log");
        return use(part(connection, id));
    }
}

// The ids that an item names, in the order of its members.
struct References {
    std::vector<Id> ids;

    void operator()(const char*, Id& id) { ids.push_back(id); }
    void operator()(const char*, std::optional<Id>& id) {
        if (id) ids.push_back(*id);
    }
    void operator()(const char*, std::vector<Id>& list) { ids.insert(ids.end(), list.begin(), list.end()); }
    template<class T>
    void operator()(const char*, std::vector<T>& list) {
        if constexpr (std::is_class_v<T> && !std::is_same_v<T, std::string>)
            for (T& one : list)
                members(*this, one);
    }
    void operator()(const char*, auto&) {}
    void ifAny(const char* name, auto& value) { (*this)(name, value); }
    void within(const char*, const auto&...) {}
    void word(const char*, const auto&...) {}
    void packed(const PackedLog&) {}
};

class Export {
public:
    explicit Export(Connection& connection)
        : connection_(connection) {}
    void add(Id id) {
        if (id.kind == ItemKind::Setup) return addLine(id);
        if (seen_.insert(id).second) withItem(connection_, id, [this](auto thing) { addItem(std::move(thing)); });
    }
    void addHistory(Id vehicle);
    [[nodiscard]] Json items() { return std::move(items_); }

private:
    // After all that it refers to.
    template<class Thing>
    void addItem(Thing thing) {
        References named;
        members(named, thing);
        for (const Id id : named.ids)
            add(id);
        push(Writer::item(std::move(thing)));
    }
    void addLine(Id setup);
    void push(Json item);

    Connection& connection_;
    std::set<Id> seen_;
    Json items_ = Json::array();
    std::size_t size_ = 0;
};

void Export::push(Json item) {
    connection_.checkStop();
    if (const auto bytes = item.find("bytes"); bytes != item.end())
        size_ += bytes->get_ref<const std::string&>().size();
    if (size_ > largestExchange)
        throw GarageError(GarageError::Kind::Refused, "the logs that belong to this are over 256 MB; export its parts "
                                                      "or outings one by one, or copy the garage with a backup");
    items_.push_back(std::move(item));
}

// The revision and those that it came from, without diving: a line may be long.
void Export::addLine(Id id) {
    std::vector<Setup> line; // youngest first
    for (std::optional<Id> next = id; next && seen_.insert(*next).second; next = line.back().parent)
        line.push_back(setup(connection_, *next));
    for (; !line.empty(); line.pop_back())
        addItem(std::move(line.back()));
}

void Export::addHistory(Id vehicle) {
    std::vector<Setup> mine = setups(connection_, vehicle, true);
    std::ranges::reverse(mine); // oldest first
    for (const Setup& one : mine)
        add(one.id);
    double done = 0.0;
    for (const Setup& one : mine) {
        for (const Id id : referrers(connection_, one.id))
            add(id);
        if (const auto& told = connection_.options().progress) told(++done / static_cast<double>(mine.size()));
    }
}

} // namespace

Json exchangeJson(Connection& connection, Id id) {
    return withItem(connection, id, [](auto thing) { return Writer::item(std::move(thing)); });
}

std::string exportItem(Connection& connection, Id root) {
    Export all(connection);
    all.add(root);
    if (root.kind == ItemKind::Vehicle) all.addHistory(root);
    const Json document{{"runwright", exchangeName}, {"version", exchangeVersion}, {"program", programName()},
                        {"made", utcNow()},          {"root", toString(root)},     {"items", all.items()}};
    try {
        return document.dump(1) + "\n";
    } catch (const nlohmann::json::exception&) {
        throw GarageError(GarageError::Kind::Damaged, toString(root) + ": a text in it is no longer UTF-8");
    }
}

} // namespace rw::store
