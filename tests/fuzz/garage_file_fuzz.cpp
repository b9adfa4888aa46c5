// A garage file with flipped bytes, or cut off: refused, opened for reading, or salvaged; never a crash, and a file
// that was found to be damaged is not written to. An input is a list of edits to a sound file: the first byte cuts the
// file where the first three-byte place says if it is odd; then three bytes of place and one to combine with what is
// there.
#include "storage/garage.h"
#include "tests/fuzz/garage_folder.h"

#include <algorithm>

namespace {

using namespace rw;
using fuzz::doneOrRefused;
using fuzz::promise;

std::string edited(std::string bytes, const std::uint8_t* data, std::size_t size) {
    constexpr std::size_t mostEdits = 64;
    const auto place = [&](std::size_t at) {
        return static_cast<std::size_t>(data[at] | data[at + 1] << 8 | data[at + 2] << 16);
    };
    const bool cut = size > 3 && data[0] % 2 == 1;
    if (cut) bytes.resize(place(1) % bytes.size());
    const std::size_t first = cut ? 4 : 1;
    for (std::size_t k = 0; k < mostEdits && first + 4 * k + 4 <= size && !bytes.empty(); ++k) {
        char& byte = bytes[place(first + 4 * k) % bytes.size()];
        byte = static_cast<char>(byte ^ static_cast<char>(data[first + 4 * k + 3]));
    }
    return bytes;
}

void readLogs(Garage& garage) {
    for (const StoredLog& log : garage.logs({}, true)) {
        doneOrRefused([&] { (void)garage.logBytes(log.id); });
        doneOrRefused([&] { (void)garage.logReview(log.id); });
        doneOrRefused([&] { (void)garage.sessions(log.id); });
    }
    for (const StoredPass& pass : garage.passes({}))
        doneOrRefused([&] { (void)garage.figures(pass.id); });
}

void readAll(Garage& garage) {
    for (const ItemKind kind : allKinds())
        doneOrRefused([&] {
            for (const ListRow& row : garage.list(kind, true))
                doneOrRefused([&] { (void)garage.exportItem(row.id); });
        });
    doneOrRefused([&] { readLogs(garage); });
    doneOrRefused([&] { (void)garage.bestPasses(); });
    doneOrRefused([&] { (void)garage.search("heron"); });
    doneOrRefused([&] { (void)garage.check(true); });
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static const fuzz::GarageFolder folder;
    static const std::string sound = fuzz::bytesOf(RUNWRIGHT_SOURCE_DIR "/tests/storage/fixtures/version_2.garage");
    promise(!sound.empty(), "the sound file is there");
    const std::string path = folder.file("damaged.garage"), saved = folder.file("saved.garage");
    const std::string bytes = edited(sound, data, size);
    fuzz::writeBytes(path, bytes);
    bool damaged = true;
    doneOrRefused([&] {
        Garage garage = Garage::open(path);
        damaged = garage.access() == Garage::Access::Damaged;
        readAll(garage);
    });
    promise(!damaged || fuzz::bytesOf(path) == bytes, "a damaged file is not written to");
    SalvageReport report;
    if (doneOrRefused([&] { report = salvageGarage(path, saved); }))
        for (const std::string& problem : Garage::open(saved).check(true).problems)
            promise(std::ranges::find(report.lost, problem) != report.lost.end(), "what was not saved whole is told");
    folder.empty();
    return 0;
}
