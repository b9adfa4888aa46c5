// A text that was refused only because nobody said what its columns are: what was found of it, for a person to map.
#pragma once

#include "core/error.h"
#include "core/log/log.h"

#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace rw {

struct ImportSurvey {
    // Of the header that was found or that looks most like one: text form and columns, with what they were taken for.
    // mapFits() and columnMapFrom() work on it. No rows.
    ImportReport report;
    std::optional<std::size_t> likelyTime; // the column that reads like the time; its guess is Quantity::Time
    std::vector<std::vector<std::string>> firstCells; // by column, as written; at most some rows
};

// With the survey's columns mapped (a time, or a rate told, and another quantity) the same text is read.
class ImportRefusal : public InputError {
public:
    ImportRefusal(std::string place, std::string message, ImportSurvey survey)
        : InputError(std::move(place), std::move(message))
        , survey_(std::move(survey)) {}

    [[nodiscard]] const ImportSurvey& survey() const noexcept { return survey_; }

private:
    ImportSurvey survey_;
};

} // namespace rw
