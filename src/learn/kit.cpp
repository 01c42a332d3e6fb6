#include "learn/kit.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace leat::learn {
namespace {

constexpr std::array kLowChart = {0.0, 0.25, 0.5, 1.0, 2.0, 4.0, 8.0};
constexpr std::array kNitrateChart = {0.0, 5.0, 10.0, 20.0, 40.0, 80.0, 160.0};

/// More than anything that is read.
constexpr double kOpen = 1e9;

/// Half way to the colours beside it, in the numbers of the chart.
template <std::size_t N>
std::optional<Between> on_chart(const std::array<double, N>& chart, double typed) {
  for (std::size_t i = 0; i < N; ++i) {
    if (std::abs(chart[i] - typed) > 1e-9) continue;
    const double below = i == 0 ? typed : 0.5 * (chart[i - 1] + typed);
    const double above = i + 1 == N ? kOpen : 0.5 * (typed + chart[i + 1]);  // the last colour stands for all beyond
    return Between{below, above};
  }
  return std::nullopt;
}

bool is_multiple(double value, double step) {
  return std::abs(value / step - std::round(value / step)) < 1e-6;
}

}  // namespace

double step_of(const std::vector<const Reading*>& readings) {
  for (const double step : {5.0, 2.0, 1.0, 0.5, 0.25, 0.2, 0.1, 0.05, 0.02, 0.01})
    if (std::all_of(readings.begin(), readings.end(), [&](const Reading* r) { return is_multiple(r->typed, step); })) {
      const double factor =
          readings.empty() || readings[0]->typed == 0.0 ? 1.0 : readings[0]->high / readings[0]->typed;
      const bool warmth = !readings.empty() && readings[0]->what.ends_with("temperature");
      return step * (warmth || !(factor > 0.0) ? 1.0 : factor);
    }
  return 0.01;
}

Between between(const Reading& r, double step) {
  const bool low_chart = r.what == "ammonia" || r.what == "nitrite";
  if (r.basis_said && r.high - r.low > 1e-9 * std::abs(r.high)) return {r.low, r.high};
  if (low_chart || r.what == "nitrate") {
    const auto chart = low_chart ? on_chart(kLowChart, r.typed) : on_chart(kNitrateChart, r.typed);
    const double most = r.typed > 0.0 ? r.high / r.typed : 1.0, least = r.typed > 0.0 ? r.low / r.typed : 1.0;
    if (chart) return {chart->low * least, chart->high * most};
  }
  return {r.low - 0.5 * step, r.high + 0.5 * step};
}

}  // namespace leat::learn
