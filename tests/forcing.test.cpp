// The weather between its hours.
#include "model/equations/forcing.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>

namespace leat::model {
namespace {

/// Hours that jump about, with nothing in between as often as not: rain.
std::vector<Hour<>> random_hours(unsigned seed) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<> any(-1.0, 1.0);
  std::vector<Hour<>> hours(200);
  for (Hour<>& hour : hours)
    for (double& x : hour.value) x = 270.0 + std::max(0.0, any(random));
  give_slopes(hours);
  return hours;
}

constexpr int kParts = 60;

TEST(Hours, StayWithinThoseTheyAreBetween) {
  const std::vector<Hour<>> hours = random_hours(1);
  for (std::size_t h = 0; h + 1 < hours.size(); ++h)
    for (int part = 0; part <= kParts; ++part) {
      const auto x = numbers_of(between(hours[h], hours[h + 1], part / double(kParts)));
      for (std::size_t i = 0; i < x.size(); ++i) {
        const auto [low, high] = std::minmax(hours[h].value[i], hours[h + 1].value[i]);
        EXPECT_GE(x[i], low - 1e-10);
        EXPECT_LE(x[i], high + 1e-10);
      }
    }
}

TEST(Hours, AddUpToWhatStraightLinesDo) {
  const std::vector<Hour<>> hours = random_hours(2);
  std::array<double, 9> curved{}, straight{};
  for (std::size_t h = 0; h + 1 < hours.size(); ++h)
    for (std::size_t i = 0; i < curved.size(); ++i) {
      straight[i] += 0.5 * (hours[h].value[i] + hours[h + 1].value[i]);
      // Simpson's rule is exact for a cubic.
      curved[i] +=
          (hours[h].value[i] + 4.0 * numbers_of(between(hours[h], hours[h + 1], 0.5))[i] + hours[h + 1].value[i]) / 6.0;
    }
  for (std::size_t i = 0; i < curved.size(); ++i) {
    const double by_ends = (hours.front().slope[i] - hours.back().slope[i]) / 12.0;
    EXPECT_NEAR(curved[i], straight[i] + by_ends, 1e-9);
    EXPECT_LE(std::abs(by_ends), 1.0 / 6.0) << "less than a sixth of the largest change of one hour";
  }
}

TEST(Hours, MeetWithoutAKink) {
  const std::vector<Hour<>> hours = random_hours(3);
  constexpr double kNear = 1e-6;
  for (std::size_t h = 1; h + 1 < hours.size(); ++h) {
    const auto before = numbers_of(between(hours[h - 1], hours[h], 1.0 - kNear)),
               at = numbers_of(between(hours[h], hours[h + 1], 0.0)),
               after = numbers_of(between(hours[h], hours[h + 1], kNear));
    for (std::size_t i = 0; i < at.size(); ++i) {
      EXPECT_EQ(at[i], hours[h].value[i]);
      EXPECT_NEAR((at[i] - before[i]) / kNear, (after[i] - at[i]) / kNear, 1e-4);
      EXPECT_NEAR((after[i] - at[i]) / kNear, hours[h].slope[i], 1e-4);
    }
  }
}

}  // namespace
}  // namespace leat::model
