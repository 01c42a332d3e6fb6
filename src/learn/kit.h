// What a kit's number can mean: the interval between the steps that it knows.
#pragma once

#include "learn/history.h"

namespace leat::learn {

/// The interval that a reading stands for. One that was noted as an interval is that; a single number reaches half way
/// to the steps beside it: those of the usual charts for ammonia, nitrite and nitrate (0, 0.25, 0.5, 1, 2, 4, 8; 0, 5,
/// 10, 20, 40, 80, 160; common practice), else half of the coarsest step of which all numbers of that kind are
/// multiples.
struct Between {
  double low = 0.0, high = 0.0;
  double width() const { return high - low; }
  /// How far a value lies outside: below is negative, 0 within.
  double miss(double value) const { return value < low ? value - low : value > high ? value - high : 0.0; }
};

/// The step of a kind of reading, in its unit: from all numbers that were noted of it.
double step_of(const std::vector<const Reading*>& readings);
Between between(const Reading& reading, double step);

}  // namespace leat::learn
