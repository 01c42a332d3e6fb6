// leat outage: power, or one part, fails now: what spills, what runs dry, how long do the fish have?
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "answers/drawdown.h"
#include "answers/emergency_table.h"
#include "model/flow/faults.h"

namespace leat::answers {

struct OutageRequest {
  model::Fault fault{};
  Duration<> since{};       ///< how long ago it failed
  bool since_known = true;  ///< false: counted from when all was last seen well
  Duration<> span = Duration<>(4.0 * 3600.0);
  std::optional<Duration<>> returns{}, fails_again{};
  std::optional<Temperature<>> temperature{};
  std::optional<Density<>> oxygen{};
  std::optional<Duration<>> fed_ago{};
  std::optional<Power<>> battery_air{};
  std::optional<Energy<>> battery{};
  Draws draws{0};  ///< behind the bands of the fish; none: both ends at their worst
};

/// One vessel through the failure.
struct VesselThrough {
  std::string path;
  Length<> before, lowest, highest, after;
  double depth_kept = 1.0;  ///< of what it had
  Volume<> spilled{};
  std::optional<Duration<>> fed_until;  ///< none: water still comes
};

struct OutageAnswer {
  std::string loop_name, fault;  ///< "the power fails"
  bool finished = true;
  std::string said;
  Duration<> span{}, since{};
  bool since_known = true;
  std::vector<VesselThrough> vessels;
  std::string first_spill;  ///< a vessel, or ""
  std::optional<Duration<>> spills_after;
  Volume<> lost{}, burst{}, comes_back{};
  std::optional<Volume<>> sump_room{};  ///< of the sump to which most comes back, up to its rim
  std::string dry_pump;
  std::optional<Duration<>> dry_after;
  std::vector<std::string> events;  ///< in words, in the order of time
  bool has_fish = true;             ///< anywhere in the loop
  std::vector<Drawdown> fish;
  /// After the power is back: what then happens, and what a second failure during refilling does. Power failures only.
  std::vector<std::string> returning, failing_again;
  Volume<> lost_second{};
  std::vector<model::Assumption> assumptions;
};

OutageAnswer outage(const model::Loop& loop, const OutageRequest& request);

/// "the power fails", "overflow.tank is blocked", ...
std::string fault_words(const model::Fault& fault);
/// "power", "pump.main", ...: every way of saying a fault of this loop, for --fails.
std::vector<std::pair<std::string, model::Fault>> named_faults(const model::Loop& loop);

}  // namespace leat::answers
