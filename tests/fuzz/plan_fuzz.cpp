// Any bytes as a plan input: refused in one line, or read, written and read again bit for bit.
#include "core/error.h"
#include "core/plan/plan_json.h"
#include "tests/fuzz/fuzz_target.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    try {
        const rw::PlanInput plan = rw::readPlanInput(rw::fuzz::asText(data, size), "plan");
        rw::fuzz::promise(rw::readPlanInput(rw::writePlanInput(plan), "again") == plan, "a plan reads back");
    } catch (const rw::InputError& error) {
        rw::fuzz::promiseOneLine(error.what());
    }
    return 0;
}
