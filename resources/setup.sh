#!/bin/sh
# Builds Runwright on Debian 12 and either opens it or tests it. Safe to run again; works from any folder.
#   resources/setup.sh run  [--no-install]   build, then open the desktop program with the sample garage
#                                            (without a display: plan and review the samples in the terminal)
#   resources/setup.sh test [--no-install]   build everything and run the tests
# Missing Debian packages (resources/packages.txt) are installed, through sudo where needed; --no-install leaves that to you.
set -eu

root=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd)
build="$root/build"
export CCACHE_BASEDIR="$root" CCACHE_NOHASHDIR=1
export CCACHE_SLOPPINESS=pch_defines,time_macros,include_file_mtime,include_file_ctime

usage() {
    sed -n '2,6s/^# \{0,1\}//p' "$0"
}

say() {
    printf '%s\n' "runwright: $*" >&2
}

missing_packages() {
    awk -v test="$1" '$1 == "run" || ($1 == "test" && test == "test") { print $2 }' "$root/resources/packages.txt" |
        while read -r package; do
            case $(dpkg-query -W -f '${db:Status-Status}' "$package" 2>/dev/null || true) in
                installed) ;;
                *) printf '%s ' "$package" ;;
            esac
        done
}

install_packages() {
    missing=$(missing_packages "$1")
    [ -n "$missing" ] || return 0
    if ! command -v apt-get >/dev/null 2>&1; then
        say "this system has no apt-get; install the packages of resources/packages.txt your own way and add --no-install"
        exit 1
    fi
    as_root=''
    if [ "$(id -u)" -ne 0 ]; then
        if ! command -v sudo >/dev/null 2>&1; then
            say "installing needs root; as root run: apt-get install $missing"
            exit 1
        fi
        as_root=sudo
    fi
    say "installing $missing"
    $as_root apt-get update
    # shellcheck disable=SC2086 # a list of package names
    $as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y --no-install-recommends $missing
}

configure() {
    strict=OFF
    [ -z "${CI:-}" ] || strict=ON
    # What g++ 12 believes of std::optional and strings when it optimizes hardest is often wrong (GCC bugs 80635, 105329):
    # said, but no reason to stop.
    export CXXFLAGS="${CXXFLAGS:-} -Wno-error=maybe-uninitialized -Wno-error=array-bounds -Wno-error=stringop-overflow"
    cmake -S "$root" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release -DRUNWRIGHT_WERROR=$strict \
        -DRUNWRIGHT_TESTS="$1" -DRUNWRIGHT_BENCHMARKS="$1"
}

jobs() {
    nproc 2>/dev/null || echo 2
}

has_display() {
    [ -n "${DISPLAY:-}${WAYLAND_DISPLAY:-}" ]
}

sample_garage() {
    folder="${XDG_DATA_HOME:-$HOME/.local/share}/runwright"
    garage="$folder/sample.runwright"
    if [ ! -e "$garage" ]; then
        mkdir -p "$folder"
        "$build/bin/runwright-batch" garage create "$garage" --sample
    fi
}

run() {
    configure OFF
    cmake --build "$build" --parallel "$(jobs)"
    if has_display; then
        sample_garage
        say "opening $garage"
        exec "$build/bin/runwright" --garage "$garage"
    fi
    say "no display here: the samples, planned and reviewed in the terminal"
    "$build/bin/runwright-batch" plan "$root"/samples/plans/*.json
    "$build/bin/runwright-batch" review "$root"/samples/logs/*.csv
}

run_tests() {
    configure ON
    cmake --build "$build" --parallel "$(jobs)"
    QT_QPA_PLATFORM=offscreen ctest --test-dir "$build" -j2 --output-on-failure --no-tests=error
}

action=''
install=yes
for argument in "$@"; do
    case $argument in
        run | test) action=$argument ;;
        --no-install) install=no ;;
        -h | --help) usage; exit 0 ;;
        *) say "unknown argument '$argument'"; usage >&2; exit 2 ;;
    esac
done
if [ -z "$action" ]; then
    usage >&2
    exit 2
fi

[ "$install" = no ] || install_packages "$action"
case $action in
    run) run ;;
    test) run_tests ;;
esac
