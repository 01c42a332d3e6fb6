// A new filter, dosed every day as keepers do it without fish: days until it takes 2 mg/L of ammonia and its nitrite
// within a day, twice running.
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdio>

#include "model/processes/nitrification.h"
#include "science/gas/oxygen_saturation.h"

namespace leat {
namespace {

using namespace model;

constexpr double kArea = 72.0, kVolume = 1.3;  // m2 of film: a bed of 2 m2 and 0.3 m; m3 of water

/// Both films and what they eat in one body of water: pH 7.6, 100 mg/L of alkalinity, oxygen near the air's.
struct NewFilter {
  Temperature<> water;
  double ammonia = 0.0, nitrite = 0.0;  // mol/m3
  double first = science::seed_of_film, second = science::seed_of_film;

  void live(double seconds) {
    const Concentration<> oxygen(0.95 * science::oxygen_saturation_mass(water, units::atmosphere).si() / 31.998e-3);
    const Number<> acidity = science::nitrification_acidity_factor(Number<>(7.6));
    const double alkaline = science::nitrification_alkalinity_share(Concentration<>(2.0)).si();
    const Number<> factors = science::film_temperature_factor(water) * acidity;
    const Concentration<> a(ammonia), n(nitrite);
    const double to_nitrite =
        science::nitrification_rate(science::ammonia_film, a, oxygen, factors).si() * kArea * first * alkaline;
    const double to_nitrate =
        science::nitrification_rate(science::nitrite_film, n, oxygen, factors).si() * kArea * second;
    first += seconds * film_change(science::ammonia_oxidisers, first, a, oxygen, acidity.si() * alkaline, water);
    second += seconds * film_change(science::nitrite_oxidisers, second, n, oxygen, acidity.si(), water);
    ammonia = std::max(0.0, ammonia - seconds * to_nitrite / kVolume);
    nitrite = std::max(0.0, nitrite + seconds * (to_nitrite - to_nitrate) / kVolume);
  }
};

struct Course {
  int ammonia_gone = 0, nitrite_peak = 0, done = 0;  // days
  double highest_nitrite = 0.0;                      // mg/L as N
};

Course start_up(double celsius) {
  NewFilter filter{Temperature<>::from_celsius(celsius)};
  Course c;
  int good = 0;
  for (int day = 1; day <= 250 && c.done == 0; ++day) {
    filter.ammonia = std::max(filter.ammonia, 2.0 / 14.007);
    for (int i = 0; i < 4320; ++i) filter.live(20.0);
    const double ammonia = 14.007 * filter.ammonia, nitrite = 14.007 * filter.nitrite;
    if (c.ammonia_gone == 0 && ammonia < 0.1) c.ammonia_gone = day;
    if (nitrite > c.highest_nitrite) c.highest_nitrite = nitrite, c.nitrite_peak = day;
    good = ammonia < 0.1 && nitrite < 0.2 ? good + 1 : 0;
    if (good == 2) c.done = day;
  }
  EXPECT_GT(c.done, 0) << celsius;
  return c;
}

struct Weeks {
  double celsius, low, high;
};

/// Weeks as keepers know them (common practice); Mnyoro et al. 2022 measured six to seven in the tropics.
TEST(StartUp, TakesTheWeeksThatKeepersKnow) {
  int before = 0, peak_before = 0, within = 0;
  for (const Weeks& w : {Weeks{25, 3, 5}, Weeks{20, 4, 7}, Weeks{15, 6, 10}, Weeks{10, 10, 16}}) {
    const Course c = start_up(w.celsius);
    const bool inside = c.done >= 7.0 * w.low && c.done <= 7.0 * w.high;
    within += inside;
    std::printf(
        "%.0f degC: ammonia taken from day %d, nitrite highest on day %d (%.0f mg/L as N), done on day %d = "
        "%.1f weeks; keepers: %.0f to %.0f%s\n",
        w.celsius, c.ammonia_gone, c.nitrite_peak, c.highest_nitrite, c.done, c.done / 7.0, w.low, w.high,
        inside ? "" : ", MISSED");
    EXPECT_GT(c.done, before);  // colder is slower
    EXPECT_GT(c.nitrite_peak, peak_before);
    EXPECT_GT(c.highest_nitrite, 2.0);
    before = c.done;
    peak_before = c.nitrite_peak;
  }
  EXPECT_EQ(within, 4);
}

}  // namespace
}  // namespace leat
