// Low, middle and high of a number that differs from run to run.
#pragma once

#include <vector>

namespace leat::answers {

/// 5, 50 and 95 % of the runs.
struct Spread {
  double low = 0.0, middle = 0.0, high = 0.0;
};

/// Linear between the sorted values; nothing but zeros of none.
Spread spread_of(std::vector<double> values);

}  // namespace leat::answers
