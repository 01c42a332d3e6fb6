#!/usr/bin/env bash
# Bundles web/ and writes its files as one C++ source into a folder. Without npm or its registry the program is built
# all the same, with a page that says so.
set -euo pipefail
web="$(cd "$(dirname "$0")/../web" && pwd)"
mkdir -p "$1"
into="$(cd "$1" && pwd)"
packages="$into/packages"
if ! cmp -s "$web/package-lock.json" "$packages/package-lock.json" || [ ! -d "$packages/node_modules" ]; then
  rm -rf "$packages" && mkdir -p "$packages"
  cp "$web/package.json" "$web/package-lock.json" "$packages/"
  if ! (cd "$packages" && npm ci --ignore-scripts --no-audit --no-fund --loglevel=error >&2); then
    echo "The page's packages could not be fetched: leat is built without its page." >&2
    rm -rf "$packages"
    cat >"$into/assets_data.cpp" <<'NONE'
#include "doors/page/assets.h"
namespace leat::doors {
std::span<const Asset> assets() { return {}; }
}  // namespace leat::doors
NONE
    exit 0
  fi
fi
NODE_PATH="$packages/node_modules" node "$web/bundle.mjs" "$packages" "$into"
