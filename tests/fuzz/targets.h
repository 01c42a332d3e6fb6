// What hostile input is thrown at. Each must come back, with problems or without; a fuzzer and the replay of its corpus
// call the same functions.
#pragma once

#include <cmath>
#include <cstdlib>
#include <string_view>

#include "base/units/parse.h"
#include "doors/listen/payload.h"
#include "model/flow/water_run.h"
#include "model/loop/loop.h"
#include "model/weather/weather.h"
#include "record/phrase.h"
#include "record/sensor_table.h"
#include "record/table.h"
#include "science/checks.h"

namespace leat::fuzz {

inline void must(bool held) {
  if (!held) std::abort();
}

inline void description(std::string_view text) {
  Problems problems;
  const model::Loop loop = model::make_loop(model::read_description(text, "loop.toml", problems), problems);
  if (!problems.empty()) return;
  for (const model::Vessel& v : loop.vessels) must(v.area.si() > 0.0 && v.depth().si() > 0.0);
}

/// A patch on a small loop.
inline void patch(std::string_view text) {
  constexpr std::string_view now =
      "[tank.a]\narea = \"1 m2\"\nfloor = \"0.5 m\"\nrim = \"1.5 m\"\n[sump.s]\narea = \"1 m2\"\nfloor = \"0 m\"\n"
      "rim = \"0.6 m\"\n[pump.p]\nin = \"sump.s\"\n[pipe.up]\nfrom = \"pump.p\"\nto = \"tank.a\"\n";
  Problems problems;
  const model::Description base = model::read_description(now, "now.toml", problems);
  const model::Loop loop = model::make_loop(model::patched(base, text, "plan.toml", problems), problems);
  if (!problems.empty()) return;
  for (const model::Vessel& v : loop.vessels) must(v.area.si() > 0.0 && v.depth().si() > 0.0);
}

/// A loop that was taken is followed for a minute: it ends, with its water or with words.
inline void water(std::string_view text) {
  Problems problems;
  const model::Loop loop = model::make_loop(model::read_description(text, "loop.toml", problems), problems);
  if (!problems.empty()) return;
  const model::Plumbing plumbing(loop);
  const model::WaterRun run = model::run_water(plumbing, model::water_at_rest(loop), {Duration<>(60.0)});
  must(run.finished || !run.said.empty());
  const double held = model::water_in(loop, run.end.levels).si();
  must(std::isfinite(held) && std::abs(run.missing.si()) <= 1e-7 * std::max(1.0, held));
}

inline void daily(std::string_view text) {
  Problems problems;
  const auto record = model::read_daily_record(text, "days.csv", "", problems);
  if (problems.empty())
    for (const auto& day : record.days) must(day.low <= day.high && std::isfinite(day.low.kelvin()));
}

inline void hourly(std::string_view text) {
  Problems problems;
  model::Place place;
  place.latitude_deg = 47.5;
  const auto record = model::read_hourly_record(text, "hours.csv", place, problems);
  if (problems.empty())
    for (const auto& air : record.airs) must(std::isfinite(air.temperature.kelvin()));
}

inline void forecast(std::string_view text) {
  Problems problems;
  for (const auto& day : model::read_forecast(text, "typed", {2026, 3, 1}, problems))
    must(problems.empty() ? day.low <= day.high : true);
}

inline void quantity(std::string_view text) {
  const auto read = read_measured(text, true);
  if (const auto* m = std::get_if<Measured>(&read)) must(std::isfinite(m->si));
  (void)read_unit(text);
  (void)read_number(text);
}

/// Phrases of the record: every byte that says something is kept, and what was understood is whole.
inline void phrase(std::string_view text) {
  record::Context context;
  context.now = 1'764'056'460'000;
  context.spots = {
      {"tank.nursery", "tank", "nursery"}, {"tank.2", "tank", "2"}, {"raft_bed.north", "raft_bed", "north"}};
  context.fish_in = {"tank.nursery"};
  context.fish = {"trout"};
  for (const record::Understood& u : record::read_phrase(text, context)) {
    must(!u.entries.empty());
    for (const record::Entry& e : u.entries) {
      must(!e.said.empty() && e.from <= e.to && !e.what.empty());
      must(e.kind == record::Kind::text || u.doubt.empty());
      for (const auto& side : {e.amount.low, e.amount.high, e.count}) must(!side || std::isfinite(*side));
      must(!e.amount.low || !e.amount.high || *e.amount.low <= *e.amount.high);
      record::Entry back;
      for (const auto& [name, field] : record::fields_of(e)) (void)record::set_field(back, name, field);
      must(back == e);
    }
  }
}

inline record::Context yard_context() {
  record::Context context;
  context.now = 1'764'056'460'000;
  context.spots = {{"tank.nursery", "tank", "nursery"}, {"raft_bed.north", "raft_bed", "north"}};
  context.fish_in = {"tank.nursery"};
  return context;
}

/// A table that is taken into the record: one of our own, one of a sensor, or one from elsewhere by its likely mapping.
inline void table(std::string_view text) {
  Problems problems;
  const record::Context context = yard_context();
  const CsvTable table = read_csv(text, "log.csv", problems);
  if (record::is_own_table(table))
    for (const record::Entry& e : record::entries_of(table, "log.csv", problems))
      must(!problems.empty() || !record::fault_of(e));
  if (record::is_sensor_table(table))
    for (const record::Batch& b : record::batches_of(table, "log.csv", problems))
      for (const record::Sample& s : b.samples) must(std::isfinite(s.value));
  Problems mapped;
  const auto mapping = record::read_mapping(record::likely_mapping(table, context), mapped);
  for (const auto order : {record::DateOrder::year_first, record::DateOrder::day_first})
    for (const record::Understood& u : record::read_table(table, mapping, order, context, "log.csv", mapped))
      for (const record::Entry& e : u.entries) must(e.from <= e.to && !e.what.empty());
}

inline void senml(std::string_view text) {
  Problems problems;
  const record::Context context = yard_context();
  const doors::Senml pack = doors::read_senml(text, "x.senml", context.now, problems);
  for (const doors::SenmlRecord& r : pack.records) must(std::isfinite(r.value) && r.at >= 0 && !r.name.empty());
  const auto meanings = doors::read_name_meanings("urn:dev:ow:1=temperature tank.nursery", context, problems);
  for (const record::Batch& b : doors::batches_of(pack, meanings, context, "x.senml", problems))
    must(!b.name.what.empty() && !b.samples.empty());
}

/// A message of any bytes: readings with a number and a time that can be, or a reason.
inline void payload(std::string_view text) {
  const record::Context context = yard_context();
  doors::Topic topic;
  topic.what = "temperature";
  topic.unit = "degC";
  const std::vector<doors::NameMeaning> names = {{"urn:dev:ow:1", "pH", "tank.nursery"}};
  for (const bool retained : {false, true}) {
    const doors::Message message{"yard/t", std::string(text), retained, context.now};
    const doors::Payload read = doors::read_payload(message, topic, names, context);
    must(read.readings.empty() || read.refused.empty());
    for (const doors::PayloadReading& r : read.readings)
      must(std::isfinite(r.sample.value) && r.sample.at > 0 && r.sample.at <= context.now + 300'000 &&
           (r.timed || !retained));
  }
}

struct Target {
  std::string_view name;
  void (*run)(std::string_view);
};
inline constexpr Target kTargets[] = {
    {"description", description}, {"patch", patch},       {"water", water},   {"daily", daily}, {"hourly", hourly},
    {"forecast", forecast},       {"quantity", quantity}, {"phrase", phrase}, {"table", table}, {"senml", senml},
    {"payload", payload}};

}  // namespace leat::fuzz
