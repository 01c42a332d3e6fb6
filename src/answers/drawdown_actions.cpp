#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "answers/drawdown_tank.h"
#include "science/fish/oxygen_drawdown.h"

namespace leat::answers {
namespace {

using science::Exchange;

const Duration<> kNoEnd(std::numeric_limits<double>::infinity());

double grams_an_hour(MassRate<> rate) {
  return rate.si() * 3.6e6;
}

/// What the actions are weighed against: the likely state, from now.
struct Helped {
  const StillTank& tank;
  const Drawdown& d;
  const TimeLeft& likely;
  MassRate<> need;  ///< in the likely state

  Duration<> lasts(const Exchange& help, Duration<> ends = kNoEnd) const {
    return tank.to_with_help(d.levels.danger, likely.oxygen_now, likely.factor, help, ends);
  }
  Duration<> alone() const { return tank.to(d.levels.danger, likely.oxygen_now, likely.factor, tank.surface); }
  double share(const Exchange& help) const { return (help.gives(d.levels.low) / need).si(); }
  const TimeBand& of(FishState state) const {
    return std::find_if(d.states.begin(), d.states.end(), [&](const TimeLeft& t) { return t.state == state; })
        ->to_danger_now;
  }
};

/// "3 mg/L then comes in 2.1 to 4 h, not 1.8 h"
std::string then_comes(const Helped& h, Duration<> least, Duration<> most) {
  const std::string level = mg_words(h.d.levels.danger) + " mg/L";
  if (!std::isfinite(h.alone().si())) return level + " is not likely to come without it either";
  if (h.alone().si() <= 0.0) return "it is the way back over " + level;
  if (!std::isfinite(least.si())) return fmt::format("{} then does not come, else in {}", level, time_words(h.alone()));
  const std::string from = time_words(least), up_to = time_words(most);
  return fmt::format("{} then comes in {}, not {}", level,
                     from == up_to              ? from
                     : std::isfinite(most.si()) ? from + " to " + up_to
                                                : from + " at the earliest or not at all",
                     time_words(h.alone()));
}

/// "have 1.4 h to 3 mg/L"
std::string have(const Helped& h, FishState state) {
  const std::string level = mg_words(h.d.levels.danger) + " mg/L";
  const TimeBand& t = h.of(state);
  if (t.likely.si() <= 0.0) return "have no time left to " + level;
  if (std::isfinite(t.likely.si())) return fmt::format("have {} to {}", time_words(t.likely), level);
  if (!std::isfinite(t.soonest.si())) return "do not bring it to " + level;
  return fmt::format("likely do not bring it to {}, at worst in {}", level, time_words(t.soonest));
}

void add_what_to_leave(const Helped& h, std::vector<Action>& actions) {
  const std::string fed = have(h, FishState::fed), fasted = have(h, FishState::fasted);
  actions.push_back({"give no feed", fed == fasted ? "fed or fasted, they " + fed
                                                   : fmt::format("fed fish {}, fasted ones {}", fed, fasted)});
  actions.push_back({"keep hands and nets out", fmt::format("frightened fish {}", have(h, FishState::frightened))});
}

Action air_by_battery(const Helped& h, const DrawdownInput& input) {
  const auto kit = [&](science::AerationEfficiency<> rated) {
    return science::exchange_of_air_pump(input.battery_air, rated, h.d.temperature, h.tank.saturation);
  };
  const Exchange poor = kit(science::air_kit::poor), usual = kit(science::air_kit::usual),
                 fine = kit(science::air_kit::fine_stone);
  const Duration<> ends = input.battery ? *input.battery / input.battery_air : kNoEnd;
  Action a{"air by battery", {}, {}, h.lasts(poor, ends), h.lasts(fine, ends), h.share(poor), h.share(fine)};
  a.why = fmt::format(
      "{:.0f} W through a small kit gives {:.2g} to {:.2g} g of oxygen an hour at {} mg/L, through a fine stone up to "
      "{:.2g}: {:.0f} to {:.0f} % of what {} fish take; {}; {}",
      input.battery_air.si(), grams_an_hour(poor.gives(h.d.levels.low)), grams_an_hour(usual.gives(h.d.levels.low)),
      mg_words(h.d.levels.low), grams_an_hour(fine.gives(h.d.levels.low)), 100.0 * *a.share_low, 100.0 * *a.share_high,
      state_name(h.likely.state), *a.share_low < 1.0 ? "it buys time and may not hold" : "it holds them",
      then_comes(h, *a.lasts_at_least, *a.lasts_at_most));
  if (input.battery) a.why += fmt::format("; the battery lasts {:.0f} h", ends.si() / 3600.0);
  a.caution = "keep battery and inverter above and away from the water; never run a generator indoors, its fumes kill";
  return a;
}

Action buckets(const Helped& h, const DrawdownInput& input) {
  const Density<> brought = input.bucket_oxygen.value_or(0.95 * h.tank.saturation);
  const Exchange carried = science::exchange_of_buckets(input.buckets, input.bucket, brought);
  Action a{
      input.alone ? "buckets of its own water, poured back from a height" : "buckets from the raft bed or the sump",
      {},
      {},
      h.lasts(carried),
      h.lasts(carried),
      h.share(carried),
      h.share(carried)};
  a.caution = "pour slowly from a height, well away from the fish; nothing straight from a tap, it may hold chlorine";
  if (brought <= h.d.levels.low) {
    a.why = fmt::format("their water has {} mg/L itself and brings little; pour it from a height", mg_words(brought));
    return a;
  }
  a.why = fmt::format(
      "{:.0f} of {:.0f} L an hour, at {:.1f} mg/L, bring {:.2g} g an hour: {:.0f} % of what calm fish take, {:.0f} % "
      "of "
      "what {} ones do; {}",
      input.buckets.si() * 3600.0, input.bucket.in(units::litre), 1e3 * brought.si(),
      grams_an_hour(carried.gives(h.d.levels.low)), 100.0 * (carried.gives(h.d.levels.low) / h.d.demand).si(),
      100.0 * *a.share_low, state_name(h.likely.state), then_comes(h, *a.lasts_at_least, *a.lasts_at_most));
  if (input.elsewhere.si() > 0.0 && carried.flow.si() > 0.0)
    a.why += fmt::format("; rafts and sumps hold {:.0f} L, after {} the same water comes round",
                         input.elsewhere.in(units::litre), time_words(input.elsewhere / carried.flow));
  return a;
}

void add_what_the_water_does(const DrawdownInput& input, std::vector<Action>& actions) {
  if (input.comes_back.in(units::litre) >= 1.0) {
    std::string why = fmt::format("{:.0f} L come back to it from beds and rims", input.comes_back.in(units::litre));
    if (input.sump_room) {
      const double over = (input.comes_back - *input.sump_room).in(units::litre);
      why += over > 0.5 ? fmt::format(", {:.0f} L more than it has room for", over)
                        : fmt::format("; it has room for {:.0f} L", input.sump_room->in(units::litre));
    }
    actions.push_back({"stand clear of the sump's brim", why});
  }
  if (input.vent_in_doubt)
    actions.push_back({"look at the vent of the overflow",
                       fmt::format("closed, it siphons the tank down to where it draws: up to {:.0f} L",
                                   input.water.in(units::litre))});
}

}  // namespace

void add_actions(const StillTank& tank, const DrawdownInput& input, Drawdown& d) {
  const TimeLeft& likely = *d.likely_left();
  const Helped h{tank, d, likely, likely.factor * d.demand};
  std::vector<Action> actions;
  add_what_to_leave(h, actions);
  actions.push_back(air_by_battery(h, input));
  actions.push_back(buckets(h, input));
  add_what_the_water_does(input, actions);
  if (d.temperature.celsius() > 16.0)
    actions.push_back({"cool the water only with ice of clean water in a closed bag",
                       "colder water holds more and fish take less", "ice and water from the tap may hold chlorine"});
  actions.push_back({input.siphons ? "when the power is back: one pump first, then watch each siphon"
                                   : "when the power is back: one pump first, then watch the levels",
                     fmt::format("{}give no feed before oxygen is over {} mg/L",
                                 input.siphons ? "they have lost their prime; " : "", mg_words(d.levels.feed_again))});
  d.actions = std::move(actions);
}

}  // namespace leat::answers
