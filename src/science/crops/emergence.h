// From seed to seedling: days by temperature, and how many come up well.
#pragma once

#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "base/units/quantity.h"
#include "science/crops/crop.h"

namespace leat::science {

/// Days and temperatures of one crop, coldest first.
using DaysByTemperature = std::vector<std::pair<double, double>>;

/// Days from sowing to emergence: the table's value, straight between its temperatures in days; none beyond them.
///
/// crop     one with a table
/// soil     temperature of the seed bed        0 to 35 °C
/// source   Harrington & Minges 1954, by way of Knott's Handbook for Vegetable Growers
std::optional<Duration<>> days_to_emergence(const Crop& crop, Temperature<> soil);

/// Share of seeds that give normal seedlings, in the same way.
std::optional<Number<>> normal_seedlings(const Crop& crop, Temperature<> soil);

/// Base temperature and thermal time of emergence.
struct ThermalTimeFit {
  Temperature<> base;
  ThermalTime<> sum;
};

/// Least squares of 1/days on temperature, from 5 °C (nearer the base the line bends) up to the fastest emergence:
/// beyond it heat slows the seed and the line no longer holds.
///
/// points   at least two of them up to the fastest
std::optional<ThermalTimeFit> thermal_time_fit(const DaysByTemperature& points);

}  // namespace leat::science
