// What the finders of faulty spans share. Internal to core/review.
#pragma once

#include "core/review/context.h"

#include <array>

namespace rw::review {

inline constexpr auto judgedChannels = std::to_array<Quantity>(
    {Quantity::PackVoltage, Quantity::RippleVoltage, Quantity::PackCurrent, Quantity::MotorCurrent, Quantity::Throttle,
     Quantity::Output, Quantity::MotorSpeed, Quantity::ControllerTemperature, Quantity::MotorTemperature,
     Quantity::PackTemperature, Quantity::ReceiverVoltage, Quantity::Speed, Quantity::Power, Quantity::Charge});
// Those that show that the car did something.
inline constexpr auto movers = std::to_array<Quantity>(
    {Quantity::Throttle, Quantity::Output, Quantity::PackVoltage, Quantity::PackCurrent, Quantity::MotorSpeed});

[[nodiscard]] inline bool isTemperature(Quantity q) {
    return q == Quantity::ControllerTemperature || q == Quantity::MotorTemperature || q == Quantity::PackTemperature;
}
void addFault(Context& context, Quantity q, FaultSpan::Kind kind, Rows rows);
// Makes the spans from index `from` on missing in their channels; true if there are any.
bool maskFaults(Context& context, std::size_t from);
// Spans from index `from` on of one kind and channel that lie within a second of one another become one.
void joinFaults(Context& context, std::size_t from);

} // namespace rw::review
