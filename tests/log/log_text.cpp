#include "tests/log/log_text.h"

#include "core/error.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdio>

namespace rw::test {

std::string plainLog(const PlainLog& form) {
    std::string text = form.header + form.lineEnd;
    for (int i = 0; i < form.rows; ++i) {
        char row[96];
        std::snprintf(row, sizeof row, "%.3f|%.2f|%.1f", i * form.step, 16.8 - 0.1 * (i % 5), 4.5 * (i % 5));
        std::string cells = row;
        if (form.decimalComma) std::replace(cells.begin(), cells.end(), '.', ',');
        for (const char c : cells)
            c == '|' ? text += form.separator : text += c;
        text += form.lineEnd;
    }
    return text;
}

std::string lines(const std::vector<std::string>& text) {
    std::string all;
    for (const std::string& line : text)
        all += line + "\n";
    return all;
}

Log read(const std::string& text, const ImportOptions& options) { return importLog(text, "log.csv", options); }

std::string complaint(const std::string& text, const ImportOptions& options) {
    try {
        const Log log = read(text, options);
        ADD_FAILURE() << "was read, " << log.rows() << " rows";
    } catch (const InputError& error) {
        return error.what();
    }
    return {};
}

const ImportColumn& column(const Log& log, const std::string& name) {
    static const ImportColumn none;
    for (const ImportColumn& candidate : log.report.columns)
        if (candidate.name == name) return candidate;
    ADD_FAILURE() << "no column named " << name;
    return none;
}

bool notesHold(const Log& log, const std::string& words) {
    return std::any_of(log.notes.begin(), log.notes.end(),
                       [&](const std::string& note) { return note.find(words) != std::string::npos; });
}

} // namespace rw::test
