#include "core/log/text_survey.h"

#include "core/error.h"
#include "core/parallel.h"
#include "core/system/input_file.h"

#include <algorithm>

namespace rw {
namespace {

struct BlockCount {
    std::size_t lineEnds = 0, quotes = 0, nuls = 0, high = 0;
    std::size_t firstStart = 0;
    Utf8Tally utf8;
};

// A character that the block before began is left out.
Utf8Tally tallyBlock(std::string_view block, bool first) {
    std::size_t skip = 0;
    while (!first && skip < 3 && skip < block.size() && (static_cast<unsigned char>(block[skip]) & 0xC0U) == 0x80U)
        ++skip;
    return tallyUtf8(block.substr(skip));
}

// Plain sums over short runs: the compiler makes vector code of them.
BlockCount countBlock(const char* bytes, std::size_t size, char following) {
    BlockCount sum;
    std::size_t i = 0;
    while (i + 1 < size) {
        const std::size_t run = std::min<std::size_t>(size - 1 - i, 255);
        std::uint8_t ends = 0, quotes = 0, nuls = 0, high = 0;
        for (std::size_t k = 0; k < run; ++k) {
            const char c = bytes[i + k];
            const char next = bytes[i + k + 1];
            ends = static_cast<std::uint8_t>(ends + ((c == '\n') | ((c == '\r') & (next != '\n'))));
            quotes = static_cast<std::uint8_t>(quotes + (c == '"'));
            nuls = static_cast<std::uint8_t>(nuls + (c == '\0'));
            high = static_cast<std::uint8_t>(high + (c < 0));
        }
        sum.lineEnds += ends;
        sum.quotes += quotes;
        sum.nuls += nuls;
        sum.high += high;
        i += run;
    }
    const char last = bytes[size - 1];
    sum.lineEnds += last == '\n' || (last == '\r' && following != '\n');
    sum.quotes += last == '"';
    sum.nuls += last == '\0';
    sum.high += static_cast<unsigned char>(last) > 127;
    return sum;
}

// First line start at or behind a place within the block that begins there; its end if there is none.
std::size_t lineStartWithin(std::string_view text, std::size_t from, std::size_t size) {
    if (from == 0 || closesLine(text, from - 1)) return from;
    for (std::size_t i = from; i + 1 < from + size; ++i)
        if (closesLine(text, i)) return i + 1;
    return from + size;
}

// Only where whole blocks without a line end follow one another can a line be too long; those are measured.
void refuseLongLines(std::string_view text, const std::string& fileName, const TextSurvey& survey) {
    constexpr std::size_t suspicious = mostLineBytes / TextSurvey::blockBytes - 1;
    std::size_t without = 0;
    for (std::size_t b = 0; b < survey.blocks(); ++b) {
        without = survey.linesBefore[b + 1] == survey.linesBefore[b] ? without + 1 : 0;
        if (without < suspicious) continue;
        std::size_t start = (b + 1 - without) * TextSurvey::blockBytes;
        while (start > 0 && !closesLine(text, start - 1))
            --start;
        const std::size_t end = nextLineStart(text.substr(0, start + mostLineBytes + 2), start);
        if (end - start > mostLineBytes) refuseLongLine(fileName, survey.lineOf(text, start));
    }
}

} // namespace

std::size_t lineEndsIn(std::string_view text, std::size_t from, std::size_t to) {
    std::size_t ends = 0;
    for (std::size_t i = from; i < to; ++i)
        ends += closesLine(text, i);
    return ends;
}

std::size_t nextLineStart(std::string_view text, std::size_t from) {
    for (std::size_t i = from; i < text.size(); ++i)
        if (closesLine(text, i)) return i + 1;
    return text.size();
}

std::string_view lineAt(std::string_view text, std::size_t start) {
    return text.substr(start, std::min(text.find_first_of("\r\n", start), text.size()) - start);
}

std::size_t TextSurvey::lineOf(std::string_view text, std::size_t byte) const {
    const std::size_t block = std::min(byte / blockBytes, blocks() > 0 ? blocks() - 1 : 0);
    return 1 + linesBefore[block] + lineEndsIn(text, block * blockBytes, byte);
}

void refuseLongLine(const std::string& fileName, std::size_t line) {
    throw InputError(fileName + ":" + std::to_string(line), "is a line of over 1 MB; a log in text form is expected");
}

TextSurvey surveyText(std::string_view text, const std::string& fileName, unsigned threads, bool mapped) {
    const std::size_t blocks = (text.size() + TextSurvey::blockBytes - 1) / TextSurvey::blockBytes;
    std::vector<BlockCount> counts(blocks);
    parallelFor(threads, blocks, [&](std::size_t b, bool) {
        const std::size_t from = b * TextSurvey::blockBytes;
        const std::size_t size = std::min(TextSurvey::blockBytes, text.size() - from);
        counts[b] = countBlock(text.data() + from, size, from + size < text.size() ? text[from + size] : '\0');
        counts[b].firstStart = lineStartWithin(text, from, size);
        if (counts[b].high > 0) counts[b].utf8 = tallyBlock(text.substr(from, size), b == 0);
        if (mapped) releasePages(text.substr(from, size));
    });
    TextSurvey survey;
    survey.linesBefore.assign(1, 0);
    for (std::size_t b = 0; b < blocks; ++b) {
        survey.linesBefore.push_back(survey.linesBefore.back() + counts[b].lineEnds);
        survey.firstStart.push_back(counts[b].firstStart);
        survey.quotes += counts[b].quotes;
        survey.utf8.characters += counts[b].utf8.characters;
        survey.utf8.wrongBytes += counts[b].utf8.wrongBytes;
    }
    // A block in which no line starts looks to the next.
    for (std::size_t b = blocks; b-- > 0;)
        if (b + 1 < blocks && survey.firstStart[b] == (b + 1) * TextSurvey::blockBytes)
            survey.firstStart[b] = survey.firstStart[b + 1];
    for (std::size_t b = 0; b < blocks; ++b) {
        if (counts[b].nuls == 0) continue;
        const std::size_t at = text.find('\0', b * TextSurvey::blockBytes);
        throw InputError(fileName + ":" + std::to_string(survey.lineOf(text, at)),
                         "holds a NUL byte; a log in text form is expected");
    }
    refuseLongLines(text, fileName, survey);
    return survey;
}

} // namespace rw
