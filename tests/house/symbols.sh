#!/bin/sh
# Two strong definitions of one name in different archives: a linker takes whichever it meets first and says nothing.
set -eu
twice=$(nm --defined-only -P "$@" | awk '$2 ~ /^[TDBR]$/ { print $1 }' | sort | uniq -d | c++filt)
[ -z "$twice" ] && exit 0
printf 'defined twice:\n%s\n' "$twice"
exit 1
