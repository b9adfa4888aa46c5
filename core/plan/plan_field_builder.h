// How a row of the field table is written down: the path to its member, its names, default, range and three sentences.
#pragma once

#include "core/plan/plan_fields.h"

#include <cmath>
#include <limits>
#include <type_traits>

namespace rw {

struct FieldName {
    std::string_view group, name, label, unit;
};

struct FieldDefault {
    bool required = false;
    std::optional<double> value;
    std::string_view text;
};
inline constexpr FieldDefault required{true, std::nullopt, ""};
inline constexpr FieldDefault noneByDefault{false, std::nullopt, "none"};
constexpr FieldDefault byDefault(double value) { return {false, value, ""}; }
constexpr FieldDefault derived(std::string_view text) { return {false, std::nullopt, text}; }

struct FieldRange {
    double low = 0.0, high = 0.0;
    bool lowOpen = false;
};
inline constexpr double unbounded = std::numeric_limits<double>::infinity();
inline constexpr FieldRange anyNumber{-unbounded, unbounded, false};
inline constexpr FieldRange notNegative{0.0, unbounded, false};
inline constexpr FieldRange overZero{0.0, unbounded, true};
inline constexpr FieldRange lengths{0.0, 2000.0, true};
inline constexpr FieldRange heights{0.0, 2000.0, false};
inline constexpr FieldRange temperatures{-40.0, 150.0, false};
inline constexpr FieldRange fraction{0.0, 1.0, false};
inline constexpr FieldRange fractionOverZero{0.0, 1.0, true};
inline constexpr FieldRange teeth{5.0, 200.0, false};
inline constexpr FieldRange partMasses{0.0, 60.0, true};
inline constexpr FieldRange thermalResistances{0.0, 1000.0, true};

struct FieldText {
    std::string_view meaning, usual, measure;
};

namespace detail {

template<class T>
inline constexpr bool isOptional = false;
template<class T>
inline constexpr bool isOptional<std::optional<T>> = true;
template<class T>
inline constexpr bool isWhole = std::is_integral_v<T> || std::is_same_v<T, std::optional<int>>;

template<class T>
std::optional<double> readMember(const T& member) {
    if constexpr (isOptional<T>)
        return member ? std::optional(static_cast<double>(*member)) : std::nullopt;
    else
        return static_cast<double>(member);
}

template<class T>
void writeMember(T& member, double value) {
    if constexpr (isWhole<T> && isOptional<T>)
        member = static_cast<int>(std::lround(std::fmin(std::fmax(value, -1e9), 1e9)));
    else if constexpr (std::is_enum_v<T> || isWhole<T>)
        member = static_cast<T>(std::lround(std::fmin(std::fmax(value, -1e9), 1e9)));
    else
        member = value;
}

template<auto... Path>
std::optional<double> getField(const PlanInput& input) {
    return readMember((input.*....*Path));
}

template<auto... Path>
void setField(PlanInput& input, std::optional<double> value) {
    if (value)
        writeMember((input.*....*Path), *value);
    else
        (input.*....*Path) = (PlanInput{}.*....*Path);
}

} // namespace detail

// A Number, or a Whole where the member is an integer.
template<auto... Path>
PlanField field(const FieldName& name, const FieldDefault& standard, const FieldRange& range, const FieldText& text) {
    using Member = std::remove_cvref_t<decltype((std::declval<PlanInput>().*....*Path))>;
    PlanField out;
    out.group = name.group, out.name = name.name, out.label = name.label, out.unit = name.unit;
    out.kind = detail::isWhole<Member> ? FieldKind::Whole : FieldKind::Number;
    out.nullable = detail::isOptional<Member>;
    out.required = standard.required, out.defaultValue = standard.value, out.defaultText = standard.text;
    out.low = range.low, out.high = range.high, out.lowOpen = range.lowOpen;
    out.meaning = text.meaning, out.usual = text.usual, out.measure = text.measure;
    out.get = detail::getField<Path...>;
    out.set = detail::setField<Path...>;
    return out;
}

template<auto... Path>
PlanField choiceField(const FieldName& name, const FieldDefault& standard, std::span<const std::string_view> choices,
                      const FieldText& text) {
    PlanField out = field<Path...>(name, standard, {0.0, static_cast<double>(choices.size()) - 1.0, false}, text);
    out.kind = FieldKind::Choice;
    out.choices = choices;
    return out;
}

inline PlanField listField(FieldKind kind, const FieldName& name, const FieldDefault& standard, const FieldRange& range,
                           const FieldText& text) {
    PlanField out;
    out.group = name.group, out.name = name.name, out.label = name.label, out.unit = name.unit;
    out.kind = kind;
    out.defaultText = standard.text;
    out.low = range.low, out.high = range.high, out.lowOpen = range.lowOpen;
    out.meaning = text.meaning, out.usual = text.usual, out.measure = text.measure;
    return out;
}

// The groups, in the order of the document.
[[nodiscard]] std::vector<PlanField> courseFields();     // air, wind, venue
[[nodiscard]] std::vector<PlanField> vehicleFields();    // vehicle, tyre, gears
[[nodiscard]] std::vector<PlanField> motorFields();      // motor
[[nodiscard]] std::vector<PlanField> controllerFields(); // controller, controller.cutoff
[[nodiscard]] std::vector<PlanField> packFields();       // pack
[[nodiscard]] std::vector<PlanField> driveFields();      // start, drive

// Puts usual range and measurable uncertainty into every Number and Whole.
void addFieldNumbers(std::vector<PlanField>& fields);

} // namespace rw
