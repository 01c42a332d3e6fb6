// How far the sun's share through clear walls and lids moves an answer, where nobody said it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "model/flow/paths.h"
#include "model/weather/weather.h"

namespace leat::answers {

struct AheadAnswer;
struct AheadRequest;

/// What one share gives for a vessel, over a whole run.
struct AtShare {
  double share = 0.0;
  double highest = 0.0;     ///< temperature, kelvin
  double mean_swing = 0.0;  ///< of the days, K
};

/// The same run at the least, the assumed and the largest share.
struct SunBand {
  std::vector<std::string> assumed_for;  ///< vessels with a clear wall or lid whose share was not said
  struct Vessel {
    std::string path;
    AtShare low, middle, high;
    double width() const { return high.highest - low.highest; }
  };
  std::vector<Vessel> vessels;  ///< tanks, those that move most first; all vessels where there is no tank
};

/// Two more runs, where a share was assumed and the first run finished; nothing where it was said or the sun gets in
/// nowhere.
std::optional<SunBand> sun_band(const model::Loop& loop, const model::Plumbing& plumbing, const model::Settled& running,
                                const model::Weather& weather, const AheadRequest& request, const AheadAnswer& middle);

}  // namespace leat::answers
