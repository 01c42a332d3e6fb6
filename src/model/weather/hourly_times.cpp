#include "model/weather/hourly_times.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace leat::model {
namespace {

/// Sets the instants by a clock. An hour that the clock runs through twice is taken the second time when it comes
/// again.
void set_instants(std::vector<HourlyRow>& rows, const Clock& clock) {
  for (std::size_t i = 0; i < rows.size(); ++i) {
    HourlyRow& row = rows[i];
    const CivilTime& local = row.time.local;
    if (row.time.utc_offset_hours) {
      row.at = Clock::fixed(*row.time.utc_offset_hours, "").instant(local);
      continue;
    }
    row.at = clock.instant(local);
    const Instant again{row.at.seconds + 3600.0};
    if (i > 0 && row.at <= rows[i - 1].at && clock.local(again).hour == local.hour && !clock.skips(local))
      row.at = again;
  }
}

/// Steps that are not one hour.
int broken_steps(const std::vector<HourlyRow>& rows) {
  int broken = 0;
  for (std::size_t i = 1; i < rows.size(); ++i)
    if (std::abs(rows[i].at.seconds - rows[i - 1].at.seconds - 3600.0) > 1.0) ++broken;
  return broken;
}

}  // namespace

std::vector<HourlyRow> read_hourly_times(Sheet& sheet, int word) {
  std::vector<HourlyRow> rows;
  for (const CsvRow& row : sheet.rows()) {
    const auto time = read_time(sheet.text(row, word));
    if (const auto* bad = std::get_if<Unreadable>(&time)) {
      const std::size_t cut = bad->wrong.find("; ");
      sheet.complain_once(bad->wrong, row, word, bad->wrong.substr(0, cut), bad->wrong.substr(cut + 2));
    } else {
      rows.push_back({&row, std::get<ReadTime>(time), {}});
    }
  }
  return rows;
}

void choose_hourly_clock(std::vector<HourlyRow>& rows, const Place& place, std::string_view file,
                         std::vector<std::string>& assumptions) {
  const bool all_have_offsets =
      std::all_of(rows.begin(), rows.end(), [](const HourlyRow& r) { return r.time.utc_offset_hours.has_value(); });
  set_instants(rows, place.clock);
  if (all_have_offsets) return;
  const double standard_h = place.clock.standard_offset_hours(rows.front().time.local.date.year);
  std::vector<HourlyRow> by_standard = rows;
  set_instants(by_standard, Clock::fixed(standard_h, ""));
  if (broken_steps(by_standard) < broken_steps(rows)) {
    rows = std::move(by_standard);
    assumptions.push_back(fmt::format(
        "{}: the times do not turn to summer time, so they are taken as UTC{:+g} h all year.", file, standard_h));
  } else {
    assumptions.push_back(fmt::format("{}: times without an offset are by the clock {}.", file, place.clock.name()));
  }
}

bool check_hourly_steps(Sheet& sheet, int word, const std::vector<HourlyRow>& rows) {
  bool sound = true;
  const auto complain = [&](std::string key, const HourlyRow& row, std::string wrong, std::string_view cure) {
    sheet.complain_once(std::move(key), *row.row, word, wrong, cure);
    sound = false;
  };
  for (std::size_t i = 1; i < rows.size(); ++i) {
    const double hours = (rows[i].at.seconds - rows[i - 1].at.seconds) / 3600.0;
    if (hours == 0.0)
      complain("twice", rows[i], fmt::format("stands in line {} already", rows[i - 1].row->line),
               "keep one row an hour");
    else if (hours < 0.0)
      complain("order", rows[i], "lies before the row above it", "sort the rows by time");
    else if (std::abs(hours - std::round(hours)) > 1.0 / 3600.0)
      complain("step", rows[i], fmt::format("comes {:.0f} min after the row above it", 60.0 * hours),
               "give one row an hour");
    else if (hours > most_bridged_hours + 1.5)
      complain("gap", rows[i], fmt::format("follows a gap of {:.0f} missing hours", hours - 1.0),
               "at most 3 are bridged; keep only the rows on one side of the gap");
  }
  return sound;
}

}  // namespace leat::model
