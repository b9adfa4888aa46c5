#include "tests/batch/run_program.h"

#include <array>
#include <csignal>
#include <cstdlib>
#include <fcntl.h>
#include <filesystem>
#include <fstream>
#include <optional>
#include <sstream>
#include <stdexcept>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

namespace rw::testing {

namespace {

[[noreturn]] void becomeProgram(const std::vector<std::string>& arguments, const std::vector<std::string>& environment,
                                const std::array<std::string, 3>& streams) {
    for (int stream = 0; stream < 3; ++stream) {
        const int flags = stream == 0 ? O_RDONLY : O_WRONLY | O_CREAT | O_TRUNC;
        const int file = ::open(streams[static_cast<std::size_t>(stream)].c_str(), flags, 0600);
        if (file < 0 || ::dup2(file, stream) < 0) ::_exit(126);
        ::close(file);
    }
    for (const std::string& entry : environment)
        ::putenv(const_cast<char*>(entry.c_str()));
    std::vector<char*> words{const_cast<char*>(RUNWRIGHT_BATCH)};
    for (const std::string& argument : arguments)
        words.push_back(const_cast<char*>(argument.c_str()));
    words.push_back(nullptr);
    ::execv(RUNWRIGHT_BATCH, words.data());
    ::_exit(127);
}

ProgramRun run(const std::vector<std::string>& arguments, const std::string& standardInput,
               const std::vector<std::string>& environment, std::optional<std::chrono::microseconds> killedAfter) {
    const ScratchFolder folder;
    const std::array<std::string, 3> streams{folder.write("in", standardInput), folder.path("out"), folder.path("err")};
    const pid_t child = ::fork();
    if (child == 0) becomeProgram(arguments, environment, streams);
    if (child > 0 && killedAfter) {
        std::this_thread::sleep_for(*killedAfter);
        ::kill(child, SIGKILL);
    }
    int ended = 0;
    if (child < 0 || ::waitpid(child, &ended, 0) != child) throw std::runtime_error("the program could not be run");
    return {WIFEXITED(ended) ? WEXITSTATUS(ended) : -1, readFile(streams[1]), readFile(streams[2])};
}

} // namespace

ProgramRun runBatch(const std::vector<std::string>& arguments, const std::string& standardInput,
                    const std::vector<std::string>& environment) {
    return run(arguments, standardInput, environment, {});
}

ProgramRun runBatchKilled(const std::vector<std::string>& arguments, std::chrono::microseconds after) {
    return run(arguments, {}, {}, after);
}

ScratchFolder::ScratchFolder() {
    std::string pattern = (std::filesystem::temp_directory_path() / "runwright-test-XXXXXX").string();
    if (::mkdtemp(pattern.data()) == nullptr) throw std::runtime_error("no scratch folder");
    folder_ = pattern;
}

ScratchFolder::~ScratchFolder() {
    std::error_code none;
    std::filesystem::remove_all(folder_, none);
}

std::string ScratchFolder::write(const std::string& name, const std::string& content) const {
    std::ofstream(path(name), std::ios::binary) << content;
    return path(name);
}

std::string readFile(const std::string& path) {
    std::ostringstream text;
    text << std::ifstream(path, std::ios::binary).rdbuf();
    return text.str();
}

} // namespace rw::testing
