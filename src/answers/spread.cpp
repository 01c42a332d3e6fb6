#include "answers/spread.h"

#include <algorithm>

namespace leat::answers {

Spread spread_of(std::vector<double> values) {
  if (values.empty()) return {};
  std::sort(values.begin(), values.end());
  const auto quantile = [&](double share) {
    const double place = share * static_cast<double>(values.size() - 1);
    const auto below = static_cast<std::size_t>(place);
    const std::size_t above = std::min(below + 1, values.size() - 1);
    if (values[above] == values[below] || place == static_cast<double>(below))
      return values[below];  // never is infinite
    return values[below] + (place - static_cast<double>(below)) * (values[above] - values[below]);
  };
  return {quantile(0.05), quantile(0.5), quantile(0.95)};
}

}  // namespace leat::answers
