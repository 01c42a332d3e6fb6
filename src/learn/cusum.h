// Sums of what readings miss their expectation by: they see a small shift that lasts, and let single misses go.
#pragma once

#include <algorithm>

#include "learn/kit.h"

namespace leat::learn {

/// One-sided, two of them. Each reading adds how far its expectation lies outside of the kit's interval, in standard
/// deviations, less what is allowed for; no reading adds more than `most`, so one wild one cannot ring alone.
///
///   S <- max(0, S + min(z, most) - slack),   rings when S reaches `height`
///
/// With slack 0.5 and height 5 it rings falsely about once in 930 readings a side, with 1 and 4 far more rarely, and
/// sees a shift of 1 (2) standard deviations in about 10 (4) readings.   source  Page 1954; lengths from memory
struct Cusum {
  double slack = 0.5, height = 5.0, most = 3.0;
  double up = 0.0, down = 0.0;
  int run_up = 0, run_down = 0;  ///< readings since the sum left 0

  /// The reading says more (up) or less (down) than was expected. True when it rings; the sum then starts anew.
  struct Rung {
    bool up = false, down = false;
    int readings = 0;  ///< that made it ring
  };
  Rung take(const Between& reading, double expected, double sd) {
    const double z = -reading.miss(expected) / sd;  // the expectation below the interval: the reading says more
    up = std::max(0.0, up + std::min(z, most) - slack);
    down = std::max(0.0, down + std::min(-z, most) - slack);
    run_up = up > 0.0 ? run_up + 1 : 0;
    run_down = down > 0.0 ? run_down + 1 : 0;
    const Rung rung{up >= height, down >= height, up >= height ? run_up : run_down};
    if (rung.up) up = 0.0;
    if (rung.down) down = 0.0;
    return rung;
  }
};

}  // namespace leat::learn
