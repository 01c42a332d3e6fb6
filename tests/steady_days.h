// A run of a loop through the same day over and over, its books checked at the end.
#pragma once

#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "model/simulate/simulate.h"

namespace leat::tests {

struct SteadyDays {
  struct Day {
    double low, high;  ///< °C
    model::Sky sky = model::Sky::clear;
  };

  model::Loop loop;
  int days;
  model::Weather weather;
  model::Plumbing plumbing{loop};
  model::Settled running = model::settle(loop, plumbing, model::levels_at_rest(loop), model::Setting{});
  model::Forcing forcing{loop.site, weather};
  model::Equations equations{loop, plumbing, running, forcing};
  model::Trajectory run;

  SteadyDays(const std::string& text, int days_run, const Day& day, CivilDate first = {2015, 5, 8})
      : loop(model::with_fish_to_come(loop_of(text))), days(days_run), weather(same_days(loop.site.place, first, days_run, day)) {
    const Instant from = forcing.start();
    run = model::simulate(loop, equations, from, {from.seconds + days * 86400.0});
    EXPECT_TRUE(run.finished) << run.said;
    for (const model::Ledger ledger : model::kLedgers)
      EXPECT_LT(std::abs(run.books.closure[static_cast<std::size_t>(ledger)]), 1e-9) << ledger_name(ledger);
  }
  SteadyDays(const SteadyDays&) = delete;

  const model::Layout& layout() const { return equations.layout(); }
  std::size_t hour(double at_day) const { return static_cast<std::size_t>(std::lround(24.0 * at_day)); }
  double held(double at_day, int slot) const { return run.states[hour(at_day)][static_cast<std::size_t>(slot)]; }
  model::BodyState<double> body(double at_day, std::size_t v = 0) const {
    return equations.body(v, run.states[hour(at_day)], run.pH[hour(at_day)][v]);
  }
  /// Gone into an account of the outside between two days.
  double into(int account, double from, double to) const { return held(to, account) - held(from, account); }
  Temperature<> mean_temperature(double from, double to) const {
    double sum = 0.0;
    for (std::size_t h = hour(from); h < hour(to); ++h)
      sum += equations.body(0, run.states[h], run.pH[h][0]).temperature.celsius();
    return Temperature<>::from_celsius(sum / static_cast<double>(hour(to) - hour(from)));
  }

  static model::Loop loop_of(const std::string& text) {
    Problems problems;
    model::Loop made = model::make_loop(
        model::read_description("[place]\nlatitude = 47.45\nlongitude = -122.3\n" + text, "loop.toml", problems),
        problems);
    EXPECT_TRUE(problems.empty()) << problems.text();
    return made;
  }
  static model::Weather same_days(const model::Place& place, CivilDate first, int days, const Day& day) {
    model::WeatherSources sources;
    sources.daily = model::DailyRecord{};
    for (int d = 0; d < days; ++d) {
      model::WeatherDay w;
      w.date = first.plus_days(d);
      w.low = Temperature<>::from_celsius(day.low);
      w.high = Temperature<>::from_celsius(day.high);
      w.wind = Velocity<>(2.0);
      w.sky = day.sky;
      w.rain = Length<>(0.0);
      sources.daily->days.push_back(w);
    }
    return model::assemble_weather(place, sources, first, days);
  }
};

}  // namespace leat::tests
