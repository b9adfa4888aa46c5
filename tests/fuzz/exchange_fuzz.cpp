// Any bytes as an exchange document: refused in one line with nothing changed, or imported, exported, found to be there
// already, and taken back.
#include "storage/garage.h"
#include "tests/fuzz/garage_folder.h"

#include <map>

namespace {

using namespace rw;
using fuzz::promise;

std::map<ItemKind, std::int64_t> counted(Garage& garage) {
    std::map<ItemKind, std::int64_t> counts;
    for (const ItemKind kind : allKinds())
        counts[kind] = garage.count(kind, true);
    return counts;
}

Garage freshGarage() {
    static const fuzz::GarageFolder folder;
    return Garage::create(folder.file("exchange.garage"));
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static Garage garage = freshGarage();
    const auto before = counted(garage);
    const std::string document(fuzz::asText(data, size));
    ImportedItems items;
    if (!fuzz::doneOrRefused([&] { items = garage.importItems(document, "document"); })) {
        promise(counted(garage) == before, "a refused document changes nothing");
        return 0;
    }
    const std::string exported = garage.exportItem(items.root);
    promise(garage.importItems(exported, "exported").added.empty(), "what is there is not added again");
    while (garage.undoText())
        garage.undo();
    promise(counted(garage) == before, "an import is taken back whole");
    return 0;
}
