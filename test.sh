#!/usr/bin/env bash
# Installs what is missing, builds, and runs every test; --asan and --tsan once more under the sanitizers, --long the
# fuzzers, five minutes each (LEAT_FUZZ_SECONDS), ten million random waters, 10,000 random loops, 1,000 random lives and 1,000 kills of a
# program that writes the record. Ends with a line that counts them.
set -uo pipefail
cd "$(dirname "$0")"
tools/install_packages.sh build test || exit 1
passed=0 failed=0 skipped=0

# run_preset NAME: configures, builds and runs one preset, and adds up what its tests say.
run_preset() {
  cmake --preset "$1" -DLEAT_TESTS=ON >/dev/null || { failed=$((failed + 1)); return; }
  cmake --build "build/$1" || { failed=$((failed + 1)); echo "the preset $1 does not build"; return; }
  local report="build/$1/tests.txt"
  (cd "build/$1" && ctest -j "$(nproc)" --output-on-failure --timeout 300 >"tests.txt" 2>&1)
  grep -E '\*\*\*Failed|\*\*\*Timeout|\*\*\*Exception|Failure|^[0-9]+: ' "$report" | head -n 200
  local all bad left
  all=$(grep -cE '^ *[0-9]+/[0-9]+ Test' "$report")
  left=$(grep -cE '\*\*\*Skipped' "$report")
  bad=$(grep -cE '^ *[0-9]+/[0-9]+ Test.*\*\*\*(Failed|Timeout|Exception|Not Run)' "$report")
  if [ "$all" -eq 0 ]; then
    echo "the preset $1 ran no test"
    failed=$((failed + 1))
  fi
  passed=$((passed + all - bad - left)) failed=$((failed + bad)) skipped=$((skipped + left))
}

# fuzz: every target for a while; a finding is a failed test, its input is left in build/fuzz.
fuzz() {
  tools/install_packages.sh fuzz && cmake --preset fuzz >/dev/null && cmake --build build/fuzz || { failed=$((failed + 1)); return; }
  local target
  for target in description patch water daily hourly forecast quantity phrase table senml payload; do
    mkdir -p "build/fuzz/found/$target"
    if "build/fuzz/fuzz_$target" -max_total_time="${LEAT_FUZZ_SECONDS:-300}" -rss_limit_mb=4096 -timeout=20 -print_final_stats=1 \
      -artifact_prefix="build/fuzz/$target-" "build/fuzz/found/$target" "tests/fuzz/corpus/$target" >"build/fuzz/$target.txt" 2>&1; then
      passed=$((passed + 1))
    else
      failed=$((failed + 1))
      tail -n 30 "build/fuzz/$target.txt"
    fi
    grep -E 'number_of_executed_units' "build/fuzz/$target.txt" | sed "s/^/fuzz_$target /"
  done
}

# random: ten million waters, and many random loops and lives, in two halves of their own seeds (LEAT_LONG_LOOPS, LEAT_LONG_LIVES).
random() {
  local loops=$((${LEAT_LONG_LOOPS:-10000} / 2)) lives=$((${LEAT_LONG_LIVES:-1000} / 2)) half pids=()
  for half in 1 2; do
    LEAT_RANDOM_LOOPS=$loops LEAT_RANDOM_LIVES=$lives LEAT_RANDOM_SEED=$((half * 1000)) \
      build/release/test_random --gtest_filter='RandomLoops*:RandomLives*' >"build/release/random-$half.txt" 2>&1 &
    pids+=($!)
  done
  LEAT_RANDOM_WATERS=10000000 build/release/test_science --gtest_filter='Acidity.FindsTheRoot*' >build/release/waters.txt 2>&1 \
    && passed=$((passed + 1)) || failed=$((failed + 1))
  for half in 1 2; do
    if wait "${pids[$((half - 1))]}"; then passed=$((passed + 1)); else failed=$((failed + 1)); fi
    grep -aE '^# |^ |loops \(|lives' "build/release/random-$half.txt"
  done
}

# kills: a thousand times SIGKILL while the record is written (LEAT_KILL_ROUNDS), a tenth of it while a broker sends.
kills() {
  if LEAT_KILL_ROUNDS="${LEAT_KILL_ROUNDS:-1000}" LEAT_KILL_SEED=1000 \
    build/release/test_record --gtest_filter='Faults.AKilledProgram*' >build/release/kills.txt 2>&1; then
    passed=$((passed + 1))
  else
    failed=$((failed + 1))
    tail -n 20 build/release/kills.txt
  fi
  grep -E '^# ' build/release/kills.txt
  if LEAT_KILL_ROUNDS="$((${LEAT_KILL_ROUNDS:-1000} / 10))" build/release/test_across --gtest_filter='Listen.Killed*' >build/release/listen-kills.txt 2>&1; then
    passed=$((passed + 1))
  else
    failed=$((failed + 1))
    tail -n 20 build/release/listen-kills.txt
  fi
  grep -E '^# ' build/release/listen-kills.txt
}

# browser: the page in Chromium. Skipped where Chromium or the page's packages are absent.
browser() {
  local packages="$PWD/build/release/page/packages" chromium
  chromium="$(command -v chromium || command -v chromium-browser || true)"
  if [ -z "$chromium" ] || [ ! -d "$packages/node_modules/playwright-core" ]; then
    echo "The page was not looked at: Chromium or npm is absent."
    skipped=$((skipped + 1))
    return
  fi
  local script
  for script in tests/browser/*.mjs; do
    LEAT_CHROMIUM="$chromium" timeout 1800 node "$script" build/release/leat "$packages" build/release/pictures || [ $? -eq 1 ] || echo "FAIL $script broke off"
  done >build/release/browser.txt 2>&1
  grep -v '^ok ' build/release/browser.txt
  local good bad left
  good=$(grep -c '^ok ' build/release/browser.txt) bad=$(grep -c '^FAIL ' build/release/browser.txt) left=$(grep -c '^skip ' build/release/browser.txt)
  [ "$((good + bad))" -eq 0 ] && bad=1
  passed=$((passed + good - left)) failed=$((failed + bad)) skipped=$((skipped + left))
}

# abuse: everything that a rude program may do to the page's server.
abuse() {
  command -v node >/dev/null || { skipped=$((skipped + 1)); return; }
  local script
  for script in abuse home; do
    timeout 1200 node tests/abuse/$script.mjs build/release/leat || echo "FAIL the abuse broke off or found something"
  done >build/release/abuse.txt 2>&1
  grep -v '^ok ' build/release/abuse.txt
  local good bad
  good=$(grep -c '^ok ' build/release/abuse.txt) bad=$(grep -c '^FAIL ' build/release/abuse.txt)
  passed=$((passed + good)) failed=$((failed + bad))
}

run_preset release
abuse
browser
for argument in "$@"; do
  case "$argument" in
    --asan) run_preset asan ;;
    --tsan) run_preset tsan ;;
    --long) fuzz; random; kills ;;
    *) echo "test.sh takes --asan, --tsan and --long, not $argument"; exit 2 ;;
  esac
done
echo "$passed passed, $failed failed, $skipped skipped"
[ "$failed" -eq 0 ]
