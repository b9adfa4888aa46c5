// How a row of the field table is written down: the path to its member, its names, default, valid and usual range, and
// three sentences. Usual ranges and what measuring reaches: common practice, from memory.
#pragma once

#include "core/plan/plan_fields.h"

#include <cmath>
#include <limits>
#include <type_traits>

namespace rw {

struct FieldName {
    std::string_view group, name, label;
    Dimension dimension;
};
using enum Dimension;

struct FieldDefault {
    bool required = false;
    std::string_view text; // where the struct that holds the field has no number
    std::optional<double> (*standIn)(const PlanInput&) = nullptr;
    bool orNull = false; // null says that there is none
};
inline constexpr FieldDefault required{true, ""};
inline constexpr FieldDefault requiredOrNull{true, "", nullptr, true};
inline constexpr FieldDefault byDefault{}; // of the struct
inline constexpr FieldDefault noneByDefault{false, "none"};
constexpr FieldDefault derived(
    std::string_view text,
    std::optional<double> (*standIn)(const PlanInput&) = [](const PlanInput&) { return std::optional<double>(); }) {
    return {false, text, standIn};
}

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

// Where most values lie, in the key's unit, and the standard uncertainty of measuring with care at home.
struct FieldUsual {
    double low = 0.0, high = 0.0;
    MethodUncertainty measurable = {};
};
constexpr MethodUncertainty share(double relative) { return {relative, 0.0}; }
constexpr MethodUncertainty within(double absolute) { return {0.0, absolute}; }
inline constexpr MethodUncertainty exact{};

struct FieldText {
    std::string_view meaning, usual, measure;
};

namespace detail {

template<class T>
inline constexpr bool isOptional = false;
template<class T>
inline constexpr bool isOptional<std::optional<T>> = true;
// Of the document that a path starts in.
template<class Input, class Member>
Input inputOf(Member Input::*);
template<auto... Path>
using Input = std::tuple_element_t<0, std::tuple<decltype(inputOf(Path))...>>;
template<auto... Path>
using Member = std::remove_cvref_t<decltype((std::declval<Input<Path...>>().*....*Path))>;

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
    if constexpr (isOptional<T>)
        writeMember(member.emplace(), value);
    else if constexpr (std::is_enum_v<T> || std::is_integral_v<T>)
        member = static_cast<T>(std::lround(std::fmin(std::fmax(value, -1e9), 1e9)));
    else
        member = value;
}

template<auto... Path>
std::optional<double> getField(const Input<Path...>& input) {
    return readMember((input.*....*Path));
}
template<auto... Path>
void setField(Input<Path...>& input, std::optional<double> value) {
    if (value)
        writeMember((input.*....*Path), *value);
    else
        (input.*....*Path) = (Input<Path...>{}.*....*Path);
}

template<auto... Path>
std::vector<int>& listOf(Input<Path...>& input) {
    return (input.*....*Path);
}

// All of a row but the way to its value; of a number in the struct, its default.
inline void describe(FieldInfo& out, const FieldName& name, const FieldDefault& standard, const FieldRange& range,
                     const FieldUsual& usual, const FieldText& text, std::optional<double> ofStruct = {}) {
    out.group = name.group, out.name = name.name, out.label = name.label;
    out.dimension = name.dimension, out.unit = writtenUnit(name.dimension).symbol;
    out.required = standard.required, out.defaultText = standard.text, out.standIn = standard.standIn;
    if (!standard.required && standard.text.empty()) out.defaultValue = ofStruct;
    out.low = range.low, out.high = range.high, out.lowOpen = range.lowOpen;
    out.usualLow = usual.low, out.usualHigh = usual.high, out.measurableTo = usual.measurable;
    out.meaning = text.meaning, out.usual = text.usual, out.measure = text.measure;
}

} // namespace detail

// A Number, or a Whole where the member is an integer.
template<auto... Path>
InputField<detail::Input<Path...>> field(const FieldName& name, const FieldDefault& standard, const FieldRange& range,
                                         const FieldUsual& usual, const FieldText& text) {
    using Member = detail::Member<Path...>;
    InputField<detail::Input<Path...>> out;
    detail::describe(out, name, standard, range, usual, text, detail::getField<Path...>({}));
    out.kind = detail::isWhole<Member> ? FieldKind::Whole : FieldKind::Number;
    out.nullable = detail::isOptional<Member> && (!standard.required || standard.orNull);
    out.get = detail::getField<Path...>, out.set = detail::setField<Path...>;
    return out;
}

template<auto... Path>
auto choiceField(const FieldName& name, const FieldDefault& standard, std::span<const std::string_view> choices,
                 const FieldText& text) {
    auto out = field<Path...>(name, standard, {0.0, static_cast<double>(choices.size()) - 1.0, false}, {}, text);
    out.kind = FieldKind::Choice;
    out.choices = choices;
    return out;
}

template<auto... Path>
PlanField listField(const FieldName& name, const FieldDefault& standard, const FieldRange& range,
                    const FieldUsual& usual, const FieldText& text) {
    PlanField out;
    detail::describe(out, name, standard, range, usual, text);
    out.kind = FieldKind::WholeList;
    out.list = detail::listOf<Path...>;
    return out;
}

inline PlanField tableField(const FieldName& name, const FieldDefault& standard, const FieldRange& range,
                            const FieldText& text) {
    PlanField out;
    detail::describe(out, name, standard, range, {}, text);
    out.kind = FieldKind::OcvTable;
    return out;
}

// Fields of several groups, one after the other.
template<class Field>
[[nodiscard]] std::vector<Field> joined(std::initializer_list<std::vector<Field>> groups) {
    std::vector<Field> out;
    for (const std::vector<Field>& group : groups)
        out.insert(out.end(), group.begin(), group.end());
    return out;
}
// The groups, in the order of the document.
[[nodiscard]] std::vector<PlanField> weatherFields(); // air, wind
[[nodiscard]] std::vector<PlanField> venueFields();
[[nodiscard]] std::vector<PlanField> bodyFields(); // vehicle
[[nodiscard]] std::vector<PlanField> drivelineFields();
[[nodiscard]] std::vector<PlanField> tyreFields();
[[nodiscard]] std::vector<PlanField> gearFields();
[[nodiscard]] std::vector<PlanField> motorElectricalFields();
[[nodiscard]] std::vector<PlanField> motorHeatFields();
[[nodiscard]] std::vector<PlanField> controllerLimitFields(); // controller, controller.cutoff
[[nodiscard]] std::vector<PlanField> controllerLossFields();
[[nodiscard]] std::vector<PlanField> controllerHeatFields();
[[nodiscard]] std::vector<PlanField> packElectricalFields();
[[nodiscard]] std::vector<PlanField> packLimitFields();
[[nodiscard]] std::vector<PlanField> driveFields(); // start, drive

} // namespace rw
