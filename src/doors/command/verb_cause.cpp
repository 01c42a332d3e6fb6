#include <fmt/core.h>

#include "answers/cause.h"
#include "base/units/parse.h"
#include "doors/command/files.h"
#include "doors/command/measured_flag.h"
#include "doors/command/record_file.h"
#include "doors/command/refused.h"
#include "doors/command/round_verbs.h"
#include "record/amounts.h"
#include "record/sensed.h"
#include "record/when.h"
#include "tell/cause_text.h"

namespace leat::doors {
namespace {

constexpr const char* kExample = "33, 82 g, sd 15 g";

/// "33, 82 g, sd 15 g": how many, mean mass, and if known its standard deviation.
std::optional<answers::Weighed> weighed(const std::string& text, const char* flag, Problems& problems) {
  if (text.empty()) return std::nullopt;
  const auto refuse = [&](const char* why) {
    problems.add({flag, 0, 0, "", fmt::format("\"{}\" {}; write for example \"{}\"", text, why, kExample)});
    return std::nullopt;
  };
  std::vector<std::string> parts{""};
  for (const char c : text) {
    if (c == ',')
      parts.emplace_back();
    else if (c != ' ' || !parts.back().empty())
      parts.back() += c;
  }
  const auto count = read_number(parts[0]);
  if (parts.size() < 2 || parts.size() > 3 || !std::holds_alternative<double>(count) || std::get<double>(count) < 1.0)
    return refuse("is not how many and how heavy");
  answers::Weighed w{std::get<double>(count), 0.0, 0.0};
  const auto grams = measured(parts[1], flag, dim::mass, 1e-5, 50.0, kExample, problems);
  w.mean = 1e3 * grams.value_or(0.0);
  if (parts.size() == 3) {
    if (!parts[2].starts_with("sd ")) return refuse("has a third part that does not begin with sd");
    w.deviation = 1e3 * measured(parts[2].substr(3), flag, dim::mass, 1e-6, 50.0, kExample, problems).value_or(0.0);
  }
  return w;
}

}  // namespace

int verb_cause(const CauseFlags& flags) {
  Problems problems;
  const auto loop = read_loop(flags.loop, problems);
  const auto known = loop ? loop_of_record(flags.loop, flags.now, problems) : std::nullopt;
  answers::CauseRequest request;
  request.dead = weighed(flags.dead, "--dead", problems);
  request.alive = weighed(flags.alive, "--alive", problems);
  if (const auto k = measured(flags.reaeration, "--reaeration", dim::frequency, 1e-6, 1e-2, "0.30 1/h", problems))
    request.reaeration = Frequency<>(*k);
  if (!flags.dawn.empty()) {
    const auto time = read_time("2000-01-01 " + flags.dawn);
    if (const auto* read = std::get_if<ReadTime>(&time))
      request.dawn_hour = read->local.hour;
    else
      problems.add(
          {"--dawn", 0, 0, "", fmt::format("\"{}\" is no time of day; write for example \"05:30\"", flags.dawn)});
  }
  if (known) request.now = known->context.now;
  if (known && !flags.at.empty()) {
    const auto when = record::read_when(flags.at, known->context.clock, known->context.now);
    if (const auto* span = std::get_if<record::Span>(&when))
      request.found = span->from + (span->to - span->from) / 2;
    else
      problems.add({"--at", 0, 0, "", std::get<record::Trouble>(when).said});
  }
  if (!problems.empty()) return refused(problems);
  std::string why_not;
  const auto store = open_record(flags.loop, false, why_not);
  const auto entries = store ? record::entries_and_sensed(*store, loop->site.place.clock)
                             : std::variant<std::vector<record::Entry>, record::Trouble>{};
  if (const auto* trouble = std::get_if<record::Trouble>(&entries)) why_not = trouble->said;
  if (!why_not.empty()) return refused("cause", why_not);
  const auto answer = answers::cause(*loop, std::get<std::vector<record::Entry>>(entries), request);
  fmt::print("{}", flags.json ? tell::cause_json(answer) : tell::cause_text(answer, loop->site.place.clock));
  return answer.said.empty() ? 0 : 3;
}

}  // namespace leat::doors
