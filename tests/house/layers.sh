#!/bin/sh
# The rooms of the house: core and storage know no Qt, only storage knows SQL, only plotting the plot library, and the
# window's workspaces know shared and pages, never each other.
set -u
bad=$(
    grep -rnE '#include *[<"](Q[A-Z]|qcustomplot)' core storage
    grep -rnE '#include *[<"](SQLiteCpp|sqlite3)' core plotting app samples
    grep -rn '#include *[<"]qcustomplot' app
    for room in plan review garage; do
        grep -rn '#include "app/desktop/\(plan\|review\|garage\|shell\)/' "app/desktop/$room" | grep -v "app/desktop/$room/.*#include \"app/desktop/$room/"
    done
    grep -rn '#include "app/desktop/\(plan\|review\|garage\|shell\|pages\)/' app/desktop/shared
)
[ -z "$bad" ] && exit 0
printf 'a door that should not be there:\n%s\n' "$bad"
exit 1
