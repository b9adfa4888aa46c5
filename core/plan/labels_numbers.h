// Constants of the rules that handbooks have, open to tests.
#pragma once

#include "core/plan/labels_input.h"

namespace rw {

[[nodiscard]] double dragCoefficient(BodyClass body);

// J/(kg K): handbook values at room temperature; the motor's rest is iron with some aluminium, a controller boards,
// copper and aluminium; cells 800–1,100 in the literature (Maleki et al., J. Power Sources 263 (2014) 223).
inline constexpr double copperHeat = 385.0, motorBodyHeat = 460.0, controllerHeat = 800.0, cellHeat = 1000.0;
// W/(m² K), free convection and radiation of a standing motor and of a pack; 2–25 in gases (Çengel).
inline constexpr double motorFilm = 12.0, packFilm = 8.0;

} // namespace rw
