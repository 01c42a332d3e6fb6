#include <fmt/core.h>

#include "answers/carry.h"
#include "doors/command/files.h"
#include "doors/command/verbs.h"
#include "doors/command/weather_flags.h"
#include "tell/tell.h"

namespace leat::doors {

int verb_carry(AheadFlags flags) {
  Problems problems;
  flags.days = 52 * 7;
  const auto loop = read_loop(flags.loop, problems);
  const auto asked = read_weather(flags, loop ? loop->site.place : model::Place{}, problems);
  if (!problems.empty()) {
    fmt::print(stderr, "{}", problems.text());
    return 2;
  }
  fmt::print("{}", tell::carry_text(answers::carry(*loop, asked.weather, asked.first)));
  return 0;
}

}  // namespace leat::doors
