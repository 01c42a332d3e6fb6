// What chance alone makes of draws that bear on nothing.
#include "answers/drawn.h"

#include <gtest/gtest.h>

#include <random>

#include "answers/priors.h"

namespace leat::answers {
namespace {

/// Numbers that owe nothing to any of eleven things: of 600 such, so many are said to owe something to one of them.
int said_to_owe(std::size_t runs, std::uint64_t seed) {
  std::vector<Prior> priors(11);
  for (std::size_t p = 0; p < priors.size(); ++p) {
    priors[p].name = "nothing";
    priors[p].column = p;
  }
  std::mt19937_64 random(seed);
  std::normal_distribution<double> any;
  int said = 0;
  for (int time = 0; time < 600; ++time) {
    std::vector<std::vector<double>> draws(runs, std::vector<double>(priors.size()));
    std::vector<double> values(runs);
    for (std::size_t r = 0; r < runs; ++r) {
      for (double& z : draws[r]) z = any(random);
      values[r] = any(random);
    }
    said += !owed_most(priors, draws, values, seed).empty();
  }
  return said;
}

/// 30 of 600 are expected, with a standard deviation of 5.3; few runs have lighter tails than the normal ones assumed.
TEST(Drawn, NothingIsOwedByChanceMoreThanOnceInTwenty) {
  for (const std::size_t runs : {20u, 100u}) {
    const int said = said_to_owe(runs, 7 + runs);
    EXPECT_LE(said, 30 + 3 * 5.3) << runs;
    EXPECT_GE(said, 5) << runs << ": a bound so wide would hide what is there";
  }
}

}  // namespace
}  // namespace leat::answers
