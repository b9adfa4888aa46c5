// Runs a fuzz target over files and folders of files: replay-NAME tests/fuzz/corpus/NAME
#include "tests/fuzz/fuzz_target.h"

#include <filesystem>
#include <fstream>
#include <iostream>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

namespace {

std::vector<std::filesystem::path> filesOf(int count, char** names) {
    std::vector<std::filesystem::path> files;
    for (int i = 1; i < count; ++i) {
        if (!std::filesystem::is_directory(names[i])) {
            files.emplace_back(names[i]);
            continue;
        }
        for (const auto& entry : std::filesystem::recursive_directory_iterator(names[i]))
            if (entry.is_regular_file()) files.push_back(entry.path());
    }
    return files;
}

} // namespace

int main(int count, char** names) {
    const std::vector<std::filesystem::path> files = filesOf(count, names);
    for (const std::filesystem::path& path : files) {
        std::ifstream file(path, std::ios::binary);
        std::ostringstream content;
        content << file.rdbuf();
        const std::string bytes = std::move(content).str();
        std::cerr << path.filename().string() << '\n';
        LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size());
    }
    std::cout << files.size() << " inputs\n";
    return files.empty() ? 1 : 0;
}
