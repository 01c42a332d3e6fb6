// A pump on a timer, 48 switches a day: by mean flows, by whole cycles, and switch by switch. Each run must close its
// books, and whole cycles must agree with the run switch by switch, or it ends with 1. Usage: pump_timer LOOP.toml
// DAILY.csv FIRST_DATE DAYS
#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <ctime>
#include <fstream>
#include <sstream>

#include "answers/running_water.h"
#include "model/equations/cycle_map.h"
#include "model/flow/cycle.h"
#include "model/simulate/simulate.h"

namespace {

using namespace leat;
using namespace leat::model;

std::string slurp(const char* path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream all;
  all << in.rdbuf();
  return all.str();
}

struct Timed {
  Trajectory run;
  double seconds = 1e300;
};

/// The quickest of three.
Timed timed(const Loop& loop, const Equations& equations, Instant from, Instant to, const Pulses* pulses) {
  Timed t;
  RunOptions options;
  options.pulses = pulses;
  for (int i = 0; i < 3; ++i) {
    const std::clock_t start = std::clock();
    t.run = simulate(loop, equations, from, to, options);
    t.seconds = std::min(t.seconds, static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC);
  }
  return t;
}

/// Ammonia of a body on the mean of each day's hours, as a share of the other run's; the worst day.
double worst(const Layout& layout, std::size_t body, const Trajectory& a, const Trajectory& b) {
  const auto day_mean = [&](const Trajectory& run, std::size_t day) {
    double sum = 0.0;
    for (std::size_t h = 24 * day; h < 24 * (day + 1); ++h)
      sum += run.states[h][static_cast<std::size_t>(layout.bodies[body].ammonia())] /
             run.states[h][static_cast<std::size_t>(layout.bodies[body].water)];
    return sum / 24.0;
  };
  double most = 0.0;
  for (std::size_t day = 1; day < b.days.size(); ++day)
    most = std::max(most, std::abs(day_mean(a, day) / day_mean(b, day) - 1.0));
  return most;
}

bool closed(const Timed& t) {
  return t.run.finished && std::all_of(t.run.books.closure.begin(), t.run.books.closure.end(),
                                       [](double off) { return std::abs(off) < 1e-9; });
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 5) {
    fmt::print(stderr, "usage: pump_timer LOOP.toml DAILY.csv FIRST_DATE DAYS\n");
    return 2;
  }
  Problems problems;
  const Loop loop = make_loop(read_description(slurp(argv[1]), argv[1], problems), problems);
  WeatherSources sources;
  sources.daily = read_daily_record(slurp(argv[2]), argv[2], "", problems);
  const auto date = read_date(argv[3]);
  const int days = std::atoi(argv[4]);
  if (!problems.empty() || !std::holds_alternative<CivilDate>(date) || days < 2) {
    fmt::print(stderr, "{}", problems.text());
    return 2;
  }
  const CivilDate first = std::get<CivilDate>(date);
  const Plumbing plumbing(loop);
  const Cycle cycle = find_cycle(plumbing, water_at_rest(loop));
  const Settled running = mean_water(loop, cycle);
  const Pulses pulses = pulses_of(plumbing, cycle);
  const Forcing forcing(loop.site, assemble_weather(loop.site.place, sources, first, days));
  const Instant from = loop.site.place.clock.instant({first, 0.0}),
                to = loop.site.place.clock.instant({first.plus_days(days), 0.0});
  const Equations plain(loop, plumbing, running, forcing),
      cycles(loop, plumbing, running, forcing, pulses, Pulsed::by_cycles),
      resolved(loop, plumbing, running, forcing, pulses, Pulsed::resolved);
  const Timed m = timed(loop, plain, from, to, nullptr), c = timed(loop, cycles, from, to, &pulses),
              r = timed(loop, resolved, from, to, &pulses);
  if (!closed(m) || !closed(c) || !closed(r)) {
    fmt::print(stderr, "a run did not end, or its books are open\n");
    return 1;
  }
  fmt::print("{} states, {} days, {} stretches in a cycle of {:.0f} min\n\n", plain.layout().size(), days,
             pulses.stretches.size(), pulses.period / 60.0);
  fmt::print("| way | ms | steps | oxygen at its lowest in {}, last day, mg/L |\n|---|---|---|---|\n",
             loop.vessels[0].path);
  const auto row = [&](const char* way, const Timed& t) {
    fmt::print("| {} | {:.0f} | {} | {:.2f} |\n", way, 1e3 * t.seconds, t.run.counts.steps,
               32.0 * t.run.days.back().bodies[0].oxygen.low);
  };
  row("mean flows", m);
  row("whole cycles", c);
  row("switch by switch", r);
  fmt::print(
      "\nTime switch by switch over whole cycles: {:.1f}. Ammonia of the worst day, whole cycles beside mean flows: "
      "{:.1f} % apart.\n",
      r.seconds / c.seconds, 100.0 * worst(plain.layout(), 0, m.run, c.run));
  // Body 0 is the first tank in the loops that this is meant for.
  const double oxygen = c.run.days.back().bodies[0].oxygen.low / r.run.days.back().bodies[0].oxygen.low;
  return std::abs(oxygen - 1.0) < 0.02 ? 0 : 1;
}
