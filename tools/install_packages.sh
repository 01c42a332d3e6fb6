#!/usr/bin/env bash
# Installs the Debian packages of the named groups that are not there yet: build, test, fuzz, bench.
set -euo pipefail
build="g++ cmake ninja-build pkg-config git ca-certificates ccache libsundials-dev libsuitesparse-dev libeigen3-dev libtomlplusplus-dev
  nlohmann-json3-dev libfmt-dev libcli11-dev libhowardhinnant-date-dev libsqlite3-dev libmicrohttpd-dev
  libgnutls28-dev libqrcodegencpp-dev libmosquitto-dev libheif-dev libjpeg62-turbo-dev tzdata"
test="libgtest-dev librapidcheck-dev chromium fonts-dejavu-core libnss3-tools openssl mosquitto zbar-tools"
fuzz="clang-19 libclang-rt-19-dev libomp-19-dev"
bench="python3-scipy r-cran-desolve"
wanted=""
for group in "$@"; do
  case "$group" in
    build) wanted="$wanted $build" ;;
    test) wanted="$wanted $test" ;;
    fuzz) wanted="$wanted $fuzz" ;;
    bench) wanted="$wanted $bench" ;;
    *) echo "install_packages.sh: no group is called $group" >&2; exit 2 ;;
  esac
done
# A node that is there already is kept: Debian's own would fight it.
case " $* " in *" build "*) command -v npm >/dev/null || wanted="$wanted nodejs npm" ;; esac
missing=""
for package in $wanted; do
  dpkg-query -W -f='${Status}' "$package" 2>/dev/null | grep -q 'install ok installed' || missing="$missing $package"
done
[ -z "$missing" ] && exit 0
echo "Installing:$missing"
as_root=""
if [ "$(id -u)" -ne 0 ]; then
  command -v sudo >/dev/null || { echo "These packages need root to install, and there is no sudo:$missing" >&2; exit 1; }
  as_root="sudo"
fi
$as_root apt-get update -qq
# shellcheck disable=SC2086
DEBIAN_FRONTEND=noninteractive $as_root apt-get install -y --no-install-recommends $missing
