// How long the two answers take on an example: states, steps, wall time. Checks its own answer: the books must close.
// Usage: fourteen_days LOOP.toml DAILY.csv FIRST_DATE
#include <fmt/core.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <fstream>
#include <sstream>

#include "answers/ahead.h"
#include "answers/check.h"

namespace {

using namespace leat;

std::string slurp(const char* path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream all;
  all << in.rdbuf();
  return all.str();
}

/// Median wall time in milliseconds of a few repeats.
template <class F>
double median_ms(int repeats, F&& work) {
  std::vector<double> times;
  for (int i = 0; i < repeats; ++i) {
    const auto start = std::chrono::steady_clock::now();
    work();
    times.push_back(std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count());
  }
  std::sort(times.begin(), times.end());
  return times[times.size() / 2];
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 4) {
    fmt::print(stderr, "usage: fourteen_days LOOP.toml DAILY.csv FIRST_DATE\n");
    return 2;
  }
  Problems problems;
  const std::string text = slurp(argv[1]);
  const model::Loop loop = model::make_loop(model::read_description(text, argv[1], problems), problems);
  model::WeatherSources sources;
  sources.daily = model::read_daily_record(slurp(argv[2]), argv[2], "", problems);
  const auto date = read_date(argv[3]);
  if (!problems.empty() || !std::holds_alternative<CivilDate>(date)) {
    fmt::print(stderr, "{}", problems.text());
    return 2;
  }
  const CivilDate first = std::get<CivilDate>(date);

  const double reading = median_ms(9, [&] {
    Problems none;
    (void)model::make_loop(model::read_description(text, argv[1], none), none);
  });
  const double checking = median_ms(9, [&] { (void)answers::check(loop); });
  const double weather_ms = median_ms(5, [&] { (void)model::assemble_weather(loop.site.place, sources, first, 14); });
  const model::Weather weather = model::assemble_weather(loop.site.place, sources, first, 14);
  answers::AheadAnswer answer;
  const double running = median_ms(7, [&] { answer = answers::ahead(loop, weather, {first, 14}); });
  for (const auto& table : answer.books)
    if (!answer.finished || std::abs(table.closure) > 1e-9) {
      fmt::print(stderr, "the books of {} do not close: {:g}\n", model::ledger_name(table.ledger), table.closure);
      return 1;
    }
  fmt::print("| what | value |\n|---|---|\n");
  fmt::print("| states | {} |\n| steps in 14 days | {} |\n| rates | {} |\n| Jacobians | {} |\n", answer.states,
             answer.counts.steps, answer.counts.rates, answer.counts.jacobians);
  fmt::print(
      "| read the description | {:.2f} ms |\n| check | {:.2f} ms |\n| assemble the weather | {:.2f} ms |\n| ahead, 14 "
      "days | {:.0f} ms |\n",
      reading, checking, weather_ms, running);
  return 0;
}
