// How the ammonia of a meal comes out over the hours after it.
#pragma once

#include <cmath>

#include "base/units/quantity.h"

namespace leat::science {

/// Share of a fed day's ammonia that comes out whether or not there was a meal.
///
/// source   van Weerd et al. 1995: 0.07 fasting, 0.30 fed (g N per kg and day)
inline constexpr double ammonia_base_share = 0.23;

/// Hours from a meal to the peak of its ammonia.
///
///   7 h x 2.3^((15 - T) / 10)
///
/// water    temperature of the water          5 to 30 °C
/// returns  time from the meal to the peak
/// error    4 to 7 h were seen at 15 °C
/// source   van Weerd et al. 1995 (7 h, rainbow trout); the scaling with temperature is ours
template <class N>
Duration<N> ammonia_peak_time(Temperature<N> water) {
  using std::exp;
  constexpr double ln_q10 = 0.83290912293510400;  // ln 2.3
  return Duration<N>(7.0 * 3600.0 * exp(N(ln_q10 / 10.0 * (15.0 - water.celsius()))));
}

/// Rate at which a meal's ammonia comes out, as a share of the whole per time: gamma of shape 3 with its mode at
/// `peak`.
///
///   g(t) = t^2 exp(-t / s) / (2 s^3),   s = peak / 2        0 before the meal
///
/// since    time since the meal
/// peak     time from the meal to the largest rate
/// returns  share per time; its integral is 1
/// source   form ours
template <class N>
Frequency<N> meal_pulse(Duration<N> since, Duration<N> peak) {
  using std::exp;
  using std::fabs;
  const N s = 0.5 * peak.si();
  const N t = 0.5 * (since.si() + fabs(since.si()));
  return Frequency<N>(t * t * exp(N(-t / s)) / (2.0 * s * s * s));
}

/// Rate of each of the three stages in series that give the same pulse as states: a meal enters the first stage, each
/// passes on at this rate, and what leaves the third is the pulse. Unlike the formula it may follow the temperature.
template <class N>
Frequency<N> meal_stage_rate(Duration<N> peak) {
  return Frequency<N>(2.0 / peak.si());
}

/// Pulse of a meal that is given at the same hour every day, long since.
///
///   sum over k >= 0 of g(t + k day), in closed form
///
/// since    time since the last meal          0 to 24 h
template <class N>
Frequency<N> meal_pulse_daily(Duration<N> since, Duration<N> peak) {
  using std::exp;
  const double day = units::day.si();
  const N s = 0.5 * peak.si(), t = since.si();
  const N q = exp(N(-day / s)), rest = 1.0 / (1.0 - q);
  const N sum = t * t * rest + 2.0 * t * day * q * rest * rest + day * day * q * (1.0 + q) * rest * rest * rest;
  return Frequency<N>(sum * exp(N(-t / s)) / (2.0 * s * s * s));
}

/// Highest rate of ammonia over the day's mean, one meal a day.
///
///   b + (1 - b) day max g        b the base share
///
/// returns  1.7 for a peak at 7 h, 2.5 at 4.5 h
inline Number<> ammonia_peak_to_mean(Duration<> peak, double base_share = ammonia_base_share) {
  double most = 0.0;
  constexpr int parts = 86400;  // of the day; the pulse is flat at its top, so a second is as good as its root
  for (int i = 0; i < parts; ++i) {
    const double rate = meal_pulse_daily(Duration<>(units::day.si() * i / parts), peak).si();
    most = rate > most ? rate : most;
  }
  return Number<>(base_share + (1.0 - base_share) * units::day.si() * most);
}

/// Rate over the day for several meals: base share spread evenly, the rest in pulses.
///
///   b / day + (1 - b) sum of share x g(t - meal)
///
/// hour     time of day
/// meals    times of day and shares of the ration, which sum to 1
template <class Meals>
Frequency<> ammonia_release(Duration<> hour, Duration<> peak, const Meals& meals,
                            double base_share = ammonia_base_share) {
  double rate = base_share / units::day.si();
  for (const auto& [at, share] : meals) {
    const double since = std::fmod(hour.si() - at.si() + units::day.si(), units::day.si());
    rate += (1.0 - base_share) * share * meal_pulse_daily(Duration<>(since), peak).si();
  }
  return Frequency<>(rate);
}

}  // namespace leat::science
