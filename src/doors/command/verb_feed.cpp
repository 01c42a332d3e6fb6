#include <fmt/core.h>

#include "answers/feed.h"
#include "base/units/parse.h"
#include "doors/command/files.h"
#include "doors/command/from_record.h"
#include "doors/command/measured_flag.h"
#include "doors/command/refused.h"
#include "doors/command/verbs.h"
#include "tell/tell.h"

namespace leat::doors {

int verb_feed(const FeedFlags& asked) {
  Problems problems;
  FeedFlags flags = asked;
  const auto loop = read_loop(flags.loop, problems);
  const FromRecord from = loop ? from_record(flags.loop, *loop, flags.from, std::nullopt, problems) : FromRecord{};
  for (const auto& [text, what] : {std::pair<std::string*, const char*>{&flags.temperature, "temperature"},
                                   {&flags.oxygen, "dissolved_oxygen"},
                                   {&flags.ammonia, "ammonia"},
                                   {&flags.pH, "pH"},
                                   {&flags.nitrite, "nitrite"}})
    if (text->empty()) *text = from.flag_text(what);
  answers::FeedRequest r;
  const auto density = [&](std::optional<double> si) { return si ? std::optional(Density<>(*si)) : std::nullopt; };
  if (const auto t =
          measured(flags.temperature, "--temperature", dim::temperature, 270.0, 313.0, "12.5 degC", problems))
    r.temperature = Temperature<>::from_kelvin(*t);
  r.oxygen = density(measured(flags.oxygen, "--oxygen", dim::density, 0.0, 0.1, "8.5 mg/L", problems));
  r.ammonia = density(counted(flags.ammonia, "--ammonia", {"N", "NH3", "NH4"}, 0.0, 0.1, "0.3 mg/L", problems));
  r.nitrite = density(counted(flags.nitrite, "--nitrite", {"N", "NO2"}, 0.0, 0.1, "0.05 mg/L", problems));
  r.left_over = flags.left_over;
  if (!flags.pH.empty()) {
    const auto read = read_number(flags.pH);
    const double* pH = std::get_if<double>(&read);
    if (pH && *pH >= 4.0 && *pH <= 11.0)
      r.pH = *pH;
    else
      problems.add({"--ph", 0, 0, "", fmt::format("\"{}\" is no pH; write for example 7.2", flags.pH)});
  }
  if (!problems.empty()) return refused(problems);
  const answers::FeedAnswer answer = answers::feed(from.loop, r);
  fmt::print("{}", flags.json ? tell::feed_json(answer) : tell::feed_text(answer) + from.text());
  return 0;
}

}  // namespace leat::doors
