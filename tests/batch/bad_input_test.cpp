// Wrong plan inputs through the real program: exit status 1, one line on standard error that names the place and what
// was expected, nothing on standard output.
#include "tests/batch/run_program.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <unistd.h>

namespace rw::testing {

namespace {

using Json = nlohmann::ordered_json;

std::string sampleText() { return readFile(RUNWRIGHT_SOURCE_DIR "/samples/plans/invented_light_two_wheel_drive.json"); }

struct Complaint {
    std::string name;
    std::vector<std::string> fragments; // all in the one line
};

void expectRefused(const ProgramRun& run, const Complaint& complaint) {
    EXPECT_EQ(run.status, 1);
    EXPECT_EQ(run.out, "");
    EXPECT_EQ(std::count(run.err.begin(), run.err.end(), '\n'), 1) << run.err;
    EXPECT_TRUE(run.err.ends_with("\n"));
    for (const std::string& fragment : complaint.fragments)
        EXPECT_NE(run.err.find(fragment), std::string::npos) << "no \"" << fragment << "\" in: " << run.err;
    for (const char c : run.err.substr(0, run.err.size() - 1))
        EXPECT_GE(static_cast<unsigned char>(c), 0x20) << run.err;
    EXPECT_LT(run.err.size(), 500U) << "a line, not a novel";
}

struct TextCase : Complaint {
    std::string text;
};

// RFC 8259 decides what is valid JSON; the rest is the plan input's own rules.
std::vector<TextCase> textCases() {
    const std::string head = R"({"runwright":"plan","version":1,)";
    std::string deepList(100'000, '['), deepObject;
    for (int i = 0; i < 100'000; ++i)
        deepObject += R"({"a":)";
    return {
        {{"Empty", {"-:1:1", "empty"}}, ""},
        {{"OnlyByteOrderMark", {"-:1:1", "empty"}}, "\xEF\xBB\xBF"},
        {{"OnlyBlanks", {"not valid JSON", "unexpected end of input"}}, " \n "},
        {{"BreaksOffInObject", {"-:2:5", "unexpected end of input"}}, "{\n\"a\":"},
        {{"BreaksOffInString", {"-:1:", "not valid JSON"}}, "{\"runwr"},
        {{"NotANumber", {"-:2:20", "not valid JSON"}}, head + "\n\"air\":{\"elevation\":NaN}}"},
        {{"Infinity", {"not valid JSON"}}, head + "\"air\":{\"elevation_m\":Infinity}}"},
        {{"Overflow", {"-:1:", "1e999"}}, head + "\"air\":{\"elevation_m\":1e999}}"},
        {{"LeadingZero", {"not valid JSON"}}, head + "\"air\":{\"elevation_m\":01}}"},
        {{"PlusSign", {"not valid JSON"}}, head + "\"air\":{\"elevation_m\":+1}}"},
        {{"BarePoint", {"not valid JSON"}}, head + "\"air\":{\"elevation_m\":.5}}"},
        {{"TrailingComma", {"not valid JSON"}}, head + "}"},
        {{"SingleQuotes", {"not valid JSON"}}, "{'runwright':'plan'}"},
        {{"Comment", {"not valid JSON"}}, "// plan\n{}"},
        {{"ControlCharacterInString", {"not valid JSON"}}, "{\"run\nwright\":1}"},
        {{"IllFormedUtf8", {"not valid JSON", "UTF-8"}}, "{\"run\xFF\":1}"},
        {{"TextAfterTheDocument", {"not valid JSON", "end of input"}}, sampleText() + "x"},
        {{"TwoDocuments", {"not valid JSON"}}, sampleText() + sampleText()},
        {{"KeyTwice", {"-:1:33", "\"version\"", "twice"}}, head + "\"version\":1}"},
        {{"KeyTwiceInside", {"\"elevation_m\"", "twice"}}, head + "\"air\":{\"elevation_m\":1,\"elevation_m\":1}}"},
        {{"KeyTwiceEscaped", {"\"air\"", "twice"}}, head + "\"air\":{},\"\\u0061ir\":{}}"},
        {{"DeepLists", {"-:1:101", "100"}}, deepList},
        {{"DeepObjects", {"-:1:501", "100"}}, deepObject},
        {{"BareList", {"expected an object", "a list"}}, "[]"},
        {{"BareNull", {"expected an object", "null"}}, "null"},
        {{"NotAPlan", {"runwright", "missing"}}, "{}"},
        {{"AnotherKind", {"runwright", "\"plan\"", "\"log\""}}, R"({"runwright":"log","version":1})"},
        {{"KindIsNoText", {"runwright", "expected a text", "a number"}}, R"({"runwright":1,"version":1})"},
        {{"NoVersion", {"version", "missing"}}, R"({"runwright":"plan"})"},
        {{"AnotherVersion", {"version", "version 1"}}, R"({"runwright":"plan","version":2})"},
        {{"VersionAsText", {"version", "expected a number"}}, R"({"runwright":"plan","version":"1"})"},
        {{"VeryLongKey", {"unknown key", "…"}}, head + "\"" + std::string(200'000, 'k') + "\":1}"},
        {{"ControlCharactersInKey", {"unknown key", "\\x1B", "\\n"}}, head + "\"\\u001b[31m\\nred\":1}"},
        {{"UnknownGroup", {"unknown key", "\"motor\""}}, head + "\"moter\":{}}"},
    };
}

struct EditCase : Complaint {
    std::string pointer; // JSON pointer into the sample
    Json value;          // discarded: the key is removed
};

EditCase edited(std::string name, std::string pointer, Json value, std::vector<std::string> fragments) {
    return {{std::move(name), std::move(fragments)}, std::move(pointer), std::move(value)};
}

const Json removed(Json::value_t::discarded);

std::vector<EditCase> editCases() {
    return {
        edited("UnknownKey", "/motor/kv_rpm_per_v", 1, {"motor.kv_rpm_per_v", "unknown key", "motor.kv_rpm_per_V"}),
        edited("UnknownKeySwapped", "/vehicle/msas_kg", 1, {"unknown key", "vehicle.mass_kg"}),
        edited("UnknownKeyInNested", "/controller/cutoff/cell_v", 3,
               {"controller.cutoff.cell_v", "controller.cutoff.cell_V"}),
        edited("MissingGroup", "/motor", removed, {"motor.kv_rpm_per_V", "missing"}),
        edited("MissingKey", "/vehicle/mass_kg", removed, {"vehicle.mass_kg", "missing"}),
        edited("MissingContinuousRate", "/pack/continuous_c_rate", removed, {"pack.continuous_c_rate", "missing"}),
        edited("MissingCutoffVoltage", "/controller/cutoff/cell_V", removed, {"controller.cutoff.cell_V", "unless"}),
        edited("MissingRcCapacitance", "/pack/rc_capacitance_F", removed, {"pack.rc_capacitance_F", "missing"}),
        edited("TextForNumber", "/vehicle/mass_kg", "2", {"vehicle.mass_kg", "expected a number", "a text"}),
        edited("BooleanForNumber", "/vehicle/mass_kg", true, {"vehicle.mass_kg", "expected a number"}),
        edited("NullForNumber", "/vehicle/mass_kg", nullptr, {"vehicle.mass_kg", "expected a number", "null"}),
        edited("ListForNumber", "/vehicle/mass_kg", Json::array({1}), {"vehicle.mass_kg", "a list"}),
        edited("NumberForGroup", "/vehicle", 3, {"vehicle", "expected an object"}),
        edited("NullForGroup", "/air", nullptr, {"air", "expected an object", "null"}),
        edited("NumberForCutoff", "/controller/cutoff", 3, {"controller.cutoff", "expected an object"}),
        edited("TextForChoice", "/vehicle/driven", "four",
               {"vehicle.driven", "\"front\"", "\"rear\"", "\"all\"", "\"four\""}),
        edited("NumberForChoice", "/vehicle/driven", 4, {"vehicle.driven", "\"front\""}),
        edited("CutoffChoice", "/controller/cutoff/mode", "firm",
               {"controller.cutoff.mode", "\"off\"", "\"soft\"", "\"hard\""}),
        edited("ZeroMass", "/vehicle/mass_kg", 0, {"vehicle.mass_kg", "0.1 to 60"}),
        edited("NegativeMass", "/vehicle/mass_kg", -2, {"vehicle.mass_kg", "-2", "0.1 to 60"}),
        edited("ZeroTeeth", "/gears/pinion_teeth", 0, {"gears.pinion_teeth", "5 to 200"}),
        edited("NegativeTeeth", "/gears/spur_teeth", -20, {"gears.spur_teeth", "5 to 200"}),
        edited("HalfATooth", "/gears/spur_teeth", 72.5, {"gears.spur_teeth", "whole"}),
        edited("ZeroCells", "/pack/series", 0, {"pack.series", "1 to 24"}),
        edited("TooManyCells", "/pack/series", 25, {"pack.series", "1 to 24"}),
        edited("ZeroCapacity", "/pack/capacity_Ah", 0, {"pack.capacity_Ah", "over 0"}),
        edited("NegativeCapacity", "/pack/capacity_Ah", -1, {"pack.capacity_Ah", "over 0"}),
        edited("TooHot", "/air/temperature_C", 151, {"air.temperature_C", "-40 to 150"}),
        edited("TooThinAir", "/air/pressure_Pa", 49999, {"air.pressure_Pa", "50000 to 110000"}),
        edited("TooHigh", "/air/elevation_m", 5001, {"air.elevation_m", "-500 to 5000"}),
        edited("TooWet", "/air/relative_humidity", 1.5, {"air.relative_humidity", "0 to 1"}),
        edited("Storm", "/wind/speed_mps", 31, {"wind.speed_mps", "0 to 30"}),
        edited("TooSteep", "/venue/grade", -0.21, {"venue.grade", "-0.2 to 0.2"}),
        edited("NoGrip", "/venue/friction", 0.04, {"venue.friction", "0.05 to 2.5"}),
        edited("NoRunUp", "/venue/run_up_m", 0, {"venue.run_up_m", "over 0 to 2000"}),
        edited("TooMuchTiming", "/motor/timing_deg", 46, {"motor.timing_deg", "0 to 45"}),
        edited("OddPoles", "/motor/poles", 5, {"motor.poles", "odd"}),
        edited("TooManyPoles", "/motor/poles", 30, {"motor.poles", "2 to 28"}),
        edited("WindingLimit", "/motor/winding_limit_C", 251, {"motor.winding_limit_C", "-40 to 250"}),
        edited("Endpoint", "/controller/endpoint", 0, {"controller.endpoint", "over 0 to 1"}),
        edited("NegativeDrag", "/vehicle/drag_area_m2", -0.1, {"vehicle.drag_area_m2", "at least 0"}),
        edited("PerfectDriveline", "/vehicle/driveline_efficiency", 1.01,
               {"vehicle.driveline_efficiency", "over 0 to 1"}),
        edited("ThermalResistance", "/motor/case_air_KpW", 1001, {"motor.case_air_KpW", "over 0 to 1000"}),
        edited("HundredAndOnePasses", "/drive/passes", 101, {"drive.passes", "1 to 100"}),
        edited("StripTooShort", "/venue/length_m", 114.9, {"venue.length_m", "114.9", "run_up_m and timed_m"}),
        edited("CgBehindTheCar", "/vehicle/cg_behind_front_m", 0.3, {"vehicle.cg_behind_front_m", "wheelbase_m"}),
        edited("OcvOneRow", "/pack/ocv", Json::array({{0, 3.3}}), {"pack.ocv", "two rows"}),
        edited("OcvEmpty", "/pack/ocv", Json::array(), {"pack.ocv", "two rows"}),
        edited("OcvChargesNotRising", "/pack/ocv", Json::array({{0, 3.3}, {0.5, 3.8}, {0.5, 4.2}}),
               {"pack.ocv[2]", "does not rise"}),
        edited("OcvVoltsFalling", "/pack/ocv", Json::array({{0, 3.3}, {0.5, 3.8}, {1, 3.7}}), {"pack.ocv[2]", "falls"}),
        edited("OcvThreeColumns", "/pack/ocv", Json::array({{0, 3.3, 1}, {1, 4.2, 1}}),
               {"pack.ocv[0]", "[charge, volts per cell]"}),
        edited("OcvText", "/pack/ocv", Json::array({{0, "3.3"}, {1, 4.2}}), {"pack.ocv[0]", "expected a number"}),
        edited("OcvNumber", "/pack/ocv", 4.2, {"pack.ocv", "expected a list"}),
        edited("NoPinions", "/gears/pinions", Json::array(), {"gears.pinions", "empty"}),
        edited("NoSpurs", "/gears/spurs", Json::array(), {"gears.spurs", "empty"}),
        edited("PinionWithFourTeeth", "/gears/pinions", Json::array({20, 4}), {"gears.pinions[1]", "5 to 200"}),
        edited("PinionsAsNumber", "/gears/pinions", 20, {"gears.pinions", "expected a list"}),
        edited("UncertainUnknown", "/uncertainty/motor.kv", 1, {"uncertainty.motor.kv", "unknown key", "motor."}),
        edited("UncertainNegative", "/uncertainty/venue.friction", -0.1, {"uncertainty.venue.friction", "negative"}),
        edited("UncertainText", "/uncertainty/venue.friction", "some",
               {"uncertainty.venue.friction", "expected a number"}),
        edited("UncertainChoice", "/uncertainty/vehicle.driven", 1, {"uncertainty.vehicle.driven", "no number"}),
        edited("UncertainList", "/uncertainty", Json::array(), {"uncertainty", "expected an object"}),
    };
}

std::string editedSample(const EditCase& edit) {
    Json document = Json::parse(sampleText());
    const Json::json_pointer pointer(edit.pointer);
    if (edit.value.is_discarded())
        document[pointer.parent_pointer()].erase(pointer.back());
    else
        document[pointer] = edit.value;
    return document.dump(2);
}

class WrongText : public ::testing::TestWithParam<TextCase> {};
class WrongEdit : public ::testing::TestWithParam<EditCase> {};

TEST_P(WrongText, IsRefusedInOneLine) { expectRefused(runBatch({"plan", "-"}, GetParam().text), GetParam()); }

TEST_P(WrongEdit, IsRefusedInOneLine) {
    expectRefused(runBatch({"plan", "-", "--json"}, editedSample(GetParam())), GetParam());
}

const auto nameOf = [](const auto& info) { return info.param.name; };
INSTANTIATE_TEST_SUITE_P(Json, WrongText, ::testing::ValuesIn(textCases()), nameOf);
INSTANTIATE_TEST_SUITE_P(Plan, WrongEdit, ::testing::ValuesIn(editCases()), nameOf);

TEST(WrongFile, MissingFolderGigabyteAndEndlessAreRefused) {
    const ScratchFolder folder;
    expectRefused(runBatch({"plan", folder.path("none.json")}), {"", {"none.json", "cannot be opened"}});
    expectRefused(runBatch({"plan", folder.path("")}), {"", {"folder"}});
    const std::string gigabyte = folder.write("gigabyte.json", "{");
    ASSERT_EQ(::truncate(gigabyte.c_str(), 1 << 30), 0); // sparse
    expectRefused(runBatch({"plan", gigabyte}), {"", {"gigabyte.json", "1 MB that are read"}});
    expectRefused(runBatch({"plan", "/dev/zero"}), {"", {"/dev/zero", "is a device"}});
    expectRefused(runBatch({"plan", "-"}, std::string(2 << 20, ' ')), {"", {"-: ", "1 MB that are read"}});
}

TEST(WrongFile, ControlCharactersInItsNameAreEscaped) {
    const ScratchFolder folder;
    expectRefused(runBatch({"plan", folder.path("a\n\x1B[31mb")}), {"", {"a\\n\\x1B[31mb"}});
}

TEST(WrongFile, OneOfSeveralSilencesAll) {
    const std::string good = RUNWRIGHT_SOURCE_DIR "/samples/plans/invented_streamliner.json";
    expectRefused(runBatch({"plan", good, "-"}, "{"), {"", {"-:1:2"}});
}

TEST(WrongFile, EveryPlanCommandRefusesAlike) {
    expectRefused(runBatch({"gears", "-"}, "{"), {"", {"-:1:2"}});
    expectRefused(runBatch({"reach", "-", "--target", "30"}, "{"), {"", {"-:1:2"}});
    expectRefused(runBatch({"spread", "-", "--runs", "10"}, "{"), {"", {"-:1:2"}});
}

TEST(WrongFile, AMissingKeyIsNamedForEveryKeyWithoutADefault) {
    const Json sample = Json::parse(sampleText());
    const std::map<std::string, std::vector<std::string>> needed{
        {"venue", {"length_m", "run_up_m", "timed_m", "friction"}},
        {"vehicle",
         {"mass_kg", "wheelbase_m", "cg_behind_front_m", "cg_height_m", "driven", "drag_area_m2", "rolling_c0",
          "internal_ratio", "driveline_efficiency"}},
        {"tyre", {"radius_m", "slip_stiffness"}},
        {"gears", {"module_m", "pinion_teeth", "spur_teeth"}},
        {"motor",
         {"kv_rpm_per_V", "resistance_ohm", "no_load_current_A", "no_load_voltage_V", "winding_capacity_JpK",
          "case_capacity_JpK", "winding_case_KpW", "case_air_KpW"}},
        {"controller", {"resistance_ohm", "capacity_JpK", "case_air_KpW"}},
        {"pack",
         {"series", "capacity_Ah", "cell_resistance_ohm", "continuous_c_rate", "capacity_JpK", "case_air_KpW"}}};
    for (const auto& [group, keys] : needed) {
        for (const std::string& key : keys) {
            Json document = sample;
            document[group].erase(key);
            SCOPED_TRACE(key);
            expectRefused(runBatch({"plan", "-"}, document.dump()), {"", {group + "." + key, "missing"}});
        }
    }
}

} // namespace

} // namespace rw::testing
