// Reading an exchange document: each item is found by its content, or added. Nothing that is there is changed.
#include "core/error.h"
#include "storage/exchange_reader.h"
#include "storage/exchange_writer.h"
#include "storage/log_store.h"

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
    template<class Thing>
    Thing read(const ItemHead& head, Reader& item) const {
        auto out = withHead<Thing>(head);
        members(item, out);
        return out;
    }
    Id place(const ItemHead& head, Reader& item);
    Id placeSetup(Setup setup);
    Id placeLog(const KeptLog& log);
    Id placeFit(KeptFit fit, Reader& item);
    // The same thing that is there, or this one.
    Id keep(const auto& thing, const auto& insert);
    Id noted(Id id, bool added);

    Connection& connection_;
    const JsonSource& source_;
    IdsByRef ids_;
    std::map<ItemKind, std::map<std::string, Id>> known_; // content → id, by kind, read when first needed
    ImportedItems out_;
};

Id Import::noted(Id id, bool added) {
    (added ? out_.added : out_.alreadyThere).push_back(id);
    return id;
}

Id Import::keep(const auto& thing, const auto& insert) {
    const auto [entry, first] = known_.try_emplace(thing.id.kind);
    if (first)
        for (const ItemHead& one : heads(connection_, thing.id.kind, true))
            entry->second.emplace(contentOf(exchangeJson(connection_, one.id)), one.id);
    const auto there = entry->second.find(contentOf(Writer::item(thing)));
    return there != entry->second.end() ? noted(there->second, false) : noted(insert(connection_, thing), true);
}

Id Import::placeSetup(Setup one) {
    if (one.first.stored()) // its number may be taken by a revision that was made here
        one.revision = std::max(one.revision, newestRevision(connection_, one.first) + 1);
    return keep(one, insertSetup);
}

Id Import::placeLog(const KeptLog& log) {
    const AddedLog added = addLog(connection_, log);
    if (!added.alreadyThere && log.retired) retire(connection_, added.log, true);
    return noted(added.log, !added.alreadyThere);
}

Id Import::placeFit(KeptFit fit, Reader& item) {
    for (const PassPlace& place : fit.places) {
        const auto pass = connection_.maybeNumber("SELECT id FROM pass WHERE log = ? AND place = ?",
                                                  rowOf(connection_, place.log, ItemKind::Log), place.index);
        if (!pass)
            item.fail(item.list("passes")[fit.passes.size()], "the log has no pass " + std::to_string(place.index));
        fit.passes.push_back({ItemKind::Pass, *pass});
    }
    return keep(fit, insertFit);
}

Id Import::place(const ItemHead& head, Reader& item) {
    switch (head.id.kind) {
    case ItemKind::Setup:
        return placeSetup(read<Setup>(head, item));
    case ItemKind::Outing:
        return keep(read<Outing>(head, item), addOuting);
    case ItemKind::Log:
        return placeLog(read<KeptLog>(head, item));
    case ItemKind::Plan:
        return keep(read<StoredPlan>(head, item), addPlan);
    case ItemKind::Fit:
        return placeFit(read<KeptFit>(head, item), item);
    default:
        return keep(read<Part>(head, item), addPart);
    }
}

void Import::add(const JsonValue& object) {
    Reader item(source_, object, ids_);
    const std::string ref = item.text("id"), kind = item.text("kind");
    const auto known = kindFromName(kind);
    if (!known || *known == ItemKind::Session || *known == ItemKind::Pass)
        item.fail("'" + shortened(kind) + "' is no kind of item");
    if (ids_.contains(ref)) item.fail("the id '" + shortened(ref) + "' stands twice");
    ItemHead head;
    head.id.kind = *known;
    members(item, head);
    try {
        const Id id = place(head, item);
        item.finish();
        ids_.emplace(ref, id);
    } catch (const InputError& error) { // a value that the garage does not take: say where it stands
        if (error.place().starts_with(source_.name)) throw;
        throw InputError(source_.place(object.at), error.what());
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
    Reader top(source, tree, none);
    if (top.text("runwright") != exchangeName) top.fail("is no garage exchange document");
    double version = 0.0;
    top("version", version);
    if (version != exchangeVersion)
        top.fail("is an exchange document of another version; expected version " + std::to_string(exchangeVersion));
    for (const char* const name : {"program", "made", "root"})
        static_cast<void>(top.text(name));
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
