#include <fmt/core.h>

#include "answers/heat_capacity.h"
#include "answers/helped.h"
#include "doors/command/files.h"
#include "doors/command/record_flags.h"
#include "doors/command/refused.h"
#include "doors/command/trial_verbs.h"
#include "tell/helped_text.h"

namespace leat::doors {
namespace {

/// A number of kelvins, "10 K" or "10".
double swing_flag(const std::string& text, double usual, Problems& problems) {
  if (text.empty()) return usual;
  const auto read = read_measured(text.find_first_of("KkCF") == std::string::npos ? text + " K" : text);
  const Measured* m = std::get_if<Measured>(&read);
  if (m && m->dimension == dim::temperature && !m->temperature_point && m->si >= 1.0 && m->si <= 40.0) return m->si;
  problems.add({"--day", 0, 0, "", fmt::format("\"{}\" is no swing from 1 to 40 K; write such as \"10 K\"", text)});
  return usual;
}

std::optional<double> capacity_flag(const std::string& text, Problems& problems) {
  if (text.empty()) return std::nullopt;
  const auto read = read_measured(text);
  const auto wanted = read_unit("J/K");
  const Measured* m = std::get_if<Measured>(&read);
  if (m && m->dimension == std::get<Unit>(wanted).dimension && m->si > 1e4) return m->si;
  problems.add({"--heat-capacity", 0, 0, "",
                fmt::format("\"{}\" is no heat per degree; write such as \"11.2 MJ/K\" (4.19 MJ/K for 1000 L)", text)});
  return std::nullopt;
}

std::optional<answers::WindowKind> kind_flag(const std::string& text, Problems& problems) {
  if (text == "day") return answers::WindowKind::whole_day;
  if (text == "night") return answers::WindowKind::night;
  if (!text.empty()) problems.add({"--windows", 0, 0, "", fmt::format("\"{}\" is neither; write day or night", text)});
  return std::nullopt;
}

/// Where no flag says it, what the loop's file says of water and stones; a file with mistakes says nothing.
void take_capacity(const std::string& file, answers::HelpedRequest& request) {
  Problems mistakes;
  if (request.heat_capacity) return;
  const auto loop = read_loop(file, mistakes);
  if (!loop || !mistakes.empty()) return;
  const double capacity = answers::heat_capacity_of(*loop);
  if (capacity < 1e4) return;
  request.heat_capacity = capacity;
  request.capacity_said = false;
}

answers::HelpedRequest request_of(const HelpedFlags& flags, const record::Context& context, Problems& problems) {
  answers::HelpedRequest r;
  if (const auto at = time_flag(flags.change, "--change", context, problems)) r.change = at->from;
  if (const auto at = time_flag(flags.since, "--since", context, problems)) r.since = at->from;
  if (const auto at = time_flag(flags.until, "--until", context, problems)) r.until = at->to;
  if (!flags.where.empty()) r.where = place_flag(flags.where, "--where", context, problems);
  r.kind = kind_flag(flags.windows, problems);
  r.standard_swing = swing_flag(flags.day, r.standard_swing, problems);
  r.heat_capacity = capacity_flag(flags.heat_capacity, problems);
  return r;
}

}  // namespace

int verb_helped(const HelpedFlags& flags) {
  const auto read = read_whole_record(flags.loop, flags.now, "helped");
  if (!read) return 2;
  const record::Context& context = read->loop.context;
  Problems problems;
  answers::HelpedRequest request = request_of(flags, context, problems);
  model::DailyRecord weather;
  if (!flags.weather.empty()) {
    if (const auto text = read_file(flags.weather, problems))
      weather = model::read_daily_record(*text, flags.weather, flags.location, problems);
    request.weather = &weather;
  }
  if (!problems.empty()) return refused(problems);
  take_capacity(flags.loop, request);
  const answers::HelpedAnswer answer = answers::helped(read->entries, context, request);
  fmt::print("{}", flags.json ? tell::helped_json(answer, context.clock) : tell::helped_text(answer, context.clock));
  return answer.verdict == answers::HelpedVerdict::not_comparable ? 3 : 0;
}

}  // namespace leat::doors
