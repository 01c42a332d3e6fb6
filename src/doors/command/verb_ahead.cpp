#include <fmt/core.h>

#include "doors/command/files.h"
#include "doors/command/verbs.h"
#include "doors/command/weather_flags.h"
#include "tell/tell.h"

namespace leat::doors {

int verb_ahead(const AheadFlags& flags) {
  Problems problems;
  if (flags.json && flags.csv) problems.add({"--csv", 0, 0, "", "stands beside --json; keep one of the two"});
  if (flags.picture == "-" && (flags.json || flags.csv))
    problems.add({"--picture", 0, 0, "", "- stands beside --json or --csv; name a file, such as --picture where.svg"});
  const auto loop = read_loop(flags.loop, problems);
  const auto asked = read_weather(flags, loop ? loop->site.place : model::Place{}, problems);
  if (!problems.empty()) {
    fmt::print(stderr, "{}", problems.text());
    return 2;
  }
  const answers::AheadAnswer answer = answers::ahead(*loop, asked.weather, {asked.first, flags.days});
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
    fmt::print("{}", tell::ahead_text(answer, flags.assumptions));
  return answer.finished ? 0 : 3;
}

}  // namespace leat::doors
