#include "app/batch/learn_request.h"

#include "app/batch/options.h"
#include "app/batch/progress.h"
#include "app/batch/text_output.h"
#include "core/error.h"
#include "core/log/gps.h"
#include "core/log/import.h"
#include "core/plan/plan_json.h"
#include "core/system/input_file.h"
#include "storage/codec.h"

#include <optional>

namespace rw::batch {

namespace {

constexpr std::size_t largestLog = std::size_t{2} * 1024 * 1024 * 1024; // as the import takes it

// "S:P", or "L:S:P" where there are several logs; indices from 0 as the review prints them.
std::optional<PassRef> passIn(std::string_view text) {
    const auto parts = numbersIn<std::size_t>(text, ':');
    if (!parts || parts->size() < 2 || parts->size() > 3) return {};
    return PassRef{parts->size() == 3 ? parts->front() : 0, parts->end()[-2], parts->back()};
}

std::vector<PassRef> passesIn(const std::vector<std::string>& words, const char* option) {
    std::vector<PassRef> out;
    for (const std::string& word : words) {
        const auto ref = passIn(word);
        if (!ref)
            throw CLI::ValidationError(
                option, "expected SESSION:PASS such as 0:1 (with several logs LOG:SESSION:PASS), found " +
                            escapeControls(word));
        out.push_back(*ref);
    }
    return out;
}

// "S:P=MPS", "S:P:zone=MPS±U".
NotedSpeed notedIn(const std::string& word) {
    const auto refuse = [&word] {
        return CLI::ValidationError("--noted",
                                    "expected SESSION:PASS=MPS, SESSION:PASS:zone=MPS or MPS±UNCERTAINTY, found " +
                                        escapeControls(word));
    };
    const std::size_t equals = word.find('=');
    if (equals == std::string::npos) throw refuse();
    std::string place = word.substr(0, equals), value = word.substr(equals + 1);
    NotedSpeed out;
    constexpr std::string_view zone = ":zone", plusMinus = "±";
    if (place.ends_with(zone)) {
        out.zone = true;
        place.resize(place.size() - zone.size());
    }
    const auto ref = passIn(place);
    if (!ref) throw refuse();
    out.pass = *ref;
    if (const std::size_t at = value.find(plusMinus); at != std::string::npos) {
        const auto error = numberIn<double>(std::string_view(value).substr(at + plusMinus.size()));
        if (!error || !(*error > 0.0)) throw refuse();
        out.uncertainty = *error;
        value.resize(at);
    }
    const auto speed = numberIn<double>(value);
    constexpr double most = 400.0; // m/s
    if (!speed || !(*speed > 0.0) || *speed > most) throw refuse();
    out.speed = *speed;
    return out;
}

} // namespace

void addLearnOptions(CLI::App& command, LearnWords& words) {
    command.add_option("LOG", words.logs, "Delimited text logs")->required()->type_name("")->expected(1, -1);
    command
        .add_option("--plan", words.plans,
                    "Plan input with uncertainties: one for all logs, or one a log in their order")
        ->required()
        ->type_name("FILE")
        ->expected(1)
        ->allow_extra_args(false);
    command.add_option("--passes", words.passes, "These passes only, as the review counts them")
        ->delimiter(',')
        ->type_name("S:P");
    command.add_option("--reverse", words.reverse, "Passes run the other way")->delimiter(',')->type_name("S:P");
    command
        .add_option("--noted", words.noted,
                    "A speed read off: peak S:P=MPS, zone S:P:zone=MPS, with MPS±U its uncertainty [0.3]")
        ->delimiter(',')
        ->type_name("S:P=MPS");
    command.add_flag("--coast", words.coast, "The vehicle rolled out after the throttle closed: that counts too");
    command.add_flag("--trust-sensors", words.trustSensors, "Current and voltage sensors are calibrated");
    command.add_option("--map", words.map, "Column map of your own")->type_name("FILE");
    command.add_option("--gps", words.gps, "Measured speed: GPX or NMEA 0183")->type_name("FILE");
}

LearnRequest readRequest(const LearnWords& words) {
    LearnRequest out;
    out.options.coast = words.coast;
    out.options.trustSensors = words.trustSensors;
    if (!words.passes.empty()) out.options.passes = passesIn(words.passes, "--passes");
    out.options.reverse = passesIn(words.reverse, "--reverse");
    for (const std::string& word : words.noted)
        out.options.noted.push_back(notedIn(word));
    if (words.plans.size() != 1 && words.plans.size() != words.logs.size())
        throw CLI::ValidationError("--plan", "expected one for all logs, or one for each of the " +
                                                 std::to_string(words.logs.size()) + " logs in their order");
    std::vector<PlanInput> plans;
    for (const std::string& file : words.plans)
        plans.push_back(readPlanInputFile(file));
    std::optional<ColumnMap> map;
    std::optional<GpsTrack> track;
    if (!words.map.empty()) map = readColumnMapFile(words.map);
    if (!words.gps.empty()) track = readGpsFile(words.gps);
    std::vector<std::string> digests;
    for (std::size_t i = 0; i < words.logs.size(); ++i) {
        const PlanInput& plan = plans[plans.size() == 1 ? 0 : i];
        Progress progress("reading " + escapeControls(words.logs[i]));
        const InputFile file(words.logs[i], largestLog);
        digests.push_back(sha256Hex(file.bytes()));
        ImportOptions import;
        import.map = map;
        import.polePairs = plan.motor.poles / 2;
        out.held.push_back(importLog(file.bytes(), words.logs[i], import, {}, [&](double share) { progress(share); }));
        ReviewOptions review;
        review.plan = plan;
        review.track = track;
        out.reviews.push_back(reviewLog(out.held.back(), review));
    }
    for (std::size_t i = 0; i < out.held.size(); ++i)
        out.logs.push_back({&out.held[i], &out.reviews[i], plans[plans.size() == 1 ? 0 : i], digests[i]});
    return out;
}

} // namespace rw::batch
