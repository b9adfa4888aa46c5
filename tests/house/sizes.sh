#!/bin/sh
# A file does one job and fits in 400 lines.
set -eu
long=$(find core storage plotting app samples tests \( -name '*.h' -o -name '*.cpp' \) -exec wc -l {} + | awk '$2 != "total" && $1 > 400 { print $2 ": " $1 " lines" }')
[ -z "$long" ] && exit 0
printf 'over 400 lines:\n%s\n' "$long"
exit 1
