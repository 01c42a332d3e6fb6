// Fish brought from one water into another: how large a step they bear, and how slowly the rest is taken.
#pragma once

#include <algorithm>
#include <cmath>

#include "base/units/quantity.h"

namespace leat::science {

/// Steps of temperature that fish bear at once, and with care (common practice, no source).
inline constexpr TemperatureDifference<> free_step{3.0}, careful_step{5.0};
/// Rates of tempering, K per hour: what valued stock is given (2 to 3, common practice), and the most for fingerlings
/// upwards and downwards (Louisiana State University extension: 7 to 8 degF up, 5 degF down per half hour).
inline constexpr double gentle_tempering = 2.5, fastest_up = 8.3, fastest_down = 5.6;
/// A step of pH that is borne at once, and the time that each further one of the same size takes: 0.5 in 15 to 30
/// minutes (common practice, no source).
inline constexpr double free_acidity_step = 0.5;
inline constexpr Duration<> time_of_acidity_step{30.0 * 60.0};

/// Time over which fish are brought from one temperature to another at the gentle rate: none up to 3 K, else all of
/// the difference at 2.5 K an hour.
///
/// beyond   the largest differences kill whatever the time: the fish's own limits stand
inline Duration<> tempering_time(TemperatureDifference<> step) {
  const double size = std::abs(step.si());
  return Duration<>(size <= free_step.si() ? 0.0 : size / gentle_tempering * 3600.0);
}

/// The shortest time at the rate of the extension service: up at 8.3, down at 5.6 K an hour.
inline Duration<> shortest_tempering(TemperatureDifference<> step) {
  const double size = std::abs(step.si());
  return Duration<>(size <= free_step.si() ? 0.0 : size / (step.si() > 0.0 ? fastest_up : fastest_down) * 3600.0);
}

/// Time over which fish are brought from one pH to another: none up to 0.5, else half an hour for each further 0.5.
inline Duration<> acidity_tempering_time(double step) {
  return std::max(0.0, std::abs(step) / free_acidity_step - 1.0) * time_of_acidity_step;
}

}  // namespace leat::science
