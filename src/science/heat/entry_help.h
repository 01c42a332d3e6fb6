// What the entries of heat and light share: ways to state the same thing, read from named inputs.
#pragma once

#include <string_view>
#include <vector>

#include "science/catalogue.h"
#include "science/heat/evaporation.h"
#include "science/heat/reference_evapotranspiration.h"
#include "science/light/solar_radiation.h"

namespace leat::science::heat_entry {

inline constexpr Velocity<> mm_per_day{1e-3 / 86400.0};
inline constexpr Velocity<> mm_per_hour{1e-3 / 3600.0};

std::vector<Entry> vapour_entries();
std::vector<Entry> sun_entries();
std::vector<Entry> radiation_entries();
std::vector<Entry> longwave_entries();
std::vector<Entry> evaporation_entries();
std::vector<Entry> lake_entries();
std::vector<Entry> reference_et_entries();
std::vector<Entry> wall_entries();
std::vector<Entry> ground_entries();
std::vector<Entry> store_entries();
std::vector<Entry> swing_entries();

/// One of several ways to state a thing: may be absent.
InputRow maybe(InputRow row);
/// Has a value when it is not given.
InputRow assume(InputRow row, double value);

Temperature<> celsius(const Given& given, std::string_view name);
Pressure<> kilopascals(const Given& given, std::string_view name);
Flux<> mj_per_day(const Given& given, std::string_view name);
Number<> percent(const Given& given, std::string_view name);
Angle degrees(const Given& given, std::string_view name);
/// Whether all are given.
bool all_of(const Given& given, std::initializer_list<std::string_view> names);

/// Rows that state a day and a place: latitude, and day_of_year or month and day (the 15th if only the month).
std::vector<InputRow> day_rows();
int day_number(const Given& given);

/// Rows that state humidity: vapour_pressure, or humidity extremes, or one humidity, or the dew point.
std::vector<InputRow> vapour_rows();
Pressure<> vapour_of(const Given& given);

/// Rows that state the air's pressure: air_pressure, or altitude; 101.3 kPa when neither is given.
std::vector<InputRow> pressure_rows();
Pressure<> pressure_of(const Given& given);

/// Rows of the air of a day (air_max, air_min) or of a moment (temperature).
std::vector<InputRow> air_rows();
Temperature<> air_of(const Given& given);
Pressure<> saturation_of(const Given& given);

/// Extraterrestrial radiation, given or from latitude and day.
Flux<> outside_of(const Given& given);
/// Day length, given or from latitude and day.
Duration<> day_length_of(const Given& given);
/// Rs/Rso, given or from both; Rso from Ra and altitude where it is missing.
Number<> clear_ratio_of(const Given& given);

/// Rows together.
std::vector<InputRow> rows(std::initializer_list<std::vector<InputRow>> groups);

/// A number and its unit from the text of an input, in SI; a remark in brackets is left out, "a per b" divides. A bare
/// number is taken in `bare_unit`. Throws std::out_of_range when it cannot be read.
double si_of_text(const Given& given, std::string_view name, std::string_view bare_unit);
/// The same of a text.
double si_of(std::string_view text, std::string_view bare_unit, std::string_view name);

}  // namespace leat::science::heat_entry
