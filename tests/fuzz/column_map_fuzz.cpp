// Any bytes as a column map: refused in one line, or read, written and read again alike.
#include "core/error.h"
#include "core/log/column_map.h"
#include "tests/fuzz/fuzz_target.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    try {
        const rw::ColumnMap map = rw::readColumnMap(rw::fuzz::asText(data, size), "map");
        rw::fuzz::promise(rw::readColumnMap(rw::writeColumnMap(map), "again") == map, "a map reads back");
    } catch (const rw::InputError& error) {
        rw::fuzz::promiseOneLine(error.what());
    }
    return 0;
}
