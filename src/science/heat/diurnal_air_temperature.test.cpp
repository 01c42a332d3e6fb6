#include "science/heat/diurnal_air_temperature.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace leat::science {
namespace {

DiurnalDay day_of(double sunrise_h, double sunset_h) {
  const auto c = [](double t) { return Temperature<>::from_celsius(t); };
  const auto h = [](double x) { return x * units::hour; };
  return {c(7.0),
          c(19.0),
          c(9.0),
          c(24.0),
          c(13.0),
          h(sunrise_h - 24.0),
          h(sunset_h - 24.0),
          h(sunrise_h),
          h(sunset_h),
          h(sunrise_h + 24.0)};
}

double at(const DiurnalDay& day, double hour) {
  return air_temperature_parton_logan(day, hour * units::hour).celsius();
}

TEST(PartonLogan, MeetsLowHighAndTheNextLow) {
  const DiurnalDay day = day_of(5.5, 19.5);
  EXPECT_NEAR(at(day, 5.5 - 0.17), 9.0, 1e-9);
  double highest = -99.0;
  for (double h = 0.0; h < 24.0; h += 0.01) highest = std::max(highest, at(day, h));
  EXPECT_NEAR(highest, 24.0, 1e-4);
  EXPECT_NEAR(at(day, 12.5 + 1.86 - 0.17), 24.0, 1e-9);
  EXPECT_NEAR(at(day, 29.5 - 0.17), 13.0, 1e-9);
}

TEST(PartonLogan, NeverJumps) {
  for (const double half : {0.0, 1.0, 4.0, 7.0, 11.0, 12.0}) {
    const DiurnalDay day = day_of(12.0 - half, 12.0 + half);
    double before = at(day, 0.0);
    for (double h = 0.01; h <= 24.0; h += 0.01) {
      const double now = at(day, h);
      ASSERT_TRUE(std::isfinite(now));
      EXPECT_LT(std::abs(now - before), 0.12) << half << ' ' << h;
      before = now;
    }
  }
}

TEST(PartonLogan, JoinsTheNextDayAtMidnight) {
  const auto c = [](double t) { return Temperature<>::from_celsius(t); };
  const DiurnalDay today = day_of(6.0, 18.0);
  DiurnalDay tomorrow = today;
  tomorrow.low_before = today.low, tomorrow.high_before = today.high;
  tomorrow.low = today.low_after, tomorrow.high = c(20.0);
  EXPECT_NEAR(at(today, 24.0), at(tomorrow, 0.0), 1e-9);
}

}  // namespace
}  // namespace leat::science
