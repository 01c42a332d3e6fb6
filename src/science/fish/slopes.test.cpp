// Every relation that stands in a rate, asked with dual numbers: the slope must be the one that neighbouring values
// show, corners included.
#include <gtest/gtest.h>

#include <functional>
#include <string>
#include <vector>

#include "numerics/dual.h"
#include "science/crops/crop.h"
#include "science/crops/evapotranspiration.h"
#include "science/crops/growth.h"
#include "science/crops/lettuce_one_state.h"
#include "science/crops/lettuce_two_state.h"
#include "science/crops/uptake.h"
#include "science/fish/diel_pulse.h"
#include "science/fish/nitrogen.h"
#include "science/fish/rationed_growth.h"
#include "science/fish/temperature_response.h"

namespace leat::science {
namespace {

using D = Dual<1>;

/// A relation of one variable, as a double and as a dual.
struct Curve {
  std::string name;
  double low, high;
  std::function<double(double)> plain_at;
  std::function<D(D)> dual_at;
};

template <class F>
Curve curve(std::string name, double low, double high, F f) {
  return {std::move(name), low, high, [f](double x) { return f(x); }, [f](D x) { return f(x); }};
}

const Species& trout() {
  return *find_species("rainbow trout");
}
const CropTemperatures& lettuce() {
  static const CropTemperatures temperatures = *find_crop("lettuce")->temperatures();
  return temperatures;
}
template <class N>
Temperature<N> warm(const N& c) {
  return Temperature<N>::from_celsius(c);
}

std::vector<Curve> fish_curves() {
  return {
      curve("effective temperature", -5, 30,
            [](auto t) { return effective_temperature_rounded(warm(t), *trout().growth_temperatures).si(); }),
      curve("growth by mass", 0.002, 2.0,
            [](auto w) {
              using N = decltype(w);
              return growth_potential(trout(), warm(N(12.0)), Mass<N>(w)).si() * 8.64e6;
            }),
      curve("ration by oxygen", 0.002, 0.012,
            [](auto o) {
              using N = decltype(o);
              return ration_potential(trout(), warm(N(12.0)), Mass<N>(N(0.1)), Density<N>(o)).si() * 8.64e6;
            }),
      curve("ration by temperature", 0, 26,
            [](auto t) {
              using N = decltype(t);
              return ration_potential(trout(), warm(t), Mass<N>(N(0.1)), Density<N>(N(0.009))).si() * 8.64e6;
            }),
      curve("Liao blended", 1, 28,
            [](auto t) {
              using N = decltype(t);
              return oxygen_uptake_liao_blended(warm(t), Mass<N>(N(0.1)), liao_trout).in(mg_per_kg_hour);
            }),
      curve("allometric uptake", 5, 40,
            [](auto t) {
              using N = decltype(t);
              return oxygen_uptake_allometric(warm(t), Mass<N>(N(0.1))).in(mg_per_kg_hour);
            }),
      curve(
          "bioenergetic uptake", 1, 25,
          [](auto t) {
            using N = decltype(t);
            return oxygen_uptake_bioenergetic(warm(t), Mass<N>(N(0.1)), respiration_trout_juvenile).in(mg_per_kg_hour);
          }),
      curve("fasting heat", 1, 25,
            [](auto t) {
              using N = decltype(t);
              return fasting_heat_cho(warm(t), Mass<N>(N(0.1))).si();
            }),
      curve("energy of gain", 0.003, 1.0, [](auto w) { return energy_of_gain(Mass<decltype(w)>(w)).si() * 1e-6; }),
      curve("gain on a ration", 0, 0.05,
            [](auto p) {
              using N = decltype(p);
              const Mass<N> fish(N(0.1));
              return growth_on_ration(Power<N>(p), warm(N(12.0)), fish, growth_potential(trout(), warm(N(12.0)), fish))
                         .gain.si() *
                     8.64e6;
            }),
      curve("heat on a ration", 0, 0.5,
            [](auto p) {
              using N = decltype(p);
              const Mass<N> fish(N(0.1));
              return growth_on_ration(Power<N>(p), warm(N(12.0)), fish, growth_potential(trout(), warm(N(12.0)), fish))
                         .heat.si() *
                     10.0;
            }),
      curve("peak time", 1, 30, [](auto t) { return ammonia_peak_time(warm(t)).in(units::hour); }),
      curve("daily pulse", 0, 86400,
            [](auto s) {
              using N = decltype(s);
              return meal_pulse_daily(Duration<N>(s), Duration<N>(N(7.0 * 3600))).si() * 86400.0;
            }),
      curve("beta response", -2, 30,
            [](auto t) {
              const CardinalTemperatures c{warm(0.0), warm(16.5), warm(24.0)};
              return temperature_response_beta(warm(t), c).si();
            }),
  };
}

std::vector<Curve> crop_curves() {
  return {
      curve("developmental temperature", -5, 40,
            [](auto t) { return developmental_temperature(warm(t), lettuce()).si(); }),
      curve("activity", -5, 40, [](auto t) { return crop_activity(warm(t), lettuce()).si(); }),
      curve("crop growth by mass", 0.001, 0.5,
            [](auto w) {
              using N = decltype(w);
              return crop_growth_rate(ArealMass<N>(w), warm(N(18.0)), Flux<N>(N(80.0)), lettuce())
                  .in(gram_per_square_metre_day);
            }),
      curve("crop growth by light", 0, 400,
            [](auto p) {
              using N = decltype(p);
              return crop_growth_rate(ArealMass<N>(N(0.1)), warm(N(18.0)), Flux<N>(p), lettuce())
                  .in(gram_per_square_metre_day);
            }),
      curve(
          "one-state growth", 4, 40,
          [](auto t) {
            using N = decltype(t);
            return growth_rate_one_state(ArealMass<N>(N(0.1)), warm(t), Density<N>(N(7.4e-4)), Flux<N>(N(150.0))).si() *
                   1e8;
          }),
      curve("two-state structure", 6, 38,
            [](auto t) {
              using N = decltype(t);
              return growth_rate_two_state(warm(t), Number<N>(N(400e-6)), Flux<N>(N(60.0)), ArealMass<N>(N(0.02)),
                                           ArealMass<N>(N(0.1)))
                         .store.si() *
                     1e8;
            }),
      curve("ground cover", 0, 0.3, [](auto w) { return ground_cover(ArealMass<decltype(w)>(w)).si(); }),
  };
}

void expect_slopes(const Curve& c) {
  constexpr int points = 397;  // no multiple of a corner's place
  for (int i = 1; i < points; ++i) {
    const double x = c.low + (c.high - c.low) * i / points, h = 1e-6 * (c.high - c.low);
    const D exact = c.dual_at(D::seed(x, 0));
    ASSERT_NEAR(exact.value, c.plain_at(x), 1e-12 * (1.0 + std::abs(exact.value))) << c.name << " at " << x;
    const double seen = (c.plain_at(x + h) - c.plain_at(x - h)) / (2.0 * h);
    const double scale = 1.0 + std::abs(seen) + std::abs(exact.value) / (c.high - c.low);
    ASSERT_NEAR(exact.slope[0], seen, 2e-4 * scale) << c.name << " at " << x;
  }
}

TEST(Slopes, OfFishRelations) {
  for (const Curve& c : fish_curves()) expect_slopes(c);
}

TEST(Slopes, OfCropRelations) {
  for (const Curve& c : crop_curves()) expect_slopes(c);
}

TEST(Slopes, StayFiniteInTheDarkAndAtNothing) {
  const D zero = D::seed(0.0, 0);
  const auto dark = crop_growth_rate(ArealMass<D>(D(0.1)), warm(D(18.0)), Flux<D>(zero), lettuce()).si();
  EXPECT_EQ(dark.value, 0.0);
  EXPECT_TRUE(std::isfinite(dark.slope[0]));
  const auto bare = crop_growth_rate(ArealMass<D>(zero), warm(D(18.0)), Flux<D>(D(80.0)), lettuce()).si();
  EXPECT_EQ(bare.value, 0.0);
  EXPECT_GT(bare.slope[0], 0.0);
  const auto night =
      photosynthesis_one_state(ArealMass<D>(D(0.1)), warm(D(1.0)), Density<D>(D(7e-4)), Flux<D>(zero)).si();
  EXPECT_EQ(night.value, 0.0);
  EXPECT_TRUE(std::isfinite(night.slope[0]));
}

}  // namespace
}  // namespace leat::science
