// The unit switch as actions: one set for the menu bar, another for the button on the bench strip.
#pragma once

class QMenu;

namespace rw {

class Units;

// Adds the four choices to a menu; they follow the switch from wherever it is turned.
void addUnitChoices(QMenu& menu, Units& units);

} // namespace rw
