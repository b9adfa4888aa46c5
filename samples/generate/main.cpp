// Writes the sample logs: runwright-generate FOLDER
#include "samples/generate/generate.h"

#include <cstdio>
#include <exception>
#include <fstream>

int main(int argc, char** argv) {
    if (argc != 2) {
        std::fprintf(stderr, "usage: runwright-generate FOLDER\n");
        return 2;
    }
    try {
        for (const std::string_view day : rw::generate::sampleDays()) {
            const auto log = rw::generate::generateLog(rw::generate::sampleDay(day), rw::generate::sampleSeed);
            const std::string path = std::string(argv[1]) + "/" + log.fileName;
            std::ofstream file(path, std::ios::binary);
            file.write(log.text.data(), static_cast<std::streamsize>(log.text.size()));
            file.close();
            if (!file) {
                std::fprintf(stderr, "runwright-generate: %s: cannot be written\n", path.c_str());
                return 1;
            }
            std::printf("%s: %zu bytes, %zu sessions, %zu passes\n", path.c_str(), log.text.size(), log.sessions.size(),
                        log.passes.size());
        }
        return 0;
    } catch (const std::exception& failure) {
        std::fprintf(stderr, "runwright-generate: %s\n", failure.what());
        return 1;
    }
}
