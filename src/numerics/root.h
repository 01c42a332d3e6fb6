// A root of one equation between two ends where the function changes sign.
#pragma once

#include <cmath>
#include <utility>

namespace leat::numerics {

/// Root of f in [low, high]; f(low) and f(high) must not have the same strict sign, else the end with the smaller |f|
/// is returned. Illinois false position with bisection when it lags; ends when the bracket is narrower than `width`.
template <class F>
double bracketed_root(F&& f, double low, double high, double width) {
  double f_low = f(low), f_high = f(high);
  if (f_low == 0.0) return low;
  if (f_high == 0.0) return high;
  if ((f_low > 0.0) == (f_high > 0.0)) return std::abs(f_low) < std::abs(f_high) ? low : high;
  for (int i = 0; i < 200 && std::abs(high - low) > width; ++i) {
    double middle = (low * f_high - high * f_low) / (f_high - f_low);
    if (i % 3 == 2 || !(middle > std::min(low, high) && middle < std::max(low, high))) middle = 0.5 * (low + high);
    const double f_middle = f(middle);
    if (f_middle == 0.0) return middle;
    if ((f_middle > 0.0) == (f_high > 0.0)) {
      high = middle;
      f_high = f_middle;
      f_low *= 0.5;
    } else {
      low = middle;
      f_low = f_middle;
      f_high *= 0.5;
    }
  }
  return std::abs(f_low) < std::abs(f_high) ? low : high;
}

}  // namespace leat::numerics
