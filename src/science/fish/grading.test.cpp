#include "science/fish/grading.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

namespace leat::science {
namespace {

double total(double share, const SizeSpread& part) {
  return share * part.mean.si();
}
double squares(double share, const SizeSpread& part) {
  return share * part.mean.si() * part.mean.si() * (1.0 + part.spread * part.spread);
}

TEST(Grading, PartsAddUpToTheWholeInMassAndSpread) {
  const SizeSpread all{Mass<>(0.100), 0.30};
  for (const double rank : {0.05, 0.37, 0.5, 0.81, 0.99}) {
    const SizeSpread small = between_ranks(all, 0.0, rank), large = between_ranks(all, rank, 1.0);
    EXPECT_NEAR(total(rank, small) + total(1.0 - rank, large), 0.100, 1e-12);
    EXPECT_NEAR(squares(rank, small) + squares(1.0 - rank, large), 0.01 * 1.09, 1e-12);
    EXPECT_LT(small.mean, large.mean);
    const SizeSpread back = together(rank, small, 1.0 - rank, large);
    EXPECT_NEAR(back.mean.si(), 0.100, 1e-12);
    EXPECT_NEAR(back.spread, 0.30, 1e-9);
  }
}

TEST(Grading, FollowsFishThatWereDrawnOneByOne) {
  const SizeSpread all{Mass<>(0.100), 0.25};
  const double s = std::sqrt(std::log(1.0 + 0.25 * 0.25));
  std::mt19937_64 random(11);
  std::lognormal_distribution<double> draw(std::log(0.100) - 0.5 * s * s, s);
  std::vector<double> fish(400000);
  for (double& f : fish) f = draw(random);
  std::sort(fish.begin(), fish.end());
  const auto below = std::lower_bound(fish.begin(), fish.end(), 0.120) - fish.begin();
  const double share = static_cast<double>(below) / static_cast<double>(fish.size());
  EXPECT_NEAR(share_below(all, Mass<>(0.120)), share, 0.003);
  double sum = 0.0;
  for (std::size_t i = static_cast<std::size_t>(below); i < fish.size(); ++i) sum += fish[i];
  const double mean = sum / (static_cast<double>(fish.size()) - static_cast<double>(below));
  EXPECT_NEAR(between_ranks(all, share, 1.0).mean.si(), mean, 3e-4);
}

TEST(Grading, OfFishThatAreAllAlikeKnowsOnlyAllOrNone) {
  const SizeSpread alike{Mass<>(0.100), 0.0};
  EXPECT_EQ(share_below(alike, Mass<>(0.099)), 0.0);
  EXPECT_EQ(share_below(alike, Mass<>(0.101)), 1.0);
  EXPECT_EQ(between_ranks(alike, 0.5, 1.0).mean.si(), 0.100);
}

}  // namespace
}  // namespace leat::science
