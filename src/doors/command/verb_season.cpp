#include <fmt/core.h>
#include <unistd.h>

#include <algorithm>

#include "answers/season.h"
#include "doors/command/files.h"
#include "doors/command/measured_flag.h"
#include "doors/command/refused.h"
#include "doors/command/verbs.h"
#include "doors/command/weather_flags.h"
#include "tell/tell.h"

namespace leat::doors {

namespace {

/// Without a number as many years as the budget lets, ten at least.
int years_asked(const model::Loop& loop, int days, int said, double budget) {
  return said > 0 ? said : std::max(10, answers::size_of_runs(loop, days, -1, budget).members);
}

}  // namespace

int verb_season(const SeasonFlags& flags) {
  Problems problems;
  const auto out_of = [&](const char* flag, int value, int low, int high, const char* example) {
    if (value < low || value > high)
      problems.add({flag, 0, 0, "", fmt::format("{} is not between {} and {}; write {}", value, low, high, example)});
  };
  out_of("--months", flags.months, 1, 24, "a number of months such as 6");
  if (flags.years != -1) out_of("--years", flags.years, 2, 200, "a number of years such as 10");
  AheadFlags asked = flags.ahead;
  asked.days = std::clamp(flags.months, 1, 24) * 365 / 12;
  const auto loop = read_loop(asked.loop, problems);
  answers::SeasonRequest request;
  if (const auto size = measured(flags.size, "--size", dim::mass, 1e-3, 20.0, "250 g", problems))
    request.size = Mass<>(*size);
  const AskedYears years =
      read_years(asked, problems.empty() ? years_asked(*loop, asked.days, flags.years, request.budget) : 0,
                 loop ? loop->site.place : model::Place{}, problems);
  if (!problems.empty()) return refused(problems);
  request.first = years.first;
  request.days = asked.days;
  request.base_dosed = !flags.no_base;
  request.seed = flags.ahead.seed;
  const answers::SeasonAnswer answer = answers::season(*loop, years.years, request);
  fmt::print("{}", asked.json ? tell::season_json(answer) : tell::season_text(answer, asked.assumptions));
  if (answer.seconds > 2.0 && isatty(STDERR_FILENO))
    fmt::print(stderr, "{} years in {:.0f} s\n", answer.years, answer.seconds);
  return answer.years > 0 ? 0 : 3;
}

}  // namespace leat::doors
