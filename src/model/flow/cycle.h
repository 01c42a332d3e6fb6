// What repeats: the settled cycle of timers, siphons and sequencing valves, and what it carries on the mean.
#pragma once

#include <string>
#include <vector>

#include "model/flow/paths.h"
#include "model/flow/water_run.h"

namespace leat::model {

/// A vessel over one settled cycle.
struct VesselCycle {
  Length<> low, high;
  Volume<> mean_water;
  Volume<> water_at_start;
  double wet_share = 1.0;  ///< of the time above the middle between its lowest and highest mark
  Flow<> through;          ///< mean flow into it
  Frequency<> turnover;    ///< through / mean_water
};

struct Cycle {
  enum class Kind {
    steady,    ///< nothing switches: levels that stay
    periodic,  ///< the same again after `period`
    mean,      ///< no common period: the mean over `period`, long enough for its shares to stand still
    none,      ///< it did not come to rest; `said` tells why
  } kind = Kind::none;
  std::string said;
  Duration<> period{};
  WaterState start;  ///< at the beginning of the cycle
  std::vector<VesselCycle> vessels;
  Flows mean;                        ///< of every passage
  Flows most;                        ///< the largest of every passage
  Flows least;                       ///< the least of every passage while it carries water at all; else 0
  std::vector<FlowPath> paths;       ///< mean flow from vessel to vessel
  std::vector<double> running;       ///< share of the time that each pump runs
  std::vector<WaterEvent> events;    ///< of one cycle
  std::vector<std::string> hunting;  ///< whose mean was taken, because they switched too often
};

/// Whether a loop has anything that switches while all is well: timers, floats, siphons, sequencing valves.
bool anything_switches(const Loop& loop);

/// A settled cycle as water that stands still: mean volumes, mean flows. For what is slower than about ten cycles.
Settled mean_water(const Loop& loop, const Cycle& cycle);

/// Runs the water from rest until it repeats.
Cycle find_cycle(const Plumbing& plumbing, const WaterState& start);

/// How a dissolved thing is carried by one cycle: after it, the concentrations are transport * concentrations. Row by
/// row; each row adds to 1, and the masses with the volumes at the start of the cycle are kept.
struct Transport {
  std::size_t vessels = 0;
  std::vector<double> entries;  ///< (to, from) at to * vessels + from
  std::vector<Volume<>> volumes;

  double operator()(std::size_t to, std::size_t from) const { return entries[to * vessels + from]; }
};

/// Each vessel fully mixed. Needs a cycle with a period.
Transport transport_over(const Plumbing& plumbing, const Cycle& cycle);

/// The vessel-to-vessel flows of a settled cycle as a matrix per volume, and what it makes of concentrations after a
/// time: the averaged water, cheap and blurred.
std::vector<double> averaged_concentrations(const Cycle& cycle, std::vector<double> concentrations, Duration<> after);

/// The largest flow that its pipes bring to a bed, with the mean of all else.
Flow<> inflow_while_fed(const Plumbing& plumbing, const Cycle& cycle, int bed);

/// Why the mean flows must not stand for the cycle, or "".
std::string why_not_averaged(const Loop& loop, const Plumbing& plumbing, const Cycle& cycle);

}  // namespace leat::model
