#include "storage/item_store.h"

#include "storage/allowed.h"

namespace rw::store {

namespace {

// Words of one item: its own texts, the notes of its values, and what its kind adds. Nothing of other items, so that a
// change touches its own rows alone.
constexpr const char* putItems = R"(
INSERT INTO search (rowid, id, title, body) SELECT 2 * i.id, i.kind || '-' || i.number, i.name,
  i.description || ' ' || i.notes || ' ' || i.kind || '-' || i.number || ' '
  || CASE WHEN i.kind = 'checklist' THEN i.document ELSE '' END || ' '
  || coalesce((SELECT group_concat(note, ' ') FROM item_value WHERE item = i.id AND note <> ''), '') || ' '
  || coalesce((SELECT reason FROM setup WHERE item = i.id), '') || ' '
  || coalesce((SELECT 'revision ' || revision FROM setup WHERE item = i.id), '') || ' '
  || coalesce((SELECT date FROM outing WHERE item = i.id), '') || ' '
  || coalesce((SELECT group_concat(path, ' ') FROM outing_photo WHERE outing = i.id), '') FROM item i)";
constexpr const char* putPasses = R"(
INSERT INTO search (rowid, id, title, body) SELECT 2 * p.id + 1, 'pass-' || p.id,
  'pass ' || (p.place + 1) || ', log-' || i.number, p.notes FROM pass p JOIN item i ON i.id = p.log WHERE p.notes <> '')";

// Each word in quotation marks with a star: to FTS5 a plain word to begin with, whatever is in it.
std::string matchFor(const std::string& words) {
    std::string out;
    std::size_t at = 0;
    for (int count = 0; count < 20; ++count) {
        const std::size_t begin = words.find_first_not_of(" \t\r\n", at);
        if (begin == std::string::npos) break;
        at = std::min(words.find_first_of(" \t\r\n", begin), words.size());
        std::string quoted;
        bool letters = false;
        for (const char c : words.substr(begin, at - begin)) {
            const auto byte = static_cast<unsigned char>(c);
            letters =
                letters || byte >= 0x80 || (byte >= '0' && byte <= '9') || ((byte | 32) >= 'a' && (byte | 32) <= 'z');
            quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
        }
        if (letters) out += (out.empty() ? "\"" : " \"") + quoted + "\"*";
    }
    return out;
}

} // namespace

void reindex(Connection& connection, const Touched& touched) {
    static const std::string oneItem = std::string(putItems) + " WHERE i.id = ?";
    static const std::string onePass = std::string(putPasses) + " AND p.id = ?";
    for (const Row row : touched.items) {
        connection.run("DELETE FROM search WHERE rowid = 2 * ?", row);
        connection.run(oneItem, row);
    }
    for (const Row row : touched.passes) {
        connection.run("DELETE FROM search WHERE rowid = 2 * ? + 1", row);
        connection.run(onePass, row);
    }
}

void reindexAll(Connection& connection) {
    for (const char* const sql : {"DELETE FROM search", putItems, putPasses})
        connection.run(sql);
}

std::vector<FoundItem> search(Connection& connection, const std::string& words, int limit) {
    allowText("search", words, longestLine);
    const std::string match = matchFor(words);
    std::vector<FoundItem> out;
    if (match.empty()) return out;
    Query all(connection,
              "SELECT id, title, snippet(search, -1, char(2), char(3), '…', 16) FROM search WHERE search MATCH ?"
              " ORDER BY bm25(search, 0.0, 5.0, 1.0), rowid LIMIT ?",
              match, limit);
    while (all.step())
        if (const auto id = idFromText(all.text(0))) out.push_back({*id, all.text(1), all.text(2)});
    return out;
}

} // namespace rw::store
