// How long fish have in a tank without flow, and what buys them time.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "model/loop/loop.h"

namespace leat::answers {

/// What is known of one tank at the moment the flow stopped. What is not said is taken and listed.
struct DrawdownInput {
  Volume<> water;  ///< that stays with the fish
  Area<> open_surface;
  std::optional<Temperature<>> temperature{};
  std::optional<Density<>> oxygen{};
  Velocity<> transfer{0.03 / 3600.0};  ///< K_L of a still surface, in oxygen
  Flow<> air_exchange{};               ///< of air lines that run on, as a flow of water brought to saturation
  Power<> battery_air{8.0};            ///< of a small battery kit
  std::optional<Energy<>> battery{};
  Volume<> comes_back{};       ///< to the sump, once the pumps stand
  bool vent_in_doubt = false;  ///< an overflow that may siphon
};

/// Time to two levels in one state of the fish, from the failure, with the ends of its band.
struct TimeLeft {
  std::string state;    ///< "fed", "usual", "fasted", "frightened"
  double factor = 1.0;  ///< times Liao's uptake
  Duration<> to_five, to_five_soonest, to_five_latest;
  Duration<> to_three, to_three_soonest, to_three_latest;
};

struct Action {
  std::string what;     ///< "give no feed"
  std::string why;      ///< what it buys, with its number
  std::string caution;  ///< or ""
};

struct Drawdown {
  std::string tank;
  Temperature<> temperature;
  Density<> oxygen, saturation;
  MassRate<> demand;             ///< all fish, at Liao's factor 1
  std::vector<TimeLeft> states;  ///< the earliest end first
  std::vector<Action> actions;   ///< what buys most first
  std::vector<std::string> assumed;
  bool has_fish = true;
};

/// How wide the band is: demand by this factor either way, surface by that.
inline constexpr double kDemandBand = 1.3, kSurfaceBand = 2.0;

Drawdown draw_down(const model::Loop& loop, std::size_t tank, const DrawdownInput& input);

}  // namespace leat::answers
