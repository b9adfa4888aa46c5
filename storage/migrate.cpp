
#include "storage/item_store.h"
#include "storage/schema.h"

namespace rw {

namespace {

constexpr int searchVersion = 2; // the step that makes the search table, empty

} // namespace

void migrate(Connection& connection, int target) {
    Transaction transaction(connection, Transaction::Kind::Write);
    const auto before =
        static_cast<int>(connection.number("PRAGMA user_version")); // again: another program may have been first
    for (const SchemaStep& step : schemaSteps()) {
        if (step.version <= before || step.version > target) continue;
        connection.run(std::string(step.sql));
        if (step.version == searchVersion) store::reindexAll(connection);
    }
    if (before < target) connection.run("PRAGMA user_version = " + std::to_string(target));
    if (before == 0) connection.run("PRAGMA application_id = " + std::to_string(garageApplicationId));
    transaction.commit();
}

} // namespace rw
