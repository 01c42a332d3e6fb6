// All that a water carries with it, one name for each.
#pragma once

#include <array>

#include "base/units/quantity.h"

namespace leat::model {

/// What flows with the water: amounts per volume, in the order of its slots.
template <class N = double>
struct Contents {
  Concentration<N> oxygen, carbon, ammonia, nitrite, nitrate, phosphorus;
  Concentration<N> potassium, calcium, magnesium, sodium, chloride, sulphate, iron;
  Concentration<N> nitrogen_gas;
  Concentration<N> solids_carbon, solids_nitrogen, solids_phosphorus;  ///< of what rots
  Concentration<N> algae;                                              ///< carbon in them

  static constexpr std::array members = {&Contents::oxygen,
                                         &Contents::carbon,
                                         &Contents::ammonia,
                                         &Contents::nitrite,
                                         &Contents::nitrate,
                                         &Contents::phosphorus,
                                         &Contents::potassium,
                                         &Contents::calcium,
                                         &Contents::magnesium,
                                         &Contents::sodium,
                                         &Contents::chloride,
                                         &Contents::sulphate,
                                         &Contents::iron,
                                         &Contents::nitrogen_gas,
                                         &Contents::solids_carbon,
                                         &Contents::solids_nitrogen,
                                         &Contents::solids_phosphorus,
                                         &Contents::algae};
  static constexpr std::size_t size = members.size();
  /// From here on it is not dissolved: gravel holds it back. The last are the algae.
  static constexpr std::size_t first_particle = 14;
};

}  // namespace leat::model
