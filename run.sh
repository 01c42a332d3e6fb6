#!/usr/bin/env bash
# Installs what is missing, builds, and runs the main job on the example.
set -euo pipefail
cd "$(dirname "$0")"
tools/install_packages.sh build
cmake --preset release -DLEAT_TESTS=OFF -DLEAT_BENCH=OFF >/dev/null
cmake --build build/release --target leat
leat=build/release/leat
loop=examples/first-loop/loop.toml
echo
echo "\$ leat check $loop"
"$leat" check "$loop"
echo
echo "\$ leat ahead $loop --start 2015-03-10 --weather examples/weather/seattle-daily-2012-2015.csv"
"$leat" ahead "$loop" --start 2015-03-10 --weather examples/weather/seattle-daily-2012-2015.csv
