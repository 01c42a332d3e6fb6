#include <fmt/core.h>

#include <algorithm>

#include "answers/carry.h"
#include "doors/command/files.h"
#include "doors/command/refused.h"
#include "doors/command/verbs.h"
#include "doors/command/weather_flags.h"
#include "tell/tell.h"

namespace leat::doors {

int verb_carry(AheadFlags flags) {
  Problems problems;
  flags.days = 52 * 7;
  const auto loop = read_loop(flags.loop, problems);
  check_members(flags.members, problems);
  const int members = loop && problems.empty() ? answers::size_of_carry(*loop, flags.members).members : 0;
  auto asked = read_years(flags, std::max(1, members), loop ? loop->site.place : model::Place{}, problems);
  if (!problems.empty()) return refused(problems);
  const model::Weather middle = asked.years.front();
  if (members == 0) asked.years.clear();
  const answers::CarryAnswer answer = answers::carry(*loop, middle, asked.first, {std::move(asked.years), flags.seed});
  fmt::print("{}", flags.json ? tell::carry_json(answer) : tell::carry_text(answer, flags.assumptions));
  return 0;
}

}  // namespace leat::doors
