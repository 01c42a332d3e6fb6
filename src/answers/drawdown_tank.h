// A still tank as the draw-down and its actions see it.
#pragma once

#include "answers/drawdown.h"
#include "science/gas/help.h"

namespace leat::answers {

struct StillTank {
  Volume<> water;
  Density<> saturation;
  science::Exchange surface;  ///< with air lines that run on
  MassRate<> demand;          ///< at factor 1

  Duration<> to(Density<> level, Density<> from, double factor, const science::Exchange& by) const;
  Density<> after(Duration<> time, Density<> from, double factor, const science::Exchange& by) const;
  /// Time to a level with a help that ends after a while.
  Duration<> to_with_help(Density<> level, Density<> from, double factor, const science::Exchange& help,
                          Duration<> ends) const;
};

/// The tank of an input; the water of `d` is known.
StillTank still_tank(const DrawdownInput& input, const Drawdown& d);

/// All but words and actions.
Drawdown times_left(const model::Loop& loop, std::size_t vessel, const DrawdownInput& input);

/// Verdict, how the band was made, and actions, once the times are known.
void tell_in_words(const model::Loop& loop, std::size_t vessel, const DrawdownInput& input, Drawdown& d);

/// Fills `d.actions`. The states are worked out.
void add_actions(const StillTank& tank, const DrawdownInput& input, Drawdown& d);

/// "5", "1.8"
std::string mg_words(Density<> oxygen);

}  // namespace leat::answers
