// Random loops, each followed through its water; what does not hold is printed, and shrunk when that is wanted.
//
//   LEAT_RANDOM_LOOPS   how many (60)
//   LEAT_RANDOM_SEED    where they begin (1)
//   LEAT_RANDOM_FAULTS  how many faults of each (1)
//   LEAT_RANDOM_SHRINK  1: shrinks what does not hold, which takes minutes (0)
#include <fmt/core.h>
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <cstdlib>
#include <map>

#include "tests/random/loops.h"
#include "tests/random/statements.h"

namespace leat::random {
namespace {

int from_environment(const char* name, int otherwise) {
  const char* text = std::getenv(name);
  return text ? std::atoi(text) : otherwise;
}

rc::Gen<std::vector<std::uint32_t>> rows() {
  return rc::gen::resize(1200, rc::gen::container<std::vector<std::uint32_t>>(
                                   rc::gen::resize(100, rc::gen::inRange<std::uint32_t>(0, kRange))));
}

TEST(RandomLoops, TheirWaterCanBeFollowedAndItsBooksClose) {
  const int count = from_environment("LEAT_RANDOM_LOOPS", 60), faults = from_environment("LEAT_RANDOM_FAULTS", 1);
  const std::string how =
      fmt::format("max_success={} seed={} noshrink={}", count, from_environment("LEAT_RANDOM_SEED", 1),
                  1 - from_environment("LEAT_RANDOM_SHRINK", 0));
  setenv("RC_PARAMS", how.c_str(), 0);
  std::map<std::string, int> kinds;
  long most_steps = 0, all_faults = 0;
  const bool good = rc::check("every statement holds of every loop", [&] {
    const std::vector<std::uint32_t> row = *rows();
    Choices choices(row);
    const std::string text = random_loop(choices);
    const Seen seen = look_at(text, choices, faults);
    for (const auto& [word, is] : {std::pair{"hunting", seen.hunts},
                                   {"spilling", seen.spills},
                                   {"a pump running dry", seen.dries},
                                   {"a siphon breaking", seen.siphons},
                                   {"a valve turning", seen.turns}})
      kinds[word] += is;
    ++kinds["cycle " + seen.cycle];
    most_steps = std::max(most_steps, seen.steps);
    all_faults += seen.faults;
    if (seen.wrong.empty()) return;
    std::string said = text + "\n";
    for (const std::string& w : seen.wrong) said += "# " + w + "\n";
    RC_FAIL(said);
  });
  fmt::print("{} loops ({}), {} faults, at most {} steps in six hours\n", count, how, all_faults, most_steps);
  for (const auto& [word, times] : kinds) fmt::print("  {:6} {}\n", times, word);
  EXPECT_TRUE(good);
}

}  // namespace
}  // namespace leat::random
