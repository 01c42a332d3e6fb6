#include <fmt/core.h>

#include <chrono>
#include <optional>

#include "answers/night.h"
#include "base/time/civil.h"
#include "base/units/parse.h"
#include "doors/command/files.h"
#include "doors/command/from_record.h"
#include "doors/command/measured_flag.h"
#include "doors/command/refused.h"
#include "doors/command/verbs.h"
#include "doors/command/weather_flags.h"
#include "learn/recorded_weather.h"
#include "model/weather/hours.h"
#include "tell/tell.h"

namespace leat::doors {
namespace {

/// "18:00" as hours; nothing if it is no time of day.
std::optional<double> hour_of(std::string_view text) {
  const std::size_t colon = text.find(':');
  if (colon == std::string_view::npos) return std::nullopt;
  const auto h = read_number(text.substr(0, colon)), m = read_number(text.substr(colon + 1));
  const double *hours = std::get_if<double>(&h), *minutes = std::get_if<double>(&m);
  if (!hours || !minutes || *hours < 0.0 || *hours >= 24.0 || *minutes < 0.0 || *minutes >= 60.0) return std::nullopt;
  return *hours + *minutes / 60.0;
}

/// Readings run on past midnight: an hour before the first one belongs to the next day.
void read_readings(const NightFlags& flags, answers::NightRequest& request, Problems& problems) {
  for (const std::string& text : flags.readings) {
    const std::size_t blank = text.find(' ');
    const auto hour = hour_of(std::string_view(text).substr(0, blank));
    if (blank == std::string::npos || !hour) {
      problems.add({"--reading", 0, 0, "",
                    fmt::format("\"{}\" has no time of day in front; write for example \"18:00 14.0 mg/L\"", text)});
      continue;
    }
    const auto oxygen =
        measured(text.substr(blank + 1), "--reading", dim::density, 0.0, 0.04, "18:00 14.0 mg/L", problems);
    if (!oxygen) continue;
    double h = *hour;
    if (!request.readings.empty())
      while (h <= request.readings.back().hour) h += 24.0;
    request.readings.push_back({h, Density<>(*oxygen)});
  }
  if (flags.readings.size() < 2)
    problems.add({"--reading", 0, 0, "",
                  "is wanted twice at least, at dusk and two or three hours later: --reading \"18:00 14.0 "
                  "mg/L\" --reading \"21:00 7.8 mg/L\""});
  else if (request.readings.size() >= 2 && request.readings.back().hour - request.readings.front().hour > 18.0)
    problems.add(
        {"--reading", 0, 0, "", "reaches over more than one night; give readings of one night in the order of time"});
  else if (request.readings.size() >= 2 && flags.demand.empty() &&
           request.readings[1].hour - request.readings[0].hour < 0.5)
    problems.add(
        {"--reading", 0, 0, "",
         "the first two are less than half an hour apart, in which a kit errs by more than is lost; leave two or "
         "three hours between them"});
}

/// Sunrise of the coming morning at the loop's place.
double sunrise_hour(const model::Loop& loop) {
  const auto now = std::chrono::system_clock::now().time_since_epoch();
  const Clock& clock = loop.site.place.clock;
  const CivilDate today = clock.local(Instant{std::chrono::duration<double>(now).count()}).date;
  const auto local = clock.local(model::sun_frame(loop.site.place, today.plus_days(1)).sunrise);
  return 24.0 + local.hour;
}

void read_dawn(const NightFlags& flags, const model::Loop& loop, answers::NightRequest& request, Problems& problems) {
  if (flags.dawn.empty()) {
    request.dawn_hour = sunrise_hour(loop);
  } else if (const auto hour = hour_of(flags.dawn)) {
    request.dawn_hour = *hour;
  } else {
    problems.add(
        {"--dawn", 0, 0, "", fmt::format("\"{}\" is no time of day; write for example \"05:30\"", flags.dawn)});
  }
  if (request.readings.empty()) return;
  while (request.dawn_hour <= request.readings.back().hour) request.dawn_hour += 24.0;
}

answers::NightRequest read_request(const NightFlags& flags, const model::Loop& loop, Problems& problems) {
  answers::NightRequest r;
  read_readings(flags, r, problems);
  read_dawn(flags, loop, r, problems);
  const auto t = measured(flags.temperature, "--temperature", dim::temperature, 272.0, 313.0, "17 degC", problems);
  r.temperature = t ? Temperature<>::from_kelvin(*t) : loop.water.temperature;
  if (const auto k = measured(flags.reaeration, "--reaeration", dim::frequency, 1e-6, 1e-2, "0.30 1/h", problems))
    r.reaeration = Frequency<>(*k);
  if (const auto sd = measured(flags.kit, "--kit", dim::density, 1e-6, 5e-3, "0.5 mg/L", problems))
    r.kit_sd = Density<>(*sd);
  if (const auto n = counted(flags.ammonia, "--ammonia", {"N", "NH3", "NH4"}, 0.0, 0.1, "1.0 mg/L", problems))
    r.ammonia = Density<>(*n);
  if (const auto d = measured(flags.demand, "--demand", dim::density, 0.0, 0.1, "2.4 mg/L", problems))
    r.demand_per_hour = Density<>(*d);
  if (!flags.pH.empty()) {
    const auto read = read_number(flags.pH);
    const double* ph = std::get_if<double>(&read);
    if (!ph || *ph < 4.0 || *ph > 11.0)
      problems.add({"--ph", 0, 0, "", fmt::format("\"{}\" is no pH; write for example 9.1", flags.pH)});
    else
      r.pH = *ph;
  }
  r.seed = flags.model.seed;
  if (flags.model.members >= 0) r.draws = flags.model.members;
  return r;
}

/// Oxygen that the record has of this evening, as --reading takes it.
std::vector<std::string> readings_of_this_evening(const FromRecord& from) {
  std::vector<std::string> found;
  const Clock& clock = from.loop.site.place.clock;
  for (const learn::Reading* r : from.history.of("dissolved_oxygen")) {
    if (r->at > from.now || from.now - r->at > 12 * learn::kHour) continue;
    const double hour = clock.local(Instant{1e-3 * static_cast<double>(r->at)}).hour;
    if (hour < 15.0 && hour > 4.0) continue;
    const int minutes = static_cast<int>(60.0 * hour + 0.5) % 1440;
    found.push_back(fmt::format("{:02}:{:02} {:.2f} mg/L", minutes / 60, minutes % 60, r->value()));
  }
  return found.size() < 2 ? std::vector<std::string>{} : found;
}

/// Without readings: the coming night by the model.
int by_model(const NightFlags& flags, const FromRecord& from) {
  Problems problems;
  model::Loop loop = from.loop;
  const std::pair<const std::string&, const char*> needs_readings[] = {
      {flags.dawn, "--dawn"},       {flags.reaeration, "--reaeration"}, {flags.kit, "--kit"},
      {flags.ammonia, "--ammonia"}, {flags.demand, "--demand"},         {flags.pH, "--ph"}};
  for (const auto& [text, flag] : needs_readings)
    if (!text.empty())
      problems.add(
          {flag, 0, 0, "", "needs readings beside it: --reading \"18:00 14.0 mg/L\" --reading \"21:00 7.8 mg/L\""});
  if (const auto t =
          measured(flags.temperature, "--temperature", dim::temperature, 272.0, 313.0, "17 degC", problems)) {
    loop.water.temperature = Temperature<>::from_kelvin(*t);
    loop.water.temperature_said = true;
  }
  AheadFlags days = flags.model;
  days.days = 2;
  if (from.found) days.noted = learn::recorded_weather(from.history, loop.site.place.clock);
  check_members(days.members, problems);
  const AskedWeather asked = read_weather(days, loop.site.place, problems);
  if (!problems.empty()) return refused(problems);
  const answers::NightAheadAnswer answer =
      answers::night_ahead(loop, asked.weather, asked.first, {flags.model.members, flags.model.seed});
  fmt::print("{}", days.json ? tell::night_ahead_json(answer)
                             : tell::night_ahead_text(answer, days.assumptions) + from.text());
  return answer.tanks.empty() ? 3 : 0;
}

}  // namespace

int verb_night(const NightFlags& asked) {
  Problems problems;
  NightFlags flags = asked;
  const auto loop = read_loop(flags.loop, problems);
  if (!loop) return refused(problems);
  FromFlags look = flags.model.from;
  if (look.now.empty() && !flags.model.today.empty()) look.now = flags.model.today + " 23:59";
  const FromRecord from = from_record(flags.model.loop = flags.loop, *loop, look, std::nullopt, problems);
  if (!problems.empty()) return refused(problems);
  const bool by_hand = !flags.readings.empty();
  if (!by_hand) flags.readings = readings_of_this_evening(from);
  if (flags.readings.size() < 2 && !by_hand) return by_model(flags, from);
  if (flags.temperature.empty()) flags.temperature = from.flag_text("temperature");
  check_members(flags.model.members, problems);
  const answers::NightRequest request = read_request(flags, from.loop, problems);
  if (!problems.empty()) return refused(problems);
  const answers::NightAnswer answer = answers::night(from.loop, request);
  fmt::print("{}", flags.model.json ? tell::night_json(answer) : tell::night_text(answer) + from.text());
  return 0;
}

}  // namespace leat::doors
