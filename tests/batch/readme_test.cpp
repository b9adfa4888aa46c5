// The table of plan inputs in app/batch/README.md is what the program's own field table says. After a change of the
// table run this test with RUNWRIGHT_WRITE_README=1: it writes the new rows between the marks.
#include "core/plan/plan_fields.h"

#include <gtest/gtest.h>

#include <array>
#include <cstdlib>
#include <fstream>
#include <sstream>

namespace rw::testing {

namespace {

const std::string path = RUNWRIGHT_SOURCE_DIR "/app/batch/README.md";
constexpr std::string_view from = "<!-- fields: written by the tests -->\n", to = "<!-- end of fields -->";

std::string number(double value) {
    std::array<char, 40> text{};
    std::snprintf(text.data(), text.size(), "%.10g", value);
    return text.data();
}

std::string defaultOf(const PlanField& field) {
    if (field.required) return "needed";
    if (field.kind == FieldKind::Choice && field.defaultValue)
        return std::string(field.choices[static_cast<std::size_t>(*field.defaultValue)]);
    if (field.defaultValue) return number(*field.defaultValue);
    return std::string(field.defaultText);
}

std::string allowed(const PlanField& field) {
    if (field.kind != FieldKind::Choice) return rangeText(field);
    std::string out;
    for (const std::string_view choice : field.choices)
        out += (out.empty() ? "" : ", ") + std::string(choice);
    return out;
}

std::string tableText() {
    std::ostringstream out;
    out << "| key | unit | allowed | default | meaning |\n| --- | --- | --- | --- | --- |\n";
    for (const PlanField& field : planFields())
        out << "| `" << field.key() << "` | " << field.unit << " | " << allowed(field) << " | " << defaultOf(field)
            << " | " << field.meaning << " |\n";
    return out.str();
}

std::string wholeFile() {
    std::ifstream in(path, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

TEST(Readme, ItsTableOfPlanInputsIsTheFieldTable) {
    std::string text = wholeFile();
    const std::size_t begin = text.find(from), end = text.find(to);
    ASSERT_NE(begin, std::string::npos);
    ASSERT_NE(end, std::string::npos);
    const std::size_t start = begin + from.size();
    if (std::getenv("RUNWRIGHT_WRITE_README") != nullptr) {
        text.replace(start, end - start, tableText());
        std::ofstream(path, std::ios::binary) << text;
        return;
    }
    EXPECT_EQ(text.substr(start, end - start), tableText()) << "run with RUNWRIGHT_WRITE_README=1 after a change";
}

} // namespace

} // namespace rw::testing
