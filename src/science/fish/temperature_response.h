// Shapes of the answer of growth or intake to temperature, and their mean over a swinging day.
#pragma once

#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

#include "base/units/quantity.h"
#include "science/fish/ramp.h"

namespace leat::science {

/// Where a response starts, is highest, and ends.
struct CardinalTemperatures {
  Temperature<> low, best, high;
};

/// Beta response.
///
///   f = (Th - T) / (Th - To) ((T - Tl) / (To - Tl))^((To - Tl) / (Th - To))
///
/// returns  0 at both ends and outside, 1 at the best
/// source   Yan & Hunt 1999
template <class N>
Number<N> temperature_response_beta(Temperature<N> water, const CardinalTemperatures& cardinal) {
  using std::pow;
  const double rise = (cardinal.best - cardinal.low).si(), fall = (cardinal.high - cardinal.best).si();
  const N above = positive_part(N(water.kelvin() - cardinal.low.kelvin())) / rise;
  const N below = positive_part(N(cardinal.high.kelvin() - water.kelvin())) / fall;
  return Number<N>(below * pow(above, rise / fall));
}

/// Parabola about the best temperature, given by the span over which it stays at nine tenths or more.
///
///   f = 1 - 0.1 ((T - To) / (w / 2))^2        held at 0
///
/// span     w, width at 0.9
/// source   Katersky & Carter 2007 (barramundi: best 31.4 °C, 8 °C wide)
template <class N>
Number<N> temperature_response_quadratic(Temperature<N> water, Temperature<> best, TemperatureDifference<> span) {
  const N x = (water.kelvin() - best.kelvin()) / (0.5 * span.si());
  return Number<N>(positive_part(N(1.0 - 0.1 * x * x)));
}

/// Bell with flat top, a hundredth left at the limits.
///
///   f = exp(-4.6 ((To - T) / (To - Tl))^4) below the best, mirrored with Th above
///
/// source   Bolte, Nath & Ernst 1995, as used in FAO W5268E annex 3; the exponent is remembered
template <class N>
Number<N> temperature_response_bolte(Temperature<N> water, const CardinalTemperatures& cardinal) {
  using std::exp;
  const N off = water.kelvin() - cardinal.best.kelvin();
  const N x = positive_part(off) / (cardinal.high - cardinal.best).si() +
              positive_part(N(-off)) / (cardinal.best - cardinal.low).si();
  return Number<N>(exp(N(-4.6 * x * x * x * x)));
}

/// Mean of a response over a day whose temperature swings as a sine. The mean of the response, not the response at
/// the mean.
///
/// mean, amplitude   of the day's temperature
/// response          a function of temperature that returns a quantity
/// error             1e-5 of the response's range for broken lines (2400 equal parts of the day)
template <class Response>
auto diel_mean_response(Temperature<> mean, TemperatureDifference<> amplitude, Response&& response) {
  constexpr int parts = 2400;
  auto sum = response(mean) * 0.0;
  for (int i = 0; i < parts; ++i) {
    const double angle = 2.0 * std::numbers::pi * (i + 0.5) / parts;
    sum += response(mean + amplitude * std::sin(angle));
  }
  return sum / static_cast<double>(parts);
}

/// Ratio of rates ten degrees apart: (r2 / r1)^(10 / (T2 - T1)).
inline Number<> q10(double rate_low, double rate_high, Temperature<> low, Temperature<> high) {
  return Number<>(std::pow(rate_high / rate_low, 10.0 / (high - low).si()));
}

/// Growth lost, in mass, to a daily swing against steady water of the same mean.
///
///   nothing up to 7 degrees from low to high; then the loss seen, straight to 8 % at 8 degrees and 10 % from 10 on
///
/// range    from the day's lowest to its highest temperature
/// returns  0 to 0.10; show it as a band from 0 to this
/// error    as large as itself; brook trout lost 35 % at 17 to 25 °C, whose top lies beyond their limit
/// source   Atlantic salmon, over 7 °C: 8 % less mass (J. Fish Biol. 78:436); steelhead, 4 and 8 °C: none or a loss
///          (Wurtsbaugh)
inline Number<> diel_swing_growth_loss(TemperatureDifference<> range) {
  const double over = held_within(range.si() - 7.0, 0.0, 3.0);
  return Number<>(0.08 * held_within(over, 0.0, 1.0) + 0.01 * positive_part(over - 1.0));
}

}  // namespace leat::science
