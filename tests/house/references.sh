#!/bin/sh
# Files that comments and documents name are there. A name with a folder is looked up from the top, one without by itself.
set -eu
missing=$({ find core storage plotting app samples tests resources \( -name '*.h' -o -name '*.cpp' -o -name '*.md' -o -name '*.txt' -o -name '*.sql' -o -name '*.sh' \) -print0 |
    xargs -0 grep -noE '(^|[^A-Za-z0-9_./…*{"<$-])[A-Za-z0-9_]+(/[A-Za-z0-9_]+)*\.(md|h|cpp|sql)\b'
    grep -noE '(^|[^A-Za-z0-9_./…*{"<$-])[A-Za-z0-9_]+(/[A-Za-z0-9_]+)*\.(md|h|cpp|sql)\b' README.md DEVELOPERS.md | sed 's|^|./|'; } |
    sed -E 's|^([^:]*:[0-9]+):.?([A-Za-z0-9_].*)$|\1 \2|' | grep -v " _" | grep -vE " (sqlite3\.h|step\.sql)$" | sort -u | while read -r place name; do
        case $name in
            */*) [ -e "$name" ] || [ -e "$(dirname "${place%%:*}")/$name" ] || echo "$place: $name" ;;
            *) [ -e "$(dirname "${place%%:*}")/$name" ] || [ -n "$(find README.md DEVELOPERS.md core storage plotting app samples tests resources -name "$name" -print -quit)" ] ||
                echo "$place: $name" ;;
        esac
    done)
[ -z "$missing" ] && exit 0
printf 'named, but not there:\n%s\n' "$missing"
exit 1
