// What may be stored: texts, dates, keys and numbers. Throws InputError with the field's name as place. Private to
// storage.
#pragma once

#include "storage/values.h"

#include <string_view>

namespace rw {

inline constexpr std::size_t longestName = 200;   // bytes
inline constexpr std::size_t longestLine = 2'000; // descriptions, reasons, paths, value notes
inline constexpr std::size_t longestNotes = 100'000;
inline constexpr std::size_t longestDocument = 10'000'000; // JSON documents: maps, plans, reports
inline constexpr std::size_t longestReview = 100'000'000;  // of one log
inline constexpr std::size_t mostRows = 100'000;           // sessions, passes, setups, photos … of one thing

[[nodiscard]] bool isUtf8(std::string_view text); // RFC 3629: shortest forms, no surrogates, to U+10FFFF
void allowText(std::string_view what, std::string_view text, std::size_t longest); // UTF-8 without NUL
void allowName(std::string_view what, std::string_view text);                      // and not empty, nor blank
void allowDate(std::string_view what,
               std::string_view text); // "", "2026-11-21", with "T14:05", "T14:05:09" and "Z" or ".5" after
void allowNumber(std::string_view what, double number); // finite
void allowCount(std::string_view what, std::size_t count);
void allowValues(ItemKind kind, const Values& values);
[[nodiscard]] bool keyBelongsTo(ItemKind kind, std::string_view key);

} // namespace rw
