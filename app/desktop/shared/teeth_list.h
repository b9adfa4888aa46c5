// Lists of teeth as people write them: "20, 22, 25-34", "20..30", "20 to 30"; and as they read them: "25 to 28, 34".
#pragma once

#include <QString>

#include <string>
#include <vector>

namespace rw {

struct PlanField;

// Each count once, in the order given. Throws InputError without a place, one sentence, where a word is not understood
// or the field does not allow a count.
[[nodiscard]] std::vector<int> typedTeeth(const PlanField& field, const QString& text);
// Three and more in a row become a range; typedTeeth() reads it back.
[[nodiscard]] QString teethText(const std::vector<int>& teeth);
// As the garage keeps a list, "[25,26,27]"; empty where the text is none.
[[nodiscard]] std::vector<int> teethFromText(const std::string& text);

} // namespace rw
