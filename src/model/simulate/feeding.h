// What fish are given, and what a loop that was fed before the run holds of it.
#pragma once

#include "model/equations/equations.h"

namespace leat::model {

/// Feed that the rule gives one group for a day: growth that the temperature allows times feed per gain, held back by
/// heat, cold and oxygen.
struct Ration {
  Mass<> a_day;
  double eaten_share = 1.0;       ///< of a stated feed, what they take at this temperature and oxygen
  Frequency<> by_rule, by_table;  ///< share of body mass per time
};
Ration ration_of(const FishGroup& group, Mass<> biomass, Temperature<> water, Concentration<> oxygen);

/// Guts as full as the same feeding on the days before leaves them on average; and in a loop that has run for months
/// as many faeces as rot away in a day as fall.
void start_as_fed_before(const Loop& loop, const Equations& equations, std::span<double> y);

}  // namespace leat::model
