// Water through time, resolved: levels by an implicit step, everything that switches at its very moment.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "model/flow/plumbing.h"
#include "numerics/integrator.h"

namespace leat::model {

/// How far a sequencing valve is through its turn.
struct ValveMemory {
  bool flowing = false;
  double lifted_for = 0.0;     ///< s with at least the lift flow, in this run of the pump
  bool lifted = false;         ///< in the last run of the pump, long enough
  double stopped_at = -1e300;  ///< clock, s
};

/// Everything that decides what the water does next.
struct WaterState {
  double clock = 0.0;  ///< s since the timers were set
  std::vector<Length<>> levels;
  Setting setting;  ///< switches as they stand
  std::vector<bool> timer_off, float_off;
  std::vector<ValveMemory> valves;
};

enum class WaterChange {
  pump_starts,
  pump_stops,
  pump_runs_dry,
  siphon_primes,
  siphon_breaks,
  overflow_siphons,  ///< one without a vent has filled and draws from its foot
  overflow_breaks,
  valve_turns,
  valve_stays,
  end_draws_air,
  end_drowns,
  spill_begins,
  spill_ends,
  hunts,  ///< it switches so often that from here on its mean is taken
  power_fails,
  power_returns,
};

struct WaterEvent {
  WaterChange what;
  Duration<> at;  ///< since the start of the run
  std::string path;
  int detail = 0;  ///< the outlet a valve has turned to, from 0
};

/// A stretch of time in which nothing switched.
class WaterStep {
 public:
  virtual ~WaterStep() = default;
  Duration<> from{}, to{};
  const Setting* setting = nullptr;
  virtual const std::vector<Length<>>& levels(Duration<> at) const = 0;
  virtual const Flows& flows(Duration<> at) const = 0;
};
using WaterWatch = std::function<numerics::Then(const WaterStep&)>;

struct PowerChange {
  Duration<> at;
  bool on = false;
};

struct WaterPlan {
  Duration<> span{};
  std::vector<PowerChange> power{};  ///< in the order of time
  Velocity<> evaporation{};
  bool outside = true;                             ///< brims spill, floats top up
  double tolerance = 1e-7;                         ///< m of level a step
  std::function<bool(const WaterEvent&)> until{};  ///< ends the run after the first event for which it is true
};

/// Highest and lowest level of a vessel, and when.
struct LevelMarks {
  Length<> low{}, high{};
  Duration<> low_at{}, high_at{};
};

struct WaterRun {
  bool finished = false;
  std::string said;  ///< why not
  Duration<> reached{};
  WaterState end;
  std::vector<WaterEvent> events;
  std::vector<LevelMarks> marks;
  std::vector<Volume<>> spilled;    ///< over each vessel's brim
  std::vector<Volume<>> into_held;  ///< what each vessel of held level took and passed on outside the books
  Volume<> topped_up{}, evaporated{};
  Volume<> missing{};  ///< start - end - what left + what came: rounding
  long steps = 0;
};

/// The state before anything has happened: levels at rest, nothing primed, timers at their start.
WaterState water_at_rest(const Loop& loop);
/// The same switches with other levels.
WaterState water_at(const Loop& loop, std::vector<Length<>> levels);

/// Follows the water for a time. `watch` sees every stretch, and may end the run.
WaterRun run_water(const Plumbing& plumbing, WaterState start, const WaterPlan& plan, const WaterWatch& watch = {});

/// The water of all vessels that are not held.
Volume<> water_in(const Loop& loop, const std::vector<Length<>>& levels);

}  // namespace leat::model
