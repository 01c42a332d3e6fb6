// A still tank with everything drawn anew that nobody knows.
#include <fmt/core.h>

#include <algorithm>
#include <limits>

#include "answers/drawdown_tank.h"
#include "answers/priors.h"

namespace leat::answers {
namespace {

using namespace model;

/// Times from the failure of one state in every draw, in seconds.
struct StateTimes {
  std::vector<double> to_low, to_danger;
};

/// What an input says stands in the loop, so that it is not drawn.
Loop as_said(const Loop& loop, const DrawdownInput& input) {
  Loop known = loop;
  if (!input.temperature) return known;
  known.water.temperature = *input.temperature;
  known.water.temperature_said = true;
  return known;
}

std::vector<StateTimes> times_of_draws(const Loop& known, std::size_t tank, const InputOf& input,
                                       const std::vector<Prior>& priors, const std::vector<std::vector<double>>& draws,
                                       std::size_t states) {
  std::vector<StateTimes> all(states);
  Weather none;
  for (const auto& row : draws) {
    Loop member = known;
    apply_draws(priors, row, member, none);
    DrawdownInput in = input(member);
    in.beside = beside_of(priors, row);
    if (in.temperature) in.temperature = member.water.temperature;
    const Drawdown d = times_left(member, tank, in);
    for (std::size_t s = 0; s < states; ++s) {
      all[s].to_low.push_back(d.states[s].to_low.likely.si());
      all[s].to_danger.push_back(d.states[s].to_danger.likely.si());
    }
  }
  return all;
}

double share_within(const std::vector<double>& times, double span) {
  double some = 0.0;
  for (const double t : times) some += t <= span;
  return some / static_cast<double>(times.size());
}

/// Sets the ends of both bands; returns the times from now. When nobody knows when it failed, the late end counts from
/// now, as the verdict has it.
Spread take_ends(const std::vector<double>& times, const Drawdown& d, TimeBand& now, TimeBand& from_failure) {
  const Spread all = spread_of(times);
  const double since = d.since.si();
  const auto left = [&](double t) { return std::max(0.0, t - since); };
  const Spread from_now{left(all.low), left(all.middle), d.since_known ? left(all.high) : all.high};
  from_failure.soonest = Duration<>(all.low);
  from_failure.latest = Duration<>(all.high);
  now.soonest = Duration<>(from_now.low);
  now.latest = Duration<>(from_now.high);
  return from_now;
}

void add_owed(const std::vector<Prior>& priors, const std::vector<std::vector<double>>& draws, const StateTimes& times,
              const Drawdown& d, std::uint64_t seed, DrawdownSure& sure) {
  const auto add = [&](Density<> level, const std::vector<double>& values) {
    sure.owed.push_back({fmt::format("time to {} mg/L", mg_words(level)), "duration", spread_of(values),
                         owed_most(priors, draws, values, seed)});
  };
  add(d.levels.low, times.to_low);
  add(d.levels.danger, times.to_danger);
}

EnsembleSize size_of_draws(int asked) {
  constexpr double kOne = 20e-6, kBudget = 0.5;
  const int members = asked < 0 ? 1000 : asked;
  return {members, kOne * members, kBudget};
}

}  // namespace

Drawdown draw_down_surely(const Loop& loop, std::size_t tank, const InputOf& input, const Draws& wanted) {
  const DrawdownInput middle = input(loop);
  Drawdown d = times_left(loop, tank, middle);
  const EnsembleSize size = size_of_draws(wanted.asked);
  if (!d.states.empty() && size.members > 0) {
    const Loop known = as_said(loop, middle);
    const std::vector<Prior> priors = priors_of(known, Weather{}, asked::still_tank);
    const auto draws = draws_of_priors(static_cast<std::size_t>(size.members), wanted.seed);
    const auto times = times_of_draws(known, tank, input, priors, draws, d.states.size());
    DrawdownSure sure{middle.span, {}, {}, how_drawn(priors, size.members, 0, wanted.seed, size)};
    const double end = (middle.since + middle.span).si(), ever = std::numeric_limits<double>::max();
    for (std::size_t s = 0; s < d.states.size(); ++s) {
      TimeLeft& t = d.states[s];
      const StateTimes& of = times[s];
      sure.states.push_back({t.state, take_ends(of.to_low, d, t.to_low_now, t.to_low),
                             take_ends(of.to_danger, d, t.to_danger_now, t.to_danger), share_within(of.to_low, end),
                             share_within(of.to_danger, end), share_within(of.to_low, ever),
                             share_within(of.to_danger, ever)});
      if (t.state == d.likely) add_owed(priors, draws, of, d, wanted.seed, sure);
    }
    d.sure = std::move(sure);
  }
  tell_in_words(loop, tank, middle, d);
  return d;
}

}  // namespace leat::answers
