#include <fmt/core.h>

#include <algorithm>

#include "base/result/problem.h"
#include "base/units/parse.h"
#include "doors/command/files.h"
#include "doors/command/from_record.h"
#include "doors/command/measured_flag.h"
#include "doors/command/refused.h"
#include "doors/command/verbs.h"
#include "doors/command/weather_flags.h"
#include "tell/tell.h"

namespace leat::doors {
namespace {

template <Dimension D>
std::optional<Quantity<D>> as(const std::optional<double>& si) {
  return si ? std::optional(Quantity<D>(*si)) : std::nullopt;
}

constexpr double kWeek = 7.0 * 86400.0;

std::optional<Duration<>> duration(const std::string& text, const char* flag, const char* example, Problems& problems) {
  return as<dim::time>(measured(text, flag, dim::time, 0.0, kWeek, example, problems));
}

void read_since(const OutageFlags& flags, answers::OutageRequest& request, Problems& problems) {
  if (flags.since == "unknown") {
    request.since_known = false;
    request.since = duration(flags.seen, "--seen", "3 h", problems).value_or(Duration<>(0.0));
    if (flags.seen.empty())
      problems.add({"--seen", 0, 0, "",
                    "is missing; with --since unknown say when all was last seen well, such as "
                    "--seen \"3 h\""});
    return;
  }
  if (!flags.seen.empty()) problems.add({"--seen", 0, 0, "", "belongs to --since unknown; leave it out"});
  if (flags.since != "now")
    request.since = duration(flags.since, "--since", "30 min", problems).value_or(Duration<>(0.0));
}

void read_fault(const OutageFlags& flags, const model::Loop& loop, answers::OutageRequest& request,
                Problems& problems) {
  const auto named = answers::named_faults(loop);
  const auto found = std::find_if(named.begin(), named.end(), [&](const auto& n) { return n.first == flags.fails; });
  if (found != named.end()) {
    request.fault = found->second;
    return;
  }
  std::vector<std::string_view> names;
  for (const auto& [name, fault] : named) names.push_back(name);
  problems.add({"--fails", 0, 0, "",
                fmt::format("\"{}\" is nothing that can fail here{}; --fails help lists all", flags.fails,
                            did_you_mean(flags.fails, names))});
}

answers::OutageRequest read_request(const OutageFlags& flags, const model::Loop& loop, Problems& problems) {
  answers::OutageRequest request;
  request.draws = {flags.members, flags.seed};
  check_members(flags.members, problems);
  read_fault(flags, loop, request, problems);
  read_since(flags, request, problems);
  request.span = duration(flags.hours, "--span", "4 h", problems).value_or(request.span);
  if (request.span.si() < 60.0)
    problems.add(
        {"--span", 0, 0, "", fmt::format("\"{}\" is no time to look at; write for example \"4 h\"", flags.hours)});
  request.returns = duration(flags.returns, "--returns", "1 h", problems);
  request.fails_again = duration(flags.again, "--again", "65 min", problems);
  request.fed_ago = duration(flags.fed, "--fed", "2 h", problems);
  if (const auto t = measured(flags.temperature, "--temperature", dim::temperature, 272.0, 313.0, "14 degC", problems))
    request.temperature = Temperature<>::from_kelvin(*t);
  request.oxygen = as<dim::density>(measured(flags.oxygen, "--oxygen", dim::density, 0.0, 0.03, "9.0 mg/L", problems));
  request.battery_air = as<dim::power>(measured(flags.air, "--air", dim::power, 0.1, 5000.0, "8 W", problems));
  request.battery = as<dim::energy>(measured(flags.battery, "--battery", dim::energy, 1.0, 1e9, "115 Wh", problems));
  if (request.fails_again && *request.fails_again <= request.returns.value_or(Duration<>(3600.0)))
    problems.add({"--again", 0, 0, "", "is not after the power has come back (--returns, 1 h unless said)"});
  return request;
}

}  // namespace

int verb_outage(const OutageFlags& asked) {
  Problems problems;
  OutageFlags flags = asked;
  const auto described = read_loop(flags.loop, problems);
  const FromRecord from =
      described ? from_record(flags.loop, *described, flags.from, std::nullopt, problems) : FromRecord{};
  if (flags.temperature.empty()) flags.temperature = from.flag_text("temperature");
  if (flags.oxygen.empty()) flags.oxygen = from.flag_text("dissolved_oxygen");
  if (flags.fed.empty() && from.present.last_fed)
    flags.fed = fmt::format("{:.0f} min", static_cast<double>(from.now - *from.present.last_fed) / 60e3);
  const model::Loop* loop = &from.loop;
  if (!described || !problems.empty()) return refused(problems);
  if (flags.fails == "help") {
    fmt::print("What can fail in this loop, as --fails takes it:\n");
    for (const auto& [name, fault] : answers::named_faults(*loop))
      fmt::print("  {:<40} {}\n", fmt::format("\"{}\"", name), answers::fault_words(fault));
    return 0;
  }
  if (flags.table) {
    const auto tables = answers::emergency_tables(*loop);
    fmt::print("{}", flags.json ? tell::emergency_json(loop->name, tables) : tell::emergency_text(tables));
    return 0;
  }
  const answers::OutageRequest request = read_request(flags, *loop, problems);
  if (!problems.empty()) return refused(problems);
  const answers::OutageAnswer answer = answers::outage(*loop, request);
  fmt::print("{}", flags.json ? tell::outage_json(answer) : tell::outage_text(answer, flags.assumptions) + from.text());
  return answer.finished ? 0 : 3;
}

}  // namespace leat::doors
