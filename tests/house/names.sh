#!/bin/sh
# No two types of namespace rw share a name: a linker cannot tell them apart. Nested and local types are indented and so
# left aside; namespaces within rw (rw::batch, rw::pass, rw::testing) are told by the file's own.
set -eu
found=$(find core storage plotting app samples -name '*.h' | sort | while read -r file; do
    space=$(sed -n 's/^namespace \(rw[a-z:]*\) {.*/\1/p' "$file" | head -n 1)
    sed -n 's/^\(enum class\|struct\|class\) \([A-Za-z0-9_]*\)\( final\)\{0,1\}\( :[^;]*\)\{0,1\} {.*/\2/p' "$file" | sort -u | sed "s|.*|$space::&|"
done | sort | uniq -d)
[ -z "$found" ] && exit 0
printf 'two types of one name:\n%s\n' "$found"
exit 1
