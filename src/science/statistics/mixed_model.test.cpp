#include "science/statistics/mixed_model.h"

#include <gtest/gtest.h>

#include <cmath>

namespace leat::science {
namespace {

/// Beds of one treatment each, with the same number of plants.
std::vector<Grouped> plants_of(const std::vector<std::vector<double>>& beds, const std::vector<double>& treated) {
  std::vector<Grouped> all;
  for (std::size_t b = 0; b < beds.size(); ++b)
    for (const double v : beds[b]) all.push_back({v, {1.0, treated[b]}, b});
  return all;
}

const std::vector<std::vector<double>> kBeds = {{101, 112, 95, 108},  {123, 131, 118, 128}, {99, 90, 104, 95},
                                                {140, 129, 151, 136}, {118, 109, 121, 116}, {150, 158, 143, 149}};
const std::vector<double> kTreated = {0, 0, 0, 1, 1, 1};

/// With as many plants in each bed the answer is the analysis of variance of the beds' means, worked out by hand.
TEST(MixedModel, BalancedBedsAreTheAnalysisOfVariance) {
  const auto fit = mixed_model(plants_of(kBeds, kTreated));
  ASSERT_TRUE(fit);
  double inside = 0.0;
  std::vector<double> means;
  for (const auto& bed : kBeds) {
    const Sample s = sample_of(bed);
    means.push_back(s.mean);
    inside += 3.0 * s.deviation * s.deviation;
  }
  const double within = inside / 18.0;
  const Sample first = sample_of(std::span(means).first(3)), second = sample_of(std::span(means).subspan(3));
  const double between_means = 0.5 * (first.deviation * first.deviation + second.deviation * second.deviation);
  EXPECT_NEAR(fit->within, std::sqrt(within), 1e-6);
  EXPECT_NEAR(fit->between, std::sqrt(between_means - within / 4.0), 1e-5);
  EXPECT_NEAR(fit->effects[1], second.mean - first.mean, 1e-9);
  EXPECT_NEAR(fit->errors[1], std::sqrt(between_means * 2.0 / 3.0), 1e-6);
  EXPECT_EQ(fit->degrees, 4.0);
  EXPECT_GT(fit->intraclass(), 0.5);
}

/// Beds that differ less than their plants would let them: no spread between beds, and plain least squares.
TEST(MixedModel, BedsThatAreAlikeGiveNone) {
  const std::vector<std::vector<double>> alike = {{90, 110, 100}, {110, 100, 90}, {95, 105, 100}, {100, 91, 109}};
  const auto fit = mixed_model(plants_of(alike, {0, 0, 1, 1}));
  ASSERT_TRUE(fit);
  EXPECT_EQ(fit->between, 0.0);
  EXPECT_EQ(fit->intraclass(), 0.0);
  EXPECT_NEAR(fit->effects[1], 0.0, 1e-9);
}

TEST(MixedModel, SaysWhenThereAreTooFewBeds) {
  EXPECT_FALSE(mixed_model(plants_of({{1, 2, 3}, {2, 3, 4}}, {0, 1})));
  EXPECT_FALSE(mixed_model(plants_of({{1, 2, 3}, {2, 3, 4}, {3, 4, 5}}, {1, 1, 1})));
  EXPECT_FALSE(mixed_model({}));
}

}  // namespace
}  // namespace leat::science
