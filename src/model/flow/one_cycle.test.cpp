#include "model/flow/one_cycle.h"

#include <gtest/gtest.h>

#include <cmath>

namespace leat::model {
namespace {

/// Two vessels that a pump joins both ways for a quarter of an hour in each; what is there goes as well.
struct TwoVessels {
  Pulses pulses;
  Carried carried;

  explicit TwoVessels(double flow_on, double flow_off = 0.0) {
    pulses.period = 3600.0;
    pulses.paths = {{0, 1, Flow<>(0.25 * flow_on + 0.75 * flow_off), {}, false},
                    {1, 0, Flow<>(0.25 * flow_on + 0.75 * flow_off), {}, false}};
    pulses.stretches = {{0.0, 900.0, {flow_on, flow_on}, {1.0, 0.4}},
                        {900.0, 3600.0, {flow_off, flow_off}, {1.0, 0.4}}};
    carried = {1, {1.0, 1.0}, {1.0, 1.0}, {0.0, 0.0}, {0.0, 0.0}};
  }

  OneCycle map() const {
    std::string said;
    const auto found = over_one_cycle(pulses, carried, said);
    EXPECT_TRUE(found) << said;
    return *found;
  }

  /// The means of the last of many cycles, by small steps of the classical method of order 4.
  std::vector<double> followed(std::vector<double> m, const std::vector<double>& s, int cycles) const {
    const std::size_t n = m.size();
    std::vector<double> mean(n);
    for (int cycle = 0; cycle < cycles; ++cycle) {
      mean.assign(n, 0.0);
      for (const Stretch& stretch : pulses.stretches) {
        const auto slope = [&](const std::vector<double>& y) {
          std::vector<double> d(n);
          for (std::size_t v = 0; v < n; ++v) d[v] = s[v] - carried.goes[v] * y[v];
          for (std::size_t p = 0; p < pulses.paths.size(); ++p) {
            const auto from = static_cast<std::size_t>(pulses.paths[p].from),
                       to = static_cast<std::size_t>(pulses.paths[p].to);
            const double q = stretch.flows[p], out = q / stretch.water[from] * y[from];
            d[from] -= carried.leaves[p] * out;
            d[to] += carried.arrives[p] * out + carried.gains[p] * q;
          }
          return d;
        };
        const double h = 1.0;
        for (double t = stretch.from; t < stretch.to - 0.5; t += h) {
          const auto plus = [&](const std::vector<double>& d, double by) {
            std::vector<double> y = m;
            for (std::size_t v = 0; v < n; ++v) y[v] += by * d[v];
            return y;
          };
          const auto a = slope(m), b = slope(plus(a, h / 2)), c = slope(plus(b, h / 2)), d = slope(plus(c, h));
          const std::vector<double> before = m;
          for (std::size_t v = 0; v < n; ++v) m[v] += h / 6 * (a[v] + 2 * b[v] + 2 * c[v] + d[v]);
          const auto after = slope(m);
          for (std::size_t v = 0; v < n; ++v)
            mean[v] += (h * 0.5 * (before[v] + m[v]) + h * h / 12 * (a[v] - after[v])) / pulses.period;
        }
      }
    }
    return mean;
  }
};

/// d means / dt by the map.
std::vector<double> slope(const OneCycle& map, const Carried& carried, const std::vector<double>& m,
                          const std::vector<double>& s) {
  std::vector<double> d = map.taken_up;
  for (std::size_t i = 0; i < m.size(); ++i) {
    d[i] -= carried.goes[i] * m[i];
    for (std::size_t j = 0; j < m.size(); ++j) d[i] += map.own(i, j) * m[j] + map.shared(i, j) * s[j];
  }
  return d;
}

TEST(OneCycle, OfFlowsThatNeverChangeIsThePlainMatrix) {
  TwoVessels two(1e-3, 1e-3);
  two.carried.goes = {2e-4, 1e-3};
  const OneCycle map = two.map();
  EXPECT_NEAR(map.own(0, 0), -1e-3, 1e-12);
  EXPECT_NEAR(map.own(1, 0), 1e-3, 1e-12);
  EXPECT_NEAR(map.own(0, 1), 1e-3 / 0.4, 1e-12);
  EXPECT_NEAR(map.own(1, 1), -1e-3 / 0.4, 1e-12);
  for (std::size_t i = 0; i < 2; ++i)
    for (std::size_t j = 0; j < 2; ++j) EXPECT_NEAR(map.shared(i, j), i == j ? 1.0 : 0.0, 1e-9);
}

/// A source in one vessel, a loss in the other, joined for a quarter of the time: mean flows would be wrong by a tenth.
TEST(OneCycle, HasTheMeansOfTheCycleThatRepeats) {
  TwoVessels two(2e-3);
  two.carried.goes = {1e-5, 6e-4};
  two.carried.gains = {0.0, 3e-3};
  two.carried.arrives = {1.0, 0.9};
  const std::vector<double> s{2e-6, 1e-7};
  const std::vector<double> mean = two.followed({0.0, 0.0}, s, 150);
  const OneCycle map = two.map();
  for (const double d : slope(map, two.carried, mean, s)) EXPECT_NEAR(d, 0.0, 1e-6 * 2e-6);
  const double q = two.pulses.paths[0].flow.si();
  const double blurred = s[0] - two.carried.goes[0] * mean[0] - q * mean[0] + 0.9 * q * mean[1] / 0.4 + q * 3e-3;
  EXPECT_GT(std::abs(blurred), 0.1 * s[0]);  // what mean flows make of the same means does not stand still
}

TEST(OneCycle, LosesNothingThatDoesNotGo) {
  TwoVessels two(2e-3);
  two.carried = {2, {1.0, 1.0}, {1.0, 1.0, 1.0, 1.0}, {0.0, 0.0, 0.0, 0.0}, {}};
  two.carried.goes = {3e-4, 0.0, -3e-4, 1e-4, 8e-4, 0.0, -8e-4, 2e-4};  // the first is made into the second
  const OneCycle map = two.map();
  for (std::size_t column = 0; column < 4; ++column)
    for (std::size_t thing = 0; thing < 2; ++thing) {
      EXPECT_NEAR(map.own(2 * thing, column) + map.own(2 * thing + 1, column), 0.0, 1e-18);
      EXPECT_NEAR(map.shared(2 * thing, column) + map.shared(2 * thing + 1, column), column / 2 == thing ? 1.0 : 0.0,
                  1e-14);
    }
}

TEST(OneCycle, BeginsAndEndsAsItsMeansSay) {
  TwoVessels two(2e-3);
  two.carried.goes = {1e-5, 6e-4};
  const std::vector<double> s{2e-6, 0.0}, mean = two.followed({0.0, 0.0}, s, 150);
  const OneCycle map = two.map();
  for (std::size_t i = 0; i < 2; ++i) {
    double start = 0.0, end = 0.0;
    for (std::size_t j = 0; j < 2; ++j) {
      start += map.start_by_mean(i, j) * mean[j] + map.start_by_source(i, j) * s[j];
      end += map.later_by_source.back()(i, j) * s[j];
      for (std::size_t k = 0; k < 2; ++k)
        end += map.later.back()(i, j) * (map.start_by_mean(j, k) * mean[k] + map.start_by_source(j, k) * s[k]);
    }
    EXPECT_NEAR(end, start, 1e-6 * start);
    EXPECT_GT(start, 0.0);
  }
}

TEST(OneCycle, RefusesWhatIsFilledAnewEachTime) {
  TwoVessels two(2e-3);
  two.pulses.stretches[0].water[1] = 1e-6;
  std::string said;
  EXPECT_FALSE(over_one_cycle(two.pulses, two.carried, said));
  EXPECT_NE(said.find("emptied and filled anew"), std::string::npos) << said;
}

}  // namespace
}  // namespace leat::model
