#include "storage/item_store.h"

#include "storage/allowed.h"

#include <algorithm>

namespace rw::store {

namespace {

void allowOuting(const Outing& outing) {
    allowHead(outing.name, outing.notes);
    allowDate("date", outing.date);
    allowCount("setups", outing.setups.size());
    allowCount("photos", outing.photos.size());
    for (const std::string& path : outing.photos)
        allowText("photo", path, longestLine);
    allowValues(ItemKind::Outing, outing.weather);
}

void putDetails(Connection& connection, Row row, const Outing& outing) {
    connection.run(
        "INSERT INTO outing (item, date, venue) VALUES (?1, ?2, ?3) ON CONFLICT (item) DO UPDATE SET date = ?2, "
        "venue = ?3",
        row, outing.date, rowOf(connection, outing.venue, ItemKind::Venue));
    connection.run("DELETE FROM outing_setup WHERE outing = ?", row);
    connection.run("DELETE FROM outing_photo WHERE outing = ?", row);
    for (std::size_t i = 0; i < outing.setups.size(); ++i)
        connection.run("INSERT INTO outing_setup (outing, place, setup) VALUES (?, ?, ?)", row, static_cast<int>(i),
                       rowOf(connection, outing.setups[i], ItemKind::Setup));
    for (std::size_t i = 0; i < outing.photos.size(); ++i)
        connection.run("INSERT INTO outing_photo (outing, place, path) VALUES (?, ?, ?)", row, static_cast<int>(i),
                       outing.photos[i]);
    putValues(connection, row, outing.weather);
}

Outing outingFrom(Connection& connection, const ItemHead& head) {
    auto out = withHead<Outing>(head);
    Query details(connection,
                  "SELECT o.date, i.number FROM outing o LEFT JOIN item i ON i.id = o.venue WHERE o.item = ?",
                  head.row);
    if (!details.step()) throw halfThere(head.id);
    details.take(out.date, Query::Reference{out.venue, ItemKind::Venue});
    out.setups = connection.ids(
        ItemKind::Setup,
        "SELECT i.number FROM outing_setup o JOIN item i ON i.id = o.setup WHERE o.outing = ? ORDER BY o.place",
        head.row);
    for (Query photos(connection, "SELECT path FROM outing_photo WHERE outing = ? ORDER BY place", head.row);
         photos.step();)
        out.photos.push_back(photos.text(0));
    out.weather = values(connection, head.row);
    return out;
}

} // namespace

Outing outing(Connection& connection, Id id) {
    static_cast<void>(rowOf(connection, id, ItemKind::Outing));
    return outingFrom(connection, head(connection, id));
}

std::vector<Outing> outings(Connection& connection, bool retired) {
    std::vector<Outing> out;
    for (const ItemHead& head : heads(connection, ItemKind::Outing, retired))
        out.push_back(outingFrom(connection, head));
    std::ranges::stable_sort(out, [](const Outing& a, const Outing& b) { return a.date > b.date; });
    return out;
}

Id addOuting(Connection& connection, const Outing& outing) {
    allowOuting(outing);
    ItemHead head = headOf(outing);
    putDetails(connection, insertHead(connection, head), outing);
    return head.id;
}

void updateOuting(Connection& connection, const Outing& outing) {
    allowOuting(outing);
    const Row row = rowOf(connection, outing.id, ItemKind::Outing);
    updateHead(connection, headOf(outing));
    putDetails(connection, row, outing);
}

} // namespace rw::store
