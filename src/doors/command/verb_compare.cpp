#include <fmt/core.h>

#include <algorithm>

#include "answers/bands.h"
#include "answers/compare.h"
#include "doors/command/files.h"
#include "doors/command/refused.h"
#include "doors/command/verbs.h"
#include "doors/command/weather_flags.h"
#include "tell/tell.h"

namespace leat::doors {

int verb_compare(const AheadFlags& flags, const std::string& plan_path) {
  Problems problems;
  const auto now_text = read_file(flags.loop, problems), plan_text = read_file(plan_path, problems);
  if (!now_text || !plan_text) return refused(problems);
  const model::Description now = model::read_description(*now_text, flags.loop, problems);
  const model::Description plan = model::read_plan(now, *plan_text, plan_path, problems);
  const model::Loop now_loop = model::make_loop(now, problems);
  // What is wrong with today's loop is told once, not again of the plan made of it.
  const bool now_is_sound = problems.empty();
  const model::Loop plan_loop = now_is_sound ? model::make_loop(plan, problems) : now_loop;
  check_members(flags.members, problems);
  const AskedWeather asked = read_weather(flags, now_loop.site.place, problems);
  if (!problems.empty()) return refused(problems);
  answers::AheadRequest request{asked.first, flags.days};
  request.seed = flags.seed;
  request.budget = 1.0;  // both sides are run, and seldom for one number alone
  request.members = answers::size_of_runs(plan_loop, flags.days, flags.members, 0.5 * request.budget).members;
  const answers::CompareAnswer answer = answers::compare({now, now_loop}, {plan, plan_loop}, asked.weather, request);
  fmt::print("{}", flags.json ? tell::compare_json(answer) : tell::compare_text(answer));
  return answer.whole ? 0 : 3;
}

}  // namespace leat::doors
