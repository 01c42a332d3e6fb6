#include <gtest/gtest.h>

#include <cmath>

#include "numerics/dual.h"
#include "science/carbonate/acidity.h"
#include "science/nitrogen/bed_gas.h"
#include "science/nitrogen/denitrification.h"
#include "science/nitrogen/film_growth.h"
#include "science/nitrogen/filter.h"
#include "science/nitrogen/limits.h"
#include "science/nitrogen/nitrification.h"
#include "science/nitrogen/organic_decay.h"
#include "science/nitrogen/stoichiometry.h"

namespace leat::science {
namespace {

Temperature<> celsius(double t) {
  return Temperature<>::from_celsius(t);
}
Concentration<> nitrogen(double mg) {
  return mg * milligram_per_litre / molar_mass::nitrogen;
}
Concentration<> oxygen(double mg) {
  return mg * milligram_per_litre / molar_mass::oxygen;
}

TEST(Ammonia, IsFreedByAcidityAndWarmthAndHeldBySalt) {
  for (double ph = 5.0; ph < 11.0; ph += 0.5)
    for (double t = 1.0; t < 35.0; t += 4.0) {
      const auto share = [](double a, double c, double i) {
        return unionised_ammonia_share(Number<>(a), mixed_constants(celsius(c), Concentration<>(i))).si();
      };
      EXPECT_LT(share(ph, t, 5), share(ph + 0.1, t, 5));
      EXPECT_LT(share(ph, t, 5), share(ph, t + 1, 5));
      EXPECT_LT(share(ph, t, 15), share(ph, t, 5));
      EXPECT_NEAR(share(ph, t, 0), unionised_ammonia_fraction(celsius(t), Number<>(ph)).si(), 1e-4);
    }
}

TEST(FilmTemperature, HasTheSlopesOfItsSourcesAndNoCorner) {
  const auto f = [](double t) { return film_temperature_factor(celsius(t)).si(); };
  EXPECT_NEAR(f(20.0), 1.0, 1e-9);
  EXPECT_NEAR(f(21.0) / f(20.0), 1.043, 0.001);
  EXPECT_NEAR(f(4.0) / f(3.0), 1.09, 0.001);
  EXPECT_NEAR(f(10.0), std::pow(1.043, -10.0), 0.015);
  EXPECT_NEAR(f(5.0), 0.43, 0.01);
  for (double t = 0.0; t < 30.0; t += 0.1) EXPECT_NEAR(f(t + 0.1) / f(t), 1.0, 0.01);
}

TEST(FilmTemperature, IsSmooth) {
  double last = 0.0;
  for (double t = 0.0; t < 30.0; t += 0.05) {
    const Dual<1> f = film_temperature_factor(Temperature<Dual<1>>::from_celsius(Dual<1>::seed(t, 0))).si();
    const double slope = f.slope[0] / f.value;
    if (t > 0.0) {
      EXPECT_NEAR(slope, last, 0.0015) << t;
    }
    last = slope;
  }
}

TEST(NitrifierAcidity, IsBestNearSevenAndAHalfAndNeverNegative) {
  const auto f = [](double ph) { return nitrification_acidity_factor(Number<>(ph)).si(); };
  for (double ph = 4.0; ph < 12.0; ph += 0.05) {
    EXPECT_GE(f(ph), 0.0);
    EXPECT_LE(f(ph), 1.0);
    const bool rising = ph<7.1, falling = ph> 7.4;
    EXPECT_FALSE(rising && f(ph) >= f(ph + 0.05)) << ph;
    EXPECT_FALSE(falling && f(ph) <= f(ph + 0.05)) << ph;
  }
}

TEST(Film, StopsWithoutAmmoniaOrOxygen) {
  const auto rate = [](Concentration<> s, Concentration<> o) {
    return nitrification_rate(ammonia_film, s, o, Number<>(1.0)).si();
  };
  EXPECT_NEAR(rate(nitrogen(0), oxygen(8)), 0.0, 1e-20);
  EXPECT_NEAR(rate(nitrogen(2), oxygen(0)), 0.0, 1e-20);
  EXPECT_LE(rate(nitrogen(-1e-6), oxygen(8)), 0.0);
}

TEST(Film, NeverBeatsTheSharpMinimumAndStaysNear) {
  for (double s = 0.05; s < 8.0; s *= 1.4)
    for (double o = 0.2; o < 12.0; o *= 1.4) {
      const double smooth = nitrification_rate(ammonia_film, nitrogen(s), oxygen(o), Number<>(0.7)).si();
      const double sharp =
          nitrification_rate_sharp(ammonia_film, nitrogen(s), oxygen(o), Number<>(0.7), Number<>(1.0)).si();
      EXPECT_LE(smooth, sharp);
      EXPECT_GT(smooth, 0.98 * sharp);
    }
}

TEST(Film, HasHalfItsRateAtItsHalfValue) {
  EXPECT_NEAR(nitrification_rate(ammonia_film, ammonia_film.half_nitrogen, oxygen(1000), Number<>(1.0)).si() /
                  ammonia_film.at_20c.si(),
              0.5, 0.001);
}

TEST(Stoichiometry, AddsUp) {
  EXPECT_NEAR(oxygen_for_ammonia_step.si(), 3.43, 0.005);
  EXPECT_NEAR(oxygen_for_nitrification.si(), 4.57, 0.005);
  EXPECT_NEAR(oxygen_spared_by_denitrification.si(), 2.86, 0.005);
  EXPECT_DOUBLE_EQ(oxygen_per_ammonia_step + oxygen_per_nitrite_step, 2.0);
  // Nitrate made and unmade again costs the oxygen of both less what nitrate gave back.
  EXPECT_NEAR((oxygen_for_nitrification - oxygen_spared_by_denitrification).si() * molar_mass::nitrogen.si() /
                  molar_mass::oxygen.si(),
              0.75, 1e-12);
  EXPECT_NEAR((ammonia_removal_within_oxygen(oxygen(8)) * molar_mass::nitrogen).in(milligram_per_litre), 1.75, 0.01);
}

TEST(Stoichiometry, TakesAlkalinityAsTheChargeBalanceSays) {
  // One mole of ammonium becomes nitrate at constant strong cations: TAN falls, nitrate is a strong anion.
  const Concentration<> none(0.0), one(1.0);
  const auto before = alkalinity_from_strong_ions(Concentration<>(5.0), one, none, none);
  const auto half = alkalinity_from_strong_ions(Concentration<>(5.0), none, one, none);
  const auto after = alkalinity_from_strong_ions(Concentration<>(5.0) - one, none, none, none);
  EXPECT_DOUBLE_EQ((before - half).si(), alkalinity_per_ammonia_step);
  EXPECT_DOUBLE_EQ((half - after).si(), 0.0);
}

TEST(Nitrifiers, GrowFasterWarmAndShrinkUnfed) {
  const auto mu = [](double t, double n) {
    return nitrifier_net_growth(ammonia_oxidisers, nitrogen(n), oxygen(8), celsius(t)).in(per_day);
  };
  EXPECT_GT(mu(20, 2), mu(10, 2));
  EXPECT_LT(mu(12, 0), 0.0);
}

TEST(PlugFlow, TakesAllWithMuchFilmAndNothingWithNone) {
  const auto out = [](double area) {
    return plug_flow_outlet(Concentration<>(0.1), Velocity<>(5e-6), Area<>(area), Flow<>(1e-4)).si();
  };
  EXPECT_EQ(out(0.0), 0.1);
  EXPECT_LT(out(1000.0), 1e-10);
  EXPECT_NEAR(out(10.0) * out(10.0), out(20.0) * 0.1, 1e-15);
}

TEST(Denitrification, NeedsNitrateAndNoOxygen) {
  const auto rate = [](double n, double o) {
    return denitrification_rate(0.3 * gram_nitrogen_per_square_metre_day, nitrogen(n), oxygen(o), celsius(15)).si();
  };
  EXPECT_EQ(rate(0, 0), 0.0);
  EXPECT_GT(rate(20, 0), 10.0 * rate(20, 4));
}

TEST(Decay, SpendsAllInTheEnd) {
  const auto spent = [](double days) {
    return oxygen_demand_exerted(Density<>(0.1), decay_rate(fresh_faeces, celsius(12)), days * units::day).si();
  };
  EXPECT_EQ(spent(0), 0.0);
  EXPECT_LT(spent(5), spent(10));
  EXPECT_NEAR(spent(1000), 0.1, 1e-9);
}

/// Settles where what grows is what decays, and from nothing grows to the seed and on.
TEST(FilmGrowth, SettlesWhereGrowthIsDecay) {
  const auto change = [](double film, double food) {
    return film_change(ammonia_oxidisers, film, nitrogen(food), oxygen(8), 1.0, celsius(20)) * 86400.0;
  };
  double film = seed_of_film;
  for (int step = 0; step < 20000; ++step) film += 0.05 * change(film, 1.0);
  EXPECT_NEAR(change(film, 1.0), 0.0, 1e-9);
  EXPECT_GT(film, 0.5);
  EXPECT_LT(film, 1.0);
  EXPECT_NEAR(change(0.5, 0.0), -0.05 * (0.5 - seed_of_film), 1e-12);  // unfed: all it does is decay, 5 % a day
  EXPECT_NEAR(change(seed_of_film, 0.0), 0.0, 1e-15);
  EXPECT_LT(change(1.0, 100.0), 0.0);  // a full one grows no further
}

TEST(FilmGrowth, StallsWithTheAlkalinity) {
  EXPECT_NEAR(nitrification_alkalinity_share(half_alkalinity).si(), 0.5, 1e-12);
  EXPECT_EQ(nitrification_alkalinity_share(Concentration<>(-1.0)).si(), 0.0);
  EXPECT_GT(nitrification_alkalinity_share(Concentration<>(2.0)).si(), 0.9);
}

/// The wetlands' own figure: 0.045 m a day over a square metre takes the nitrate of 45 L a day.
TEST(Sludge, TakesTheNitrateOfSoMuchWaterADay) {
  const auto gas = [](double area, double nitrate, double solids, double warmth) {
    return sludge_nitrate_to_gas(Area<>(area), nitrate, solids, celsius(warmth)) * 86400.0;  // mol/d
  };
  EXPECT_NEAR(gas(1.0, 3.0, 1e9, 20.0), 0.045 * 3.0, 1e-9);
  EXPECT_NEAR(gas(1.0, 3.0, 0.1, 20.0), 0.5 * 0.045 * 3.0, 1e-9);
  EXPECT_EQ(gas(1.0, 3.0, 0.0, 20.0), 0.0);
  EXPECT_NEAR(gas(2.0, 3.0, 1e9, 30.0) / gas(1.0, 3.0, 1e9, 20.0), 2.0 * std::pow(1.09, 10.0), 1e-9);
}

TEST(Gravel, GivesItsRateWithPlentyOfNitrateAndSolids) {
  const double mol = gravel_nitrate_to_gas(Area<>(2.0), 100.0, 1e9, celsius(20)) * 86400.0;
  EXPECT_NEAR(mol * 14.007, 2.0 * 0.16, 1e-3);
}

TEST(AmmoniaLimits, FallWithAcidityAndWarmthAndAcuteIsAboveChronic) {
  for (double ph = 6.0; ph < 9.4; ph += 0.2)
    for (double t = 0.0; t < 30.0; t += 3.0) {
      const Number<> a(ph), next(ph + 0.2);
      EXPECT_GE(ammonia_limit_acute_salmonids(a, celsius(t)).si(),
                ammonia_limit_acute_salmonids(next, celsius(t)).si());
      EXPECT_GE(ammonia_limit_chronic(a, celsius(t)).si(), ammonia_limit_chronic(a, celsius(t + 3)).si());
      EXPECT_GT(ammonia_limit_acute_salmonids(a, celsius(t)).si(), ammonia_limit_chronic(a, celsius(t)).si());
      EXPECT_LE(ammonia_limit_acute_salmonids(a, celsius(t)).si(), ammonia_limit_acute_salmonids_1999(a).si());
    }
}

TEST(NitriteLimits, RiseWithChloride) {
  double last = 0.0;
  for (const double chloride : {0.0, 2.5, 5.0, 7.0, 9.0, 11.0, 500.0}) {
    const NitriteLimits limits = nitrite_limits(chloride * milligram_per_litre);
    EXPECT_GE(limits.mean.si(), last);
    EXPECT_GT(limits.maximum.si(), limits.mean.si());
    last = limits.mean.si();
  }
  EXPECT_NEAR(last, 0.2e-3, 1e-12);
}

}  // namespace
}  // namespace leat::science
