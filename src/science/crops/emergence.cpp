#include "science/crops/emergence.h"

#include <cmath>
#include <cstddef>

namespace leat::science {
namespace {

std::optional<double> between(const DaysByTemperature& points, double celsius) {
  for (std::size_t i = 0; i < points.size(); ++i) {
    if (points[i].first == celsius) return points[i].second;
    if (i > 0 && points[i - 1].first < celsius && celsius < points[i].first) {
      const double share = (celsius - points[i - 1].first) / (points[i].first - points[i - 1].first);
      return points[i - 1].second + share * (points[i].second - points[i - 1].second);
    }
  }
  return std::nullopt;
}

/// Degrees as they were written: kelvin and back moves the last digit.
double celsius_of(Temperature<> t) {
  const double c = t.celsius(), whole = std::round(c);
  return std::abs(c - whole) < 1e-9 ? whole : c;
}

}  // namespace

std::optional<Duration<>> days_to_emergence(const Crop& crop, Temperature<> soil) {
  const auto days = between(crop.emergence_days, celsius_of(soil));
  return days ? std::optional(*days * units::day) : std::nullopt;
}

std::optional<Number<>> normal_seedlings(const Crop& crop, Temperature<> soil) {
  const auto percent = between(crop.normal_seedlings_percent, celsius_of(soil));
  return percent ? std::optional(Number<>(*percent / 100.0)) : std::nullopt;
}

std::optional<ThermalTimeFit> thermal_time_fit(const DaysByTemperature& points) {
  double n = 0.0, sum_t = 0.0, sum_r = 0.0, sum_tt = 0.0, sum_tr = 0.0, fastest = 0.0;
  for (const auto& [celsius, days] : points) {
    if (celsius < 5.0) continue;
    const double rate = 1.0 / days;
    if (rate <= fastest) break;
    fastest = rate;
    n += 1.0;
    sum_t += celsius;
    sum_r += rate;
    sum_tt += celsius * celsius;
    sum_tr += celsius * rate;
  }
  if (n < 2.0) return std::nullopt;
  const double slope = (n * sum_tr - sum_t * sum_r) / (n * sum_tt - sum_t * sum_t);
  const double at_zero = (sum_r - slope * sum_t) / n;
  return ThermalTimeFit{Temperature<>::from_celsius(-at_zero / slope), (1.0 / slope) * degree_day};
}

}  // namespace leat::science
