#include "doors/command/record_sensors.h"
#include "doors/command/refused.h"

#include <fmt/core.h>

#include <algorithm>

#include "record/series.h"
#include "tell/sensors_text.h"

namespace leat::doors {
namespace {

bool fits(const record::Series& s, const record::Filter& f) {
  const bool here = f.where.empty() || s.name.where == f.where || s.name.where.starts_with(f.where + ".");
  return here && (f.what.empty() || s.name.what == f.what || s.name.sensor == f.what);
}

int draw(const RecordFlags& flags, const record::Store& store, const Clock& clock, const record::Filter& filter,
         const record::Series& series) {
  const auto points =
      record::chart_of(store, series.number, filter.since.value_or(series.first.at),
                       filter.until.value_or(series.last.at + 1), static_cast<std::size_t>(flags.points));
  if (const auto* trouble = std::get_if<record::Trouble>(&points)) return refused("record", trouble->said);
  const auto& all = std::get<std::vector<record::Summary>>(points);
  fmt::print("{}", flags.json ? tell::stretch_json(series, all) : tell::stretch_text(series, all, clock));
  return 0;
}

}  // namespace

int list_sensors(const RecordFlags& flags, const record::Store& store, const Clock& clock,
                 const record::Filter& filter) {
  auto found = record::all_series(store);
  if (const auto* trouble = std::get_if<record::Trouble>(&found)) return refused("record", trouble->said);
  auto& all = std::get<std::vector<record::Series>>(found);
  std::erase_if(all, [&](const record::Series& s) { return !fits(s, filter); });
  if (flags.points == 0) {
    fmt::print("{}", flags.json ? tell::sensors_json(all) : tell::sensors_text(all, clock));
    return 0;
  }
  if (flags.points < 1 || flags.points > 100'000)
    return refused("record", fmt::format("--points {} is not between 1 and 100000; write such as 30", flags.points));
  if (all.size() != 1)
    return refused("record",
                   fmt::format("--points draws one sensor, and {} fit; name it with --what and --where, as leat record "
                               "--sensors lists them",
                               all.size()));
  return draw(flags, store, clock, filter, all.front());
}

}  // namespace leat::doors
