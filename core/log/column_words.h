// The words of column names: which subject and which measure a header speaks of.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace rw {

// Bits, so that a whole name is one number.
enum Word : std::uint64_t {
    wordTime = 1ULL << 0,
    wordDate = 1ULL << 1,
    wordT = 1ULL << 2,
    // measures
    wordVolt = 1ULL << 3,
    wordCurrent = 1ULL << 4,
    wordTemp = 1ULL << 5,
    wordRpm = 1ULL << 6,
    wordErpm = 1ULL << 7,
    wordSpeed = 1ULL << 8,
    wordThrottle = 1ULL << 9,
    wordBrake = 1ULL << 10,
    wordOutput = 1ULL << 11,
    wordDuty = 1ULL << 12,
    wordPwm = 1ULL << 13,
    wordRipple = 1ULL << 14,
    wordLatitude = 1ULL << 15,
    wordLongitude = 1ULL << 16,
    wordElevation = 1ULL << 17,
    wordAcceleration = 1ULL << 18,
    wordPower = 1ULL << 19,
    wordCharge = 1ULL << 20,
    wordEvent = 1ULL << 21,
    // subjects
    wordPack = 1ULL << 22,
    wordMotor = 1ULL << 23,
    wordController = 1ULL << 24,
    wordReceiver = 1ULL << 25,
    wordGround = 1ULL << 26,
    wordWheel = 1ULL << 27,
    wordCell = 1ULL << 28,
    wordPhase = 1ULL << 29,
    wordX = 1ULL << 30,
    wordY = 1ULL << 31,
    wordZ = 1ULL << 32,
    wordElectrical = 1ULL << 33,
    // what neither adds nor takes away
    wordIn = 1ULL << 34,
    wordTotal = 1ULL << 35,
    wordFiller = 1ULL << 36,
    wordRms = 1ULL << 37,
    // what makes it another value
    wordStatistic = 1ULL << 38,
    wordNumber = 1ULL << 39,
    // letters of formulas that mean something only with their unit: n, P, Q
    wordN = 1ULL << 40,
    wordP = 1ULL << 41,
    wordQ = 1ULL << 42,
    // parts of a motor
    wordWinding = 1ULL << 43,
    wordCase = 1ULL << 44
};

struct NameWords {
    std::uint64_t known = 0; // bits of Word
    int unknown = 0;         // words that mean nothing here
    std::vector<std::string> tokens;
};

// "BattVolt", "motor_temp1", "vBat", "Spannung Akku", "Température": split at marks, capitals, digits and between known
// words; accents and capitals do not count.
[[nodiscard]] NameWords wordsOf(std::string_view name);

} // namespace rw
