#include <fmt/core.h>

#include "answers/bands.h"
#include "doors/command/files.h"
#include "doors/command/from_record.h"
#include "doors/command/refused.h"
#include "doors/command/verbs.h"
#include "doors/command/weather_flags.h"
#include "learn/recorded_weather.h"
#include "record/when.h"
#include "tell/tell.h"

namespace leat::doors {
namespace {

struct Asked {
  FromRecord from;
  model::Weather weather;
  answers::AheadRequest request;
};

/// The moment up to which the record tells where a run starts that begins on a day: the end of that day, or now.
std::optional<record::Moment> seen_by(const model::Loop& loop, const CivilDate& first) {
  return record::moment_of(loop.site.place.clock, first.plus_days(1), 0.0);
}

/// The loop as the record saw it when the run starts, under the weather and with the feed that the record has since.
Asked with_record(const AheadFlags& flags, const model::Loop& loop, Problems& problems) {
  const AskedWeather days = read_weather(flags, loop.site.place, problems);
  Asked asked{{}, days.weather, {days.first, flags.days}};
  FromFlags from = flags.from;
  if (from.now.empty() && !flags.today.empty()) from.now = flags.today + " 23:59";
  asked.from = from_record(flags.loop, loop, from, seen_by(loop, days.first), problems);
  if (!asked.from.found || !problems.empty()) return asked;
  AheadFlags with_noted = flags;
  with_noted.noted = learn::recorded_weather(asked.from.history, loop.site.place.clock);
  asked.weather = read_weather(with_noted, loop.site.place, problems).weather;
  take_given(asked.from, days.first, asked.request);
  return asked;
}

}  // namespace

int verb_ahead(const AheadFlags& flags) {
  Problems problems;
  if (flags.json && flags.csv) problems.add({"--csv", 0, 0, "", "stands beside --json; keep one of the two"});
  if (flags.picture == "-" && (flags.json || flags.csv))
    problems.add({"--picture", 0, 0, "", "- stands beside --json or --csv; name a file, such as --picture where.svg"});
  check_members(flags.members, problems);
  const auto loop = read_loop(flags.loop, problems);
  auto asked = loop ? with_record(flags, *loop, problems) : Asked{};
  if (!problems.empty()) return refused(problems);
  if (flags.picture != "-" && !flags.csv)
    asked.request.members = answers::size_of_runs(*loop, flags.days, flags.members).members;
  asked.request.seed = flags.seed;
  const answers::AheadAnswer answer = answers::ahead(asked.from.loop, asked.weather, asked.request);
  std::string why_not;
  if (flags.picture == "-") {
    fmt::print("{}", tell::flow_picture_svg(answer));
    return answer.finished ? 0 : 3;
  }
  if (!flags.picture.empty() && !write_drawing(flags.picture, tell::flow_picture_svg(answer), why_not)) {
    fmt::print(stderr, "--picture: {}.\n", why_not);
    return 2;
  }
  if (flags.json)
    fmt::print("{}", tell::ahead_json(answer));
  else if (flags.csv)
    fmt::print("{}", tell::ahead_csv(answer));
  else
    fmt::print("{}{}", tell::ahead_text(answer, flags.assumptions), asked.from.text());
  return answer.finished ? 0 : 3;
}

}  // namespace leat::doors
