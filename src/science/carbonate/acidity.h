// pH from what a water holds: one root of the charge of its weak acids and bases.
#pragma once

#include <cmath>
#include <concepts>

#include "numerics/dual.h"
#include "science/carbonate/constants.h"
#include "science/gas/carbon_dioxide.h"

namespace leat::science {

/// Totals that pH follows from. Alkalinity counts what takes up acid down to CO2, H2PO4, NH4 and NO2 (what a
/// titration to about pH 4.5 reads), in equivalents:
///   [HCO3] + 2[CO3] + [OH] - [H] + [NH3] + [HPO4] + 2[PO4] - [H3PO4] - [HNO2]
template <class N = double>
struct AcidBaseTotals {
  Concentration<N> alkalinity;        ///< may be negative
  Concentration<N> inorganic_carbon;  ///< CO2 + HCO3 + CO3
  Concentration<N> ammonia;           ///< NH3 + NH4
  Concentration<N> nitrite;           ///< NO2 + HNO2
  Concentration<N> phosphate;         ///< all of H3PO4 to PO4
};

/// Bracket of the search; a water whose pH lies outside is given the nearer end.
inline constexpr double acidity_low = 1.0, acidity_high = 13.5;

/// Alkalinity from ions that neither take up nor give acid: strong + TAN - nitrite - phosphate.
///
/// strong   Na + K + 2 Ca + 2 Mg - Cl - NO3 - 2 SO4, in equivalents
/// source   electroneutrality
template <class N>
Concentration<N> alkalinity_from_strong_ions(Concentration<N> strong, Concentration<N> ammonia,
                                             Concentration<N> nitrite, Concentration<N> phosphate) {
  return strong + ammonia - nitrite - phosphate;
}

namespace acid_base {

/// Shares and their spread over a chain of protons. `charge` is the mean acid taken up per molecule, `slope` its
/// derivative by ln(1/h), which is the variance and so never negative.
template <class N>
struct Charge {
  N charge, slope;
};

template <class N>
Charge<N> carbonate_charge(const MixedConstants<N>& k, const N& per_h) {
  const N bicarbonate = k.carbonic1 * per_h, carbonate = bicarbonate * (k.carbonic2 * per_h);
  const N per_all = 1.0 / (1.0 + bicarbonate + carbonate);
  const N mean = (bicarbonate + 2.0 * carbonate) * per_all;
  return {mean, (bicarbonate + 4.0 * carbonate) * per_all - mean * mean};
}

template <class N>
Charge<N> phosphate_charge(const MixedConstants<N>& k, const N& h, const N& per_h) {
  const N two = k.phosphoric2 * per_h, three = two * (k.phosphoric3 * per_h), none = h / k.phosphoric1;
  const N per_all = 1.0 / (none + 1.0 + two + three);
  const N mean = (two + 2.0 * three - none) * per_all;
  return {mean, (two + 4.0 * three + none) * per_all - mean * mean};
}

/// One acid that is neutral to the count when it has lost (ammonium) its proton or kept it.
template <class N>
Charge<N> single_charge(const N& k, const N& h) {
  const N bare = k / (k + h);
  return {bare, bare * (1.0 - bare)};
}

/// What a mole of each total counts at h, and what water itself does.
template <class N>
struct Counted {
  Charge<N> carbon, ammonia, phosphorus, nitrite;
  N hydroxide, proton;
};
template <class N>
Counted<N> counted(const MixedConstants<N>& k, const N& h) {
  const N per_h = 1.0 / h;
  return {carbonate_charge(k, per_h),
          single_charge(k.ammonium, h),
          phosphate_charge(k, h, per_h),
          single_charge(k.nitrous, h),
          k.water * per_h,
          k.proton * h};
}

/// Alkalinity that the totals make at h, and its slope by pH.
template <class N>
Charge<N> alkalinity_and_slope(const MixedConstants<N>& k, const AcidBaseTotals<N>& w, const N& h) {
  const Counted<N> each = counted(k, h);
  const N value = w.inorganic_carbon.si() * each.carbon.charge + w.ammonia.si() * each.ammonia.charge +
                  w.phosphate.si() * each.phosphorus.charge - w.nitrite.si() * (1.0 - each.nitrite.charge) +
                  each.hydroxide - each.proton;
  const N slope = w.inorganic_carbon.si() * each.carbon.slope + w.ammonia.si() * each.ammonia.slope +
                  w.phosphate.si() * each.phosphorus.slope + w.nitrite.si() * each.nitrite.slope + each.hydroxide +
                  each.proton;
  return {value, ln10 * slope};
}

template <class N>
N proton_activity(const N& acidity) {
  return 1e3 * ten_to(N(-acidity));
}

/// A root that is found up to its last Newton step; of a pack, one in each lane.
template <class T = double>
struct Root {
  T at, slope;
  int evaluations;
  T inside;  ///< 1, or 0 where the root lies beyond the bracket
};

/// Root of an increasing function f(x) -> {value, slope > 0}. Newton inside a closing bracket; a step that leaves the
/// bracket or is not half of the one before last is replaced by the middle, but never one that is already tiny. Ends
/// when |value| or the step is small, one Newton step short of the root.
template <class F>
Root<> increasing_root(F&& f, double guess, double small_value, double small_step) {
  double low = acidity_low, high = acidity_high, last = high - low, before_last = last;
  double x = guess > low && guess < high ? guess : 7.0;
  Root<> root{x, 1.0, 0, 1.0};
  while (root.evaluations < 60) {
    const auto [value, slope] = f(x);
    ++root.evaluations;
    root.at = value == value ? x : value;
    root.slope = slope;
    const double step = -value / slope;
    if (std::abs(value) < small_value || std::abs(step) < small_step || value != value) return root;
    (value < 0.0 ? low : high) = x;
    if (high - acidity_low < 1e-9 || acidity_high - low < 1e-9) break;
    const bool newton = x + step > low && x + step < high && std::abs(2.0 * step) <= std::abs(before_last);
    const double next = newton ? x + step : 0.5 * (low + high);
    before_last = last;
    last = next - x;
    x = next;
  }
  root.inside = 0.0;
  return root;
}

/// The same steps in each lane of a pack; a lane that has its root waits for the others, so that no lane depends on
/// another.
template <class T, class F>
requires(!std::same_as<T, double>) Root<T> increasing_root(F&& f, const T& guess, double small_value,
                                                           double small_step) {
  T low(acidity_low), high(acidity_high), last = high - low, before_last = last;
  T x = choose((guess > low) & (guess < high), guess, T(7.0));
  Root<T> root{x, T(1.0), 0, T(1.0)};
  auto open = low < high;
  while (root.evaluations < 60) {
    const auto [value, slope] = f(x);
    ++root.evaluations;
    const auto known = value <= value;
    root.at = choose(open, choose(known, x, value), root.at);
    root.slope = choose(open, slope, root.slope);
    const T step = -value / slope;
    open = open & known & !((fabs(value) < T(small_value)) | (fabs(step) < T(small_step)));
    if (!any(open)) return root;
    const auto below = value < T(0.0);
    low = choose(below, x, low);
    high = choose(below, high, x);
    const auto at_end = open & ((high - acidity_low < T(1e-9)) | (acidity_high - low < T(1e-9)));
    root.inside = choose(at_end, T(0.0), root.inside);
    open = open & !at_end;
    const T tried = x + step;
    const auto newton = (tried > low) & (tried < high) & (fabs(2.0 * step) <= fabs(before_last));
    const T next = choose(newton, tried, 0.5 * (low + high));
    before_last = last;
    last = next - x;
    x = choose(open, next, x);
  }
  root.inside = choose(open, T(0.0), root.inside);
  return root;
}

template <class N>
MixedConstants<Plain<N>> plain_of(const MixedConstants<N>& k) {
  return {plain(k.carbonic1), plain(k.carbonic2),   plain(k.water),       plain(k.proton),     plain(k.ammonium),
          plain(k.nitrous),   plain(k.phosphoric1), plain(k.phosphoric2), plain(k.phosphoric3)};
}

template <class N>
AcidBaseTotals<Plain<N>> plain_of(const AcidBaseTotals<N>& w) {
  const auto bare = [](const Concentration<N>& c) { return Concentration<Plain<N>>(plain(c.si())); };
  return {bare(w.alkalinity), bare(w.inorganic_carbon), bare(w.ammonia), bare(w.nitrite), bare(w.phosphate)};
}

/// pH as a number with slopes: the root is found on plain numbers, then one Newton step in N carries the slopes over
/// (implicit function theorem) and takes off what is left of the value.
template <class N, class F>
Number<N> acidity_of_root(const Root<Plain<N>>& root, F&& excess) {
  const N x(root.at);
  return Number<N>(x - N(root.inside * excess(x)) / root.slope);
}

}  // namespace acid_base

/// pH of a water whose inorganic carbon is known.
///
/// guess    where to start: last step's pH. It must not change within a step, so that rates keep no memory.
/// returns  1 to 13.5; the same root from any guess within 1e-9, bit for bit the same from the same guess
/// error    0.0005 against PHREEQC with the same constants, no ion pairs; calcium and magnesium pairs lower it by
///          0.002 to 0.02 below pH 7.6 and 0.07 at pH 8
template <class N>
Number<N> acidity_closed(const MixedConstants<N>& k, const AcidBaseTotals<N>& totals, const Plain<N>& guess = 7.0) {
  using T = Plain<N>;
  const auto k0 = acid_base::plain_of(k);
  const auto w0 = acid_base::plain_of(totals);
  const auto root = acid_base::increasing_root(
      [&](const T& ph) {
        const auto [value, slope] = acid_base::alkalinity_and_slope(k0, w0, acid_base::proton_activity(ph));
        return acid_base::Charge<T>{value - w0.alkalinity.si(), slope};
      },
      guess, 1e-9, 1e-8);
  return acid_base::acidity_of_root<N>(root, [&](const N& ph) {
    return acid_base::alkalinity_and_slope(k, totals, acid_base::proton_activity(ph)).charge - totals.alkalinity.si();
  });
}

/// Alkalinity of a water at a pH. The totals' own alkalinity is not read.
template <class N>
Concentration<N> alkalinity_of(Number<N> acidity, const MixedConstants<N>& k, const AcidBaseTotals<N>& totals) {
  return Concentration<N>(acid_base::alkalinity_and_slope(k, totals, acid_base::proton_activity(acidity.si())).charge);
}

/// Acid that a water takes up per unit of pH: d(alkalinity)/d(pH).
template <class N>
Concentration<N> buffer_capacity(Number<N> acidity, const MixedConstants<N>& k, const AcidBaseTotals<N>& totals) {
  return Concentration<N>(acid_base::alkalinity_and_slope(k, totals, acid_base::proton_activity(acidity.si())).slope);
}

/// Shares of inorganic carbon.
template <class N = double>
struct CarbonShares {
  N carbon_dioxide, bicarbonate, carbonate;
};

template <class N>
CarbonShares<N> carbon_shares(Number<N> acidity, const MixedConstants<N>& k) {
  const N h = acid_base::proton_activity(acidity.si());
  const N bicarbonate = k.carbonic1 / h, carbonate = bicarbonate * (k.carbonic2 / h);
  const N all = 1.0 + bicarbonate + carbonate;
  return {1.0 / all, bicarbonate / all, carbonate / all};
}

/// Dissolved carbon dioxide at a pH: what fish feel and air carries off.
template <class N>
Concentration<N> carbon_dioxide_of(Number<N> acidity, const MixedConstants<N>& k, Concentration<N> inorganic_carbon) {
  return Concentration<N>(inorganic_carbon.si() * carbon_shares(acidity, k).carbon_dioxide);
}

/// Dissolved carbon dioxide from bicarbonate: HCO3 h / K1'. A pH read 0.1 too low says 25 % too much.
///
/// bicarbonate  alkalinity less that of ammonia and phosphate; pH 5.5 to 8.5
template <class N>
Concentration<N> carbon_dioxide_of_bicarbonate(Number<N> acidity, const MixedConstants<N>& k,
                                               Concentration<N> bicarbonate) {
  return Concentration<N>(bicarbonate.si() * acid_base::proton_activity(acidity.si()) / k.carbonic1);
}

/// Inorganic carbon of a water whose dissolved carbon dioxide is known.
template <class N>
Concentration<N> inorganic_carbon_of(Number<N> acidity, const MixedConstants<N>& k, Concentration<N> carbon_dioxide) {
  return Concentration<N>(carbon_dioxide.si() / carbon_shares(acidity, k).carbon_dioxide);
}

/// Un-ionised share of total ammonia, with the activity of ammonium: in loop water 5 to 10 % below the bare value.
template <class N>
Number<N> unionised_ammonia_share(Number<N> acidity, const MixedConstants<N>& k) {
  return Number<N>(acid_base::single_charge(k.ammonium, acid_base::proton_activity(acidity.si())).charge);
}

/// Share of total nitrite that is nitrous acid.
template <class N>
Number<N> nitrous_acid_share(Number<N> acidity, const MixedConstants<N>& k) {
  return Number<N>(1.0 - acid_base::single_charge(k.nitrous, acid_base::proton_activity(acidity.si())).charge);
}

/// pH of a water in balance with carbon dioxide of the air. The totals' inorganic carbon is not read.
///
/// carbon_dioxide  dissolved, as `carbon_dioxide_saturation` gives it
template <class N>
Number<N> acidity_open(const MixedConstants<N>& k, AcidBaseTotals<N> totals, Concentration<N> carbon_dioxide,
                       double guess = 8.0) {
  totals.inorganic_carbon = Concentration<N>(N(0.0));
  const auto excess = [](const auto& kk, const auto& w, const auto& gas, const auto& ph) {
    using M = std::decay_t<decltype(ph)>;
    const M h = acid_base::proton_activity(ph);
    auto sum = acid_base::alkalinity_and_slope(kk, w, h);
    const M bicarbonate = gas * (kk.carbonic1 / h), carbonate = bicarbonate * (kk.carbonic2 / h);
    return acid_base::Charge<M>{sum.charge + bicarbonate + 2.0 * carbonate - w.alkalinity.si(),
                                sum.slope + ln10 * (bicarbonate + 4.0 * carbonate)};
  };
  const auto k0 = acid_base::plain_of(k);
  const auto w0 = acid_base::plain_of(totals);
  const double gas0 = plain(carbon_dioxide.si());
  const acid_base::Root<> root =
      acid_base::increasing_root([&](double ph) { return excess(k0, w0, gas0, ph); }, guess, 1e-9, 1e-8);
  return acid_base::acidity_of_root<N>(root,
                                       [&](const N& ph) { return excess(k, totals, carbon_dioxide.si(), ph).charge; });
}

}  // namespace leat::science
