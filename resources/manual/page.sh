#!/bin/sh
# page.sh CMARK CHAPTER PAGE: one chapter of the manual as a page that stands by itself.
set -eu
mkdir -p "$(dirname "$3")"
title=$(sed -n '1s/^# //p' "$2")
{
    printf '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n<title>Runwright: %s</title>\n' "$title"
    printf '<style>body{max-width:46em;margin:2em auto;padding:0 1em;font:17px/1.5 Inter,sans-serif;color:#222}img{max-width:100%%}'
    printf 'code,pre{background:#f3f3f0}pre{padding:.8em;overflow:auto}</style>\n</head>\n<body>\n'
    "$1" "$2"
    printf '<hr>\n<p>'
    for chapter in "$(dirname "$2")"/*.md; do
        printf '<a href="%s.html">%s</a> &nbsp; ' "$(basename "$chapter" .md)" "$(sed -n '1s/^# //p' "$chapter")"
    done
    printf '</p>\n</body>\n</html>\n'
} >"$3"
