// Writes the sample logs, and the plan of their main day: runwright-generate LOGS [PLANS]
#include "core/plan/plan_json.h"
#include "samples/generate/cars.h"
#include "samples/generate/generate.h"

#include <cstdio>
#include <exception>
#include <fstream>
#include <string>

namespace {

bool writeFile(const std::string& path, const std::string& text) {
    std::ofstream file(path, std::ios::binary);
    file.write(text.data(), static_cast<std::streamsize>(text.size()));
    file.close();
    if (!file) std::fprintf(stderr, "runwright-generate: %s: cannot be written\n", path.c_str());
    return static_cast<bool>(file);
}

} // namespace

int main(int argc, char** argv) {
    if (argc < 2 || argc > 3) {
        std::fprintf(stderr, "usage: runwright-generate LOGS [PLANS]\n");
        return 2;
    }
    try {
        if (argc == 3 && !writeFile(std::string(argv[2]) + "/" + std::string(rw::generate::mainDayPlanFile),
                                    rw::writePlanInput(rw::generate::mainDayPlan())))
            return 1;
        for (const std::string_view day : rw::generate::sampleDays()) {
            const auto log = rw::generate::generateLog(rw::generate::sampleDay(day), rw::generate::sampleSeed);
            const std::string path = std::string(argv[1]) + "/" + log.fileName;
            if (!writeFile(path, log.text)) return 1;
            std::printf("%s: %zu bytes, %zu sessions, %zu passes\n", path.c_str(), log.text.size(), log.sessions.size(),
                        log.passes.size());
        }
        return 0;
    } catch (const std::exception& failure) {
        std::fprintf(stderr, "runwright-generate: %s\n", failure.what());
        return 1;
    }
}
