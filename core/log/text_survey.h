// One quick look over the whole text before anything is allocated: lines counted in blocks, what must be refused found.
#pragma once

#include "core/log/text_encoding.h"

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace rw {

// A line ends with LF, CR or CR LF. The end belongs to the byte that closes it: LF, or a CR that no LF follows.
[[nodiscard]] inline bool closesLine(std::string_view text, std::size_t i) {
    return text[i] == '\n' || (text[i] == '\r' && (i + 1 >= text.size() || text[i + 1] != '\n'));
}
[[nodiscard]] std::size_t lineEndsIn(std::string_view text, std::size_t from, std::size_t to);
// Place behind the next line end at or after from; text.size() if there is none.
[[nodiscard]] std::size_t nextLineStart(std::string_view text, std::size_t from);
// The line without its end.
[[nodiscard]] std::string_view lineAt(std::string_view text, std::size_t start);

struct TextSurvey {
    static constexpr std::size_t blockBytes = std::size_t{256} * 1024;
    std::vector<std::size_t> linesBefore; // line ends before each block; one entry more than blocks
    std::vector<std::size_t> firstStart;  // byte of the first line start in or behind each block, text.size() if none
    Utf8Tally utf8;                       // of the blocks that hold bytes over 127
    std::size_t quotes = 0;               // double quotes
    [[nodiscard]] std::size_t blocks() const { return linesBefore.size() - 1; }
    [[nodiscard]] std::size_t lineEnds() const { return linesBefore.back(); }
    // Number of the line, from 1, that starts at firstStart[block].
    [[nodiscard]] std::size_t firstLine(std::size_t block) const {
        return 1 + linesBefore[block] + (firstStart[block] == block * blockBytes ? 0 : 1);
    }
    // Number of the line, from 1, that holds the byte.
    [[nodiscard]] std::size_t lineOf(std::string_view text, std::size_t byte) const;
};

// Throws InputError: a NUL byte, a line over mostLineBytes. mapped: give pages back when they have been read.
[[nodiscard]] TextSurvey surveyText(std::string_view text, const std::string& fileName, unsigned threads, bool mapped);

inline constexpr std::size_t mostLineBytes = 1'000'000;
[[noreturn]] void refuseLongLine(const std::string& fileName, std::size_t line);

} // namespace rw
