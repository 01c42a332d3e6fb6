// The times of an hourly file: read, put on a clock, and checked to be an hour apart.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "model/weather/columns.h"
#include "model/weather/weather.h"

namespace leat::model {

inline constexpr int most_bridged_hours = 3;

struct HourlyRow {
  const CsvRow* row = nullptr;
  ReadTime time;
  Instant at;  ///< set by `choose_hourly_clock`
};

/// The rows whose time can be read; the others are told. `word` is the column of the time.
std::vector<HourlyRow> read_hourly_times(Sheet& sheet, int word);

/// Sets the instants: by the place's clock, or by standard time all year where that leaves fewer holes. Says which.
void choose_hourly_clock(std::vector<HourlyRow>& rows, const Place& place, std::string_view file,
                         std::vector<std::string>& assumptions);

/// Whether every row stands a whole number of hours after the one before it, with holes short enough.
bool check_hourly_steps(Sheet& sheet, int word, const std::vector<HourlyRow>& rows);

}  // namespace leat::model
