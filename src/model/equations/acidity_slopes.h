// How acidity, and what hangs on it, follows from the numbers of a body's state: exact slopes. The constants of the
// weak acids follow from temperature and ionic strength alone, with calcium and magnesium in their pairs; pH is the
// root of an equation in those, which is turned by the implicit function theorem. So nothing is carried through the
// constants by each of the dozen numbers.
#pragma once

#include <algorithm>
#include <array>
#include <vector>

#include "model/equations/jacobian_plan.h"

namespace leat::model {

/// Of each derived number, by each number that acidity follows from.
template <class T>
using DerivedSlopes = std::array<std::array<T, widest_term>, state_number::derived>;

class AciditySlopes {
  /// Alkalinity and ionic strength are linear, but for the bicarbonate in the second.
  std::array<double, widest_term> alkalinity_{}, ionic_{};
  std::size_t temperature_, carbon_, ammonia_, nitrite_, phosphorus_, calcium_, magnesium_;

  static std::size_t place(const std::vector<Spot>& seeds, std::size_t number) {
    return static_cast<std::size_t>(std::find(seeds.begin(), seeds.end(), number) - seeds.begin());
  }
  static std::size_t place(const std::vector<Spot>& seeds, Concentration<> Contents<>::*what) {
    const auto& all = Contents<>::members;
    return place(
        seeds, state_number::carried + static_cast<std::size_t>(std::find(all.begin(), all.end(), what) - all.begin()));
  }

 public:
  /// `seeds`: the numbers by which slopes are asked for, in their order.
  explicit AciditySlopes(const std::vector<Spot>& seeds)
      : temperature_(place(seeds, state_number::temperature)),
        carbon_(place(seeds, &Contents<>::carbon)),
        ammonia_(place(seeds, &Contents<>::ammonia)),
        nitrite_(place(seeds, &Contents<>::nitrite)),
        phosphorus_(place(seeds, &Contents<>::phosphorus)),
        calcium_(place(seeds, &Contents<>::calcium)),
        magnesium_(place(seeds, &Contents<>::magnesium)) {
    using D = Dual<widest_term>;
    BodyState<D> s;
    for (std::size_t k = 0; k < seeds.size(); ++k) set_number(s, seeds[k], D::seed(1.0, k));
    alkalinity_ = alkalinity_of_charge<D>(s).si().slope;
    ionic_ = ionic_strength_of<D>(s, Concentration<D>(D(1.0))).si().slope;
  }

  template <class T>
  void find(const BodyState<T>& s, DerivedSlopes<T>& out) const {
    const Parts<T> parts = parts_of(s);
    std::array<T, widest_term> ionic, pH;
    const T inside = choose(inside_bracket(s.pH.si()), T(1.0), T(0.0));
    const T per_pH = -(inside / parts.excess.slope[by_pH]);
    for (std::size_t k = 0; k < widest_term; ++k) {
      ionic[k] = ionic_[k] + parts.ionic_by_alkalinity * alkalinity_[k];
      pH[k] = parts.excess.slope[by_ionic] * ionic[k] - alkalinity_[k];
    }
    const auto directly = [&](std::array<T, widest_term>& row, const Five<T>& x) {
      for (const auto& [k, from] :
           {std::pair{temperature_, by_temperature}, {calcium_, by_calcium}, {magnesium_, by_magnesium}})
        row[k] = row[k] + x.slope[from];
    };
    directly(pH, parts.excess);
    pH[carbon_] = pH[carbon_] + parts.counted.carbon.charge.value;
    pH[ammonia_] = pH[ammonia_] + parts.counted.ammonia.charge.value;
    pH[nitrite_] = pH[nitrite_] - (1.0 - parts.counted.nitrite.charge.value);
    pH[phosphorus_] = pH[phosphorus_] + parts.counted.phosphorus.charge.value;
    for (T& slope : pH) slope = per_pH * slope;
    for (std::size_t k = 0; k < widest_term; ++k) {
      out[0][k] = alkalinity_[k];
      out[1][k] = ionic[k];
      out[2][k] = pH[k];
    }
    const auto share_of = [&](std::size_t d, const Five<T>& share, const T& total, std::size_t of) {
      const Five<T> held = total * share;
      for (std::size_t k = 0; k < widest_term; ++k)
        out[d][k] = held.slope[by_ionic] * ionic[k] + held.slope[by_pH] * pH[k];
      directly(out[d], held);
      out[d][of] = out[d][of] + share.value;
    };
    share_of(3, parts.shares.carbon_dioxide, s.carbon.si(), carbon_);
    share_of(4, parts.shares.bicarbonate, s.carbon.si(), carbon_);
    share_of(5, parts.ammonia, s.ammonia.si(), ammonia_);
  }

