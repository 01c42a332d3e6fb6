// What happens to the water when one thing fails.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "model/flow/cycle.h"

namespace leat::model {

struct Fault {
  enum class Kind {
    power,             ///< every pump stops
    power_and_valves,  ///< every pump stops, and no check valve holds
    pump,              ///< one pump stops
    blocked,           ///< one way out of a vessel lets nothing through
    half_blocked,      ///< one overflow lets through what half its openings would
    check_valve,       ///< one check valve leaks when the power fails
    valve_stuck,       ///< a sequencing valve stays on one outlet
    top_up_open,       ///< a float valve does not shut
    blocked_and_open,  ///< one way out blocked while the float valve runs
    burst,             ///< a pipe is open at its lowest point
  } kind = Kind::power;
  std::string path;  ///< the part that fails; "power" for all
  int outlet = 0;    ///< of a stuck valve
};

/// Every fault of these kinds that this loop can have.
std::vector<Fault> possible_faults(const Loop& loop);

/// A loop with a fault in it. `ground` is a vessel added for what a burst loses, or -1.
struct FaultyLoop {
  Loop loop;
  int ground = -1;
};
FaultyLoop with_fault(const Loop& loop, const Fault& fault);

/// One fault, followed from a running loop until the water has come to rest or the time is up.
struct FaultRun {
  Fault fault;
  bool finished = false;
  std::string said;
  Duration<> span{};
  std::vector<Length<>> before, after;  ///< levels of the described vessels
  std::vector<LevelMarks> marks;
  std::vector<WaterEvent> events;
  std::vector<Volume<>> spilled;  ///< over each brim
  Volume<> burst{};               ///< out of the burst
  Volume<> topped_up{};
  int first_spill = -1;                    ///< vessel
  std::optional<Duration<>> spills_after;  ///< when the first brim spills
  std::optional<Duration<>> dry_after;     ///< when the first pump runs dry
  std::string dry_pump;
  std::vector<std::optional<Duration<>>> fed_until;  ///< when the flow into each vessel stopped; none: still fed
  Volume<> missing{};                                ///< rounding of the books

  Volume<> lost() const;
};

/// `before` is a state of the running loop, such as the start of its cycle. Power, if it returns, does so after
/// `returns`, and fails again after `fails_again`.
struct FaultTimes {
  Duration<> span = Duration<>(4.0 * 3600.0);
  std::optional<Duration<>> returns{}, fails_again{};
};
FaultRun run_fault(const Loop& loop, const Fault& fault, const WaterState& before, const FaultTimes& times = {});

/// States of a settled cycle at which a failure hurts in different ways: every vessel at its fullest, every vessel at
/// its emptiest, and the start.
std::vector<WaterState> hurting_states(const Plumbing& plumbing, const Cycle& cycle);

}  // namespace leat::model
