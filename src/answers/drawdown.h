// How long fish have in a tank without flow, and what buys them time.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "answers/drawn.h"
#include "model/loop/loop.h"

namespace leat::answers {

/// What fish do, from those who take most to those who take least.
enum class FishState { frightened, fed, usual, fasted };
std::string_view state_name(FishState state);

/// What is known of one tank at the moment the flow stopped. What is not said is taken and listed.
struct DrawdownInput {
  Volume<> water;  ///< that stays with the fish
  Area<> open_surface;
  std::optional<Temperature<>> temperature{};
  std::optional<Density<>> oxygen{};
  Number<> salinity{0.0};              ///< kg/kg
  Velocity<> transfer{0.03 / 3600.0};  ///< K_L of a still surface, in oxygen
  Flow<> air_exchange{};               ///< of air lines that run on, as a flow of water brought to saturation
  Duration<> since{};                  ///< how long ago it failed
  bool since_known = true;  ///< false: it may have failed at any time after all was last seen well, `since` ago
  std::optional<Duration<>> fed_ago{};
  std::optional<FishState> state{};  ///< in place of what `fed_ago` tells
  BesideLoop beside{};               ///< middle values but in draws
  Duration<> span{4.0 * 3600.0};     ///< over which the chance of a level is told
  // help at hand
  Power<> battery_air{8.0};  ///< of a small battery kit
  std::optional<Energy<>> battery{};
  Frequency<> buckets{20.0 / 3600.0};
  Volume<> bucket{0.010};
  std::optional<Density<>> bucket_oxygen{};
  Volume<> elsewhere{};  ///< in raft beds and sumps, for buckets; 0: not known
  // what the water does
  Volume<> comes_back{};                ///< to the sump, once the pumps stand
  std::optional<Volume<>> sump_room{};  ///< up to its brim, before that
  bool vent_in_doubt = false;           ///< an overflow that may siphon
  bool alone = false;                   ///< there is no other vessel to carry water from
  bool siphons = true;                  ///< there are some, which lose their prime
};

/// A time with the ends of its band. Infinite: never.
struct TimeBand {
  Duration<> soonest, likely, latest;
};

/// The two levels that are counted down to, and the one over which to feed again. Trout: 5, 3 and 7 mg/L.
struct OxygenLevels {
  Density<> low, danger, feed_again;
  std::string source{};
};

/// Time left in one state of the fish.
struct TimeLeft {
  FishState state = FishState::usual;
  double factor = 1.0;                 ///< times the uptake of its law
  TimeBand to_low, to_danger;          ///< from the failure
  TimeBand to_low_now, to_danger_now;  ///< from now; 0: it is past
  Density<> oxygen_now;
  std::optional<Density<>> rests_at;  ///< if it does not run out: where the surface gives what they take
};

/// One state of the fish over all draws, from now; infinite: never.
struct StateSure {
  FishState state = FishState::usual;
  Spread to_low, to_danger;                      ///< s
  double chance_low = 0.0, chance_danger = 0.0;  ///< of falling to it within the span
  double chance_low_ever = 0.0, chance_danger_ever = 0.0;
};

/// One tank over all draws.
struct DrawdownSure {
  Duration<> span{};
  std::vector<StateSure> states;  ///< as `Drawdown::states`
  std::vector<OwedMost> owed;     ///< times of the likely state
  HowDrawn how;
};

struct Action {
  std::string what;       ///< "give no feed"
  std::string why;        ///< what it buys, with its number
  std::string caution{};  ///< or ""
  /// Time to danger from now with it, likely state, from poor to good; none where it is not time that it buys.
  std::optional<Duration<>> lasts_at_least{}, lasts_at_most{};
  std::optional<double> share_low{}, share_high{};  ///< of what the fish take in the likely state
};

struct Drawdown {
  std::string tank;
  bool has_fish = true, has_water = true;
  Temperature<> temperature;
  Density<> oxygen, saturation;
  MassRate<> demand;           ///< all fish, at factor 1
  double demand_spread = 1.0;  ///< factor either way
  OxygenLevels levels;
  FishState likely = FishState::fed;
  Duration<> since{};
  bool since_known = true;
  std::vector<TimeLeft> states;  ///< the earliest end first
  std::string verdict;           ///< the earliest end first, in a sentence or two
  std::string band;              ///< how the band was made, with the source of each width
  std::vector<Action> actions;   ///< in the order in which to do them
  std::vector<std::string> assumed;
  std::optional<DrawdownSure> sure;  ///< when draws were asked for: then `soonest` and `latest` are 5 and 95 % of them

  /// Of the likely state; nullptr without fish or water.
  const TimeLeft* likely_left() const;
};

/// How far the exchange of a still surface may lie from its middle, as a factor either way (common practice; Cole &
/// Caraco 1998 has 0.02 m/h in a calm, within it).
inline constexpr double kSurfaceSpread = 2.0;

Drawdown draw_down(const model::Loop& loop, std::size_t tank, const DrawdownInput& input);

/// What is known of a tank in a loop that may be a member of an ensemble.
using InputOf = std::function<DrawdownInput(const model::Loop&)>;

/// The same with everything drawn anew that nobody knows (about 20 microseconds a draw; 1000 unless asked otherwise),
/// so that the ends of each time are 5 and 95 %. None asked for: as `draw_down`.
Drawdown draw_down_surely(const model::Loop& loop, std::size_t tank, const InputOf& input, const Draws& draws);

/// "40 min", "1.8 h", "over a day", "never"
std::string time_words(Duration<> time);

/// What the fish of a vessel take at factor 1, each species by its own law where the table has one.
struct FishDemand {
  MassRate<> rate;
  double spread = 1.0;
  std::vector<std::string> assumed;
};
FishDemand fish_demand(const model::Loop& loop, std::size_t vessel, Temperature<> water);

}  // namespace leat::answers
