#!/usr/bin/env bash
# Installs what is missing, builds, and runs the main job on the example. On a terminal, or with --serve, it then
# serves the page with a copy of the example, so that notes leave the example as it is.
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
if [ "${1:-}" = --serve ] || { [ $# -eq 0 ] && [ -t 0 ] && [ -t 1 ]; }; then
  yard=build/example
  mkdir -p "$yard"
  [ -e "$yard/loop.toml" ] || cp "$loop" "$yard/loop.toml"
  echo
  echo "\$ leat serve $yard/loop.toml"
  exec "$leat" serve "$yard/loop.toml"
fi
