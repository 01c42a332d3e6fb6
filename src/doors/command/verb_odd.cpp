#include <fmt/core.h>

#include "answers/odd.h"
#include "doors/command/files.h"
#include "doors/command/record_file.h"
#include "doors/command/refused.h"
#include "doors/command/round_verbs.h"
#include "record/sensed.h"
#include "tell/odd_text.h"

namespace leat::doors {
namespace {

/// The daily record of --weather, if one was named.
void take_weather(const OddFlags& flags, const model::Loop& loop, answers::OddRequest& request, Problems& problems) {
  if (flags.weather.empty()) return;
  const auto text = read_file(flags.weather, problems);
  if (!text) return;
  request.weather.daily = model::read_daily_record(*text, flags.weather, flags.location, problems);
  model::check_daily_sun(*request.weather.daily, loop.site.place, flags.weather, problems);
}

void check_numbers(const OddFlags& flags, Problems& problems) {
  if (flags.days < 1 || flags.days > 3660)
    problems.add({"--days", 0, 0, "", fmt::format("{} is not between 1 and 3660; write such as 14", flags.days)});
  if (flags.most < 1 || flags.most > 1000)
    problems.add({"--most", 0, 0, "", fmt::format("{} is not between 1 and 1000; write such as 3", flags.most)});
}

}  // namespace

int verb_odd(const OddFlags& flags) {
  Problems problems;
  check_numbers(flags, problems);
  const auto loop = read_loop(flags.loop, problems);
  const auto known = loop ? loop_of_record(flags.loop, flags.now, problems) : std::nullopt;
  answers::OddRequest request;
  if (loop) take_weather(flags, *loop, request, problems);
  if (!problems.empty()) return refused(problems);
  std::string why_not;
  const auto store = open_record(flags.loop, false, why_not);
  const auto entries = store ? record::entries_and_sensed(*store, loop->site.place.clock)
                             : std::variant<std::vector<record::Entry>, record::Trouble>{};
  if (const auto* trouble = std::get_if<record::Trouble>(&entries)) why_not = trouble->said;
  if (!why_not.empty()) return refused("odd", why_not);
  request.now = known->context.now;
  request.days = flags.days;
  request.most = static_cast<std::size_t>(flags.most);
  const answers::OddAnswer answer = answers::odd(*loop, std::get<std::vector<record::Entry>>(entries), request);
  fmt::print(
      "{}", flags.json ? tell::odd_json(answer, flags.all) : tell::odd_text(answer, loop->site.place.clock, flags.all));
  return 0;
}

}  // namespace leat::doors