 private:
  enum Direction : std::size_t { by_temperature, by_ionic, by_calcium, by_magnesium, by_pH };
  template <class T>
  using Two = Dual<2, T>;
  template <class T>
  using Five = Dual<5, T>;

  template <class T>
  struct Parts {
    T ionic_by_alkalinity;
    science::acid_base::Counted<Five<T>> counted;
    Five<T> excess;  ///< alkalinity that the totals make
    science::CarbonShares<Five<T>> shares;
    Five<T> ammonia;  ///< share of it that is un-ionised
  };

  template <class T>
  static auto inside_bracket(const T& pH) {
    return (pH > science::acidity_low + 1e-8) & (pH < science::acidity_high - 1e-8);
  }

  template <class T>
  static Five<T> widened(const Two<T>& x) {
    Five<T> r(x.value);
    r.slope[by_temperature] = x.slope[0];
    r.slope[by_ionic] = x.slope[1];
    return r;
  }

  template <class T>
  static science::MixedConstants<Five<T>> constants(const BodyState<T>& s) {
    const auto water = Temperature<Two<T>>::from_kelvin(Two<T>::seed(s.temperature.kelvin(), 0));
    const Concentration<Two<T>> ionic(Two<T>::seed(s.ionic_strength.si(), 1));
    const auto k = science::mixed_constants(water, ionic);
    const auto pair = science::pair_constants(water, ionic);
    const auto w = [](const Two<T>& x) { return widened<T>(x); };
    return science::with_ion_pairs(
        science::MixedConstants<Five<T>>{w(k.carbonic1), w(k.carbonic2), w(k.water), w(k.proton), w(k.ammonium),
                                         w(k.nitrous), w(k.phosphoric1), w(k.phosphoric2), w(k.phosphoric3)},
        science::PairConstants<Five<T>>{w(pair.calcium_bicarbonate), w(pair.calcium_carbonate),
                                        w(pair.magnesium_bicarbonate), w(pair.magnesium_carbonate)},
        Concentration<Five<T>>(Five<T>::seed(s.calcium.si(), by_calcium)),
        Concentration<Five<T>>(Five<T>::seed(s.magnesium.si(), by_magnesium)));
  }

  template <class T>
  static Parts<T> parts_of(const BodyState<T>& s) {
    using D = Five<T>;
    const auto k = constants(s);
    const Number<D> pH(D::seed(s.pH.si(), by_pH));
    const D h = science::acid_base::proton_activity(pH.si());
    const auto plain = [](const Concentration<T>& c) { return Concentration<D>(D(c.si())); };
    const science::AcidBaseTotals<D> totals{plain(s.alkalinity), plain(s.carbon), plain(s.ammonia), plain(s.nitrite),
                                            plain(s.phosphorus)};
    using One = Dual<1, T>;
    Contents<One> contents;
    for (std::size_t i = 0; i < Contents<T>::size; ++i)
      contents.*Contents<One>::members[i] = Concentration<One>(One((s.*Contents<T>::members[i]).si()));
    const auto ionic = ionic_strength_of<One>(contents, Concentration<One>(One::seed(s.alkalinity.si(), 0)));
    return {ionic.si().slope[0], science::acid_base::counted(k, h),
            science::acid_base::alkalinity_and_slope(k, totals, h).charge, science::carbon_shares(pH, k),
            science::unionised_ammonia_share(pH, k).si()};
  }
};

}  // namespace leat::model
