// How much fish eat, as a share of their mass per day, and what holds them back.
#pragma once

#include <array>
#include <cmath>
#include <cstddef>

#include "base/units/quantity.h"
#include "numerics/dual.h"
#include "science/fish/ramp.h"

namespace leat::science {

inline constexpr Frequency<> percent_per_day{0.01 / 86400.0};

/// The trout table's size classes: under 1 inch, 1-2, 2-3 ... 9-10, over 10.
inline constexpr std::size_t trout_classes = 11;
inline constexpr std::size_t trout_table_rows = 33;  ///< 36 to 68 °F, one row per degree
using TroutTable = std::array<std::array<double, trout_classes>, trout_table_rows>;

/// Percent of body weight per day as printed.
extern const TroutTable trout_table_printed;
/// The same with its one odd column step (1-2 inches at 67 and 68 °F, printed 9.1 and 9.4) put back in line.
extern const TroutTable trout_table_in_use;
/// Logarithm of the mass in grams at the middle of each class.
extern const std::array<double, trout_classes> trout_class_log_mass;

/// Fish per pound at the ten class borders of the printed table.
inline constexpr std::array<double, trout_classes - 1> trout_border_counts{2542, 304,  88.3, 37.8, 19.7,
                                                                           11.6, 7.35, 4.94, 3.47, 2.53};

/// Class of a trout by its length in inches or by its mass.
std::size_t trout_class_of_length(Length<> length);
std::size_t trout_class_of_mass(Mass<> fish);

/// Ration of the printed table, read as printed: nearest degree Fahrenheit within 36 to 68, no interpolation.
Frequency<> ration_trout_table_printed(Temperature<> water, std::size_t size_class);

/// Position in an evenly or unevenly spaced list, as a cell and the share of the way through it.
template <class N>
struct TablePlace {
  std::size_t cell;
  N share;
};

template <class N, std::size_t Size>
TablePlace<N> place_in(const std::array<double, Size>& knots, const N& x) {
  std::size_t cell = 0;
  while (cell + 2 < Size && plain(x) > knots[cell + 1]) ++cell;
  return {cell, held_within(N((x - knots[cell]) / (knots[cell + 1] - knots[cell])), 0.0, 1.0)};
}

/// Ration of trout by the table of Leitritz & Lewis, without steps.
///
///   linear in temperature between its rows, and in the logarithm of mass between the middles of its classes
///
/// water    temperature of the water          2.2 to 20 °C
/// fish     mass of one fish                  0.1 g to 200 g
/// returns  feed per mass of fish and time
/// error    0.1 %/d of the printed entry at a class's middle; written for feeds of lower energy than today's: x 0.75 to
///          0.85 for 17 to 19 MJ/kg digestible
/// beyond   the edge of the table holds; it rises to 20 °C because metabolism does, so multiply by the heat taper
/// source   Leitritz & Lewis 1980, as reprinted by North Carolina Cooperative Extension
template <class N>
Frequency<N> ration_trout_table(Temperature<N> water, Mass<N> fish) {
  using std::log;
  const N row = held_within(N(water.celsius() * 1.8 + 32.0 - 36.0), 0.0, trout_table_rows - 1.0);
  std::size_t r = static_cast<std::size_t>(plain(row));
  if (r + 1 >= trout_table_rows) r = trout_table_rows - 2;
  const N down = row - static_cast<double>(r);
  const auto [c, across] = place_in(trout_class_log_mass, N(log(fish.in(units::gram))));
  const auto& cooler = trout_table_in_use[r];
  const auto& warmer = trout_table_in_use[r + 1];
  const N cool = cooler[c] + across * (cooler[c + 1] - cooler[c]);
  const N warm = warmer[c] + across * (warmer[c + 1] - warmer[c]);
  return Frequency<N>((cool + down * (warm - cool)) * percent_per_day.si());
}

/// Ration that growth asks for: specific growth times feed per gain.
template <class N>
Frequency<N> ration_from_growth(Frequency<N> growth, Number<N> feed_per_gain) {
  return Frequency<N>(growth.si() * feed_per_gain.si());
}

/// Temperatures between which fish eat at all, and between which they eat in full.
struct AppetiteTemperatures {
  Temperature<> stop_low, full_low, full_high, stop_high;
};

/// Share of the ration that temperature leaves: 0 in the cold, rising to 1, falling to 0 in the heat.
///
///   straight lines between the four temperatures, corners rounded over 0.25 °C
///
/// water    temperature of the water
/// limits   trout: 3, 5, 17, 20 °C
/// returns  0 to 1
/// source   common practice: full to 17 °C, none at 20 °C
template <class N>
Number<N> appetite_temperature(Temperature<N> water, const AppetiteTemperatures& limits) {
  constexpr double h = 0.25;
  const double a = limits.stop_low.celsius(), b = limits.full_low.celsius();
  const double c = limits.full_high.celsius(), d = limits.stop_high.celsius();
  const N t = water.celsius();
  const N cold = (rounded_ramp(N(t - a), h) - rounded_ramp(N(t - b), h)) / (b - a);
  const N heat = (rounded_ramp(N(t - c), h) - rounded_ramp(N(t - d), h)) / (d - c);
  return Number<N>(cold * (1.0 - heat));
}

/// Share of the ration that oxygen leaves.
///
///   (DO - 4) / (7 - 4), held within 0 and 1; corners rounded over 0.1 mg/L
///
/// oxygen   dissolved oxygen, mass per volume
/// none     at or below this fish do not eat     trout 4 mg/L
/// full     from here on it does not matter      trout 7 mg/L
/// returns  0 to 1
/// source   ours, for trout from intake at 5.7 and 9.3 mg/L (Glencross)
template <class N>
Number<N> appetite_oxygen(Density<N> oxygen, Density<> none, Density<> full) {
  const double from = none.si() * 1000.0, to = full.si() * 1000.0;  // mg/L
  const N x = oxygen.si() * 1000.0;
  return Number<N>((rounded_ramp(N(x - from), 0.1) - rounded_ramp(N(x - to), 0.1)) / (to - from));
}

/// Ration after Haskell.
///
///   300 F dL / L        % of mass per day: feed per gain F, growth in length per day dL, length L
///
/// source   Haskell 1959; Piper et al. 1982
template <class N>
Frequency<N> ration_haskell(Number<N> feed_per_gain, Velocity<N> length_growth, Length<N> length) {
  return Frequency<N>(3.0 * feed_per_gain.si() * length_growth.si() / length.si());
}

}  // namespace leat::science
