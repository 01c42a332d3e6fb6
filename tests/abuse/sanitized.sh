#!/usr/bin/env bash
# Builds the page's server with a sanitizer and lets both abuse scripts loose on it; what it asks is answered by the release
# build. Called as: sanitized.sh thread|address
set -euo pipefail
cd "$(dirname "$0")/../.."
kind="$1"
flags="-fsanitize=$kind"
[ "$kind" = address ] && flags="-fsanitize=address,undefined"
into="build/served-$kind"
mkdir -p "$into"
sources="tests/abuse/served_only.cpp build/release/page/assets_data.cpp"
sources="$sources $(find src/doors/page -name '*.cpp' ! -name '*.test.cpp')"
sources="$sources src/doors/command/serve_verb.cpp src/doors/command/verb_serve.cpp src/doors/command/home_flags.cpp"
includes="$(pkg-config --cflags libmicrohttpd gnutls)"
# shellcheck disable=SC2086
for source in $sources; do
  object="$into/$(echo "$source" | tr / _).o"
  [ "$object" -nt "$source" ] || printf '%s\0%s\0' "$object" "$source"
done | xargs -0 -r -n 2 -P 2 nice g++ -std=c++20 -O1 -g1 $flags -Isrc -I. $includes -c -o
objects=""
for source in $sources; do objects="$objects $into/$(echo "$source" | tr / _).o"; done
# shellcheck disable=SC2086
g++ $flags -o "$into/leat" $objects build/release/libleat_record.a build/release/libleat_model.a \
  build/release/libleat_science.a build/release/libleat_numerics.a build/release/libleat_base.a -lfmt -ldate-tz -lsqlite3 -lqrcodegencpp -ltomlplusplus $(pkg-config --libs libmicrohttpd gnutls) -Wl,--gc-sections
export LEAT_ANSWERS="$PWD/build/release/leat"
# The libraries it is linked with were built without: their containers are not marked.
export ASAN_OPTIONS=detect_container_overflow=0:halt_on_error=1 TSAN_OPTIONS="halt_on_error=0:exitcode=66" UBSAN_OPTIONS=print_stacktrace=1:halt_on_error=1
nice node tests/abuse/abuse.mjs build/release/leat "$into/leat"
nice node tests/abuse/home.mjs build/release/leat "$into/leat"
