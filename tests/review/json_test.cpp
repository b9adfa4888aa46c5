// app/batch/README.md "Results", review: every key, exactly, in its place.
#include "tests/review/hand_log.h"

#include <gmock/gmock.h>
#include <nlohmann/json.hpp>

namespace rw {
namespace {

using namespace test;
using Json = nlohmann::ordered_json;

std::vector<std::string> keys(const Json& json) {
    std::vector<std::string> all;
    for (const auto& item : json.items())
        all.push_back(item.key());
    return all;
}
std::vector<std::string> words(const std::string& text) {
    std::vector<std::string> all;
    std::istringstream in(text);
    for (std::string word; in >> word;)
        all.push_back(word);
    return all;
}

TEST(ReviewJson, hasEveryKey) {
    HandLog log = goodPass();
    log.change(Quantity::PackVoltage, [](double t, double was) { return t > 22.0 && t < 22.5 ? 12.2 : was; });
    const Log built = log.build();
    const Json json = Json::parse(reviewJson(built, reviewLog(built)));
    EXPECT_THAT(keys(json),
                testing::ElementsAreArray(words("file sessions passes findings not_judged notes import gps")));
    EXPECT_THAT(keys(json["sessions"][0]),
                testing::ElementsAreArray(words("start_row end_row start_line end_line log_start_s duration_s cells "
                                                "cells_sure cells_candidates resting_V current_zero_A")));
    EXPECT_THAT(
        keys(json["passes"][0]),
        testing::ElementsAreArray(words("session start_s end_s complete rate_Hz throttle_rise_s output_rise_s "
                                        "output_max full_output_s resting_V resting_recovering min_V min_cell_V sag_V "
                                        "peak_A mean_A motor_peak_A peak_W charge_Ah charge_back_Ah energy_Wh "
                                        "ripple_peak_V ripple_share motor_peak_rpm wheel_peak_mps wheel_peak_free_mps "
                                        "speed_peak_mps zone_speed_mps distance_m motor_start_C motor_max_C "
                                        "motor_end_C motor_rise_C motor_soak_C motor_soak_after_s soak_complete "
                                        "motor_soak_predicted_C controller_start_C controller_max_C controller_end_C "
                                        "controller_rise_C controller_soak_C controller_soak_after_s pack_start_C "
                                        "pack_max_C receiver_min_V pack_ohm pack_ohm_se rpm_per_volt gap_s")));
    ASSERT_FALSE(json["findings"].empty());
    EXPECT_THAT(
        keys(json["findings"][0]),
        testing::ElementsAreArray(words("id severity session pass at_s from_s to_s seen threshold meaning advice")));
    ASSERT_FALSE(json["not_judged"].empty());
    EXPECT_THAT(keys(json["not_judged"][0]), testing::ElementsAreArray(words("id session why")));
    EXPECT_THAT(keys(json["import"]),
                testing::ElementsAreArray(words("encoding separator decimal header_line time_form stamp_step_s columns "
                                                "rows rows_refused rows_refused_count lines_skipped")));
    EXPECT_THAT(keys(json["import"]["lines_skipped"]), testing::ElementsAreArray(words("comment empty header")));
    EXPECT_TRUE(json["gps"].is_null());
    EXPECT_TRUE(json["passes"][0]["motor_peak_A"].is_null());
}

TEST(ReviewJson, numbersReadBackToTheSameDouble) {
    const Log built = goodPass().build();
    const LogReview review = reviewLog(built);
    const Json json = Json::parse(reviewJson(built, review));
    for (const PassFigure& f : passFigures()) {
        const auto value = f.get(review.passes.at(0));
        if (value && f.printed) {
            EXPECT_EQ(json["passes"][0][std::string(f.key)].get<double>(), *value) << f.key;
        }
    }
}

TEST(ReviewJson, isWrittenThoughANameIsNoUtf8) {
    Log built = goodPass().build();
    built.file = "b\xE4\x01.csv";
    EXPECT_TRUE(Json::accept(reviewJson(built, reviewLog(built))));
}

} // namespace
} // namespace rw
