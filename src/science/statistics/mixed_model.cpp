#include "science/statistics/mixed_model.h"

#include <algorithm>
#include <cmath>

#include "science/statistics/special_functions.h"

namespace leat::science {
namespace {

using Row = std::vector<double>;

/// Sums of one bed, from which its part of any fit follows.
struct Bed {
  double n = 0.0, y = 0.0;
  Row x;
};

struct Sums {
  std::vector<Bed> beds;
  std::vector<Row> xx;  // over all plants
  Row xy;
  double yy = 0.0, n = 0.0;
};

Sums sums_of(std::span<const Grouped> plants) {
  const std::size_t p = plants.front().fixed.size();
  Sums s;
  s.xx.assign(p, Row(p, 0.0));
  s.xy.assign(p, 0.0);
  for (const Grouped& plant : plants) {
    if (plant.group >= s.beds.size()) s.beds.resize(plant.group + 1, Bed{0.0, 0.0, Row(p, 0.0)});
    Bed& bed = s.beds[plant.group];
    bed.n += 1.0;
    bed.y += plant.value;
    s.n += 1.0;
    s.yy += plant.value * plant.value;
    for (std::size_t i = 0; i < p; ++i) {
      bed.x[i] += plant.fixed[i];
      s.xy[i] += plant.fixed[i] * plant.value;
      for (std::size_t j = 0; j < p; ++j) s.xx[i][j] += plant.fixed[i] * plant.fixed[j];
    }
  }
  return s;
}

/// Inverse of a symmetric positive matrix by Gauss-Jordan, and the logarithm of its determinant.
bool invert(std::vector<Row>& a, double& log_det) {
  const std::size_t p = a.size();
  log_det = 0.0;
  const std::vector<Row> before = a;
  for (std::size_t k = 0; k < p; ++k) {
    const double pivot = a[k][k];
    if (!(pivot > 1e-10 * before[k][k])) return false;
    log_det += std::log(pivot);
    a[k][k] = 1.0;
    for (double& v : a[k]) v /= pivot;
    for (std::size_t i = 0; i < p; ++i) {
      if (i == k) continue;
      const double by = a[i][k];
      a[i][k] = 0.0;
      for (std::size_t j = 0; j < p; ++j) a[i][j] -= by * a[k][j];
    }
  }
  return true;
}

struct Fit {
  bool whole = false;
  Row effects;
  std::vector<Row> inverse;
  double squares = 0.0;    ///< that are left
  double criterion = 0.0;  ///< to be made small
};

/// The fit for a given ratio of the variances.
Fit fit_at(const Sums& s, double ratio) {
  const std::size_t p = s.xy.size();
  Fit fit{true, Row(p, 0.0), s.xx, s.yy, 0.0};
  Row xy = s.xy;
  for (const Bed& bed : s.beds) {
    const double less = ratio / (1.0 + bed.n * ratio);
    fit.squares -= less * bed.y * bed.y;
    fit.criterion += std::log1p(bed.n * ratio);
    for (std::size_t i = 0; i < p; ++i) {
      xy[i] -= less * bed.x[i] * bed.y;
      for (std::size_t j = 0; j < p; ++j) fit.inverse[i][j] -= less * bed.x[i] * bed.x[j];
    }
  }
  double log_det = 0.0;
  fit.whole = invert(fit.inverse, log_det);
  if (!fit.whole) return fit;
  for (std::size_t i = 0; i < p; ++i) {
    for (std::size_t j = 0; j < p; ++j) fit.effects[i] += fit.inverse[i][j] * xy[j];
  }
  for (std::size_t i = 0; i < p; ++i) fit.squares -= fit.effects[i] * xy[i];
  fit.squares = std::max(fit.squares, 1e-300);
  fit.criterion += log_det + (s.n - static_cast<double>(p)) * std::log(fit.squares);
  return fit;
}

/// The ratio whose criterion is least: coarse along its logarithm, then by golden section; or 0.
double best_ratio(const Sums& s) {
  const auto at = [&](double log_ratio) { return fit_at(s, std::exp(log_ratio)).criterion; };
  double best = -14.0;
  for (double x = -14.0; x <= 10.0; x += 0.5)
    if (at(x) < at(best)) best = x;
  double low = best - 0.5, high = best + 0.5;
  constexpr double kGolden = 0.6180339887498949;
  while (high - low > 1e-10) {
    const double a = high - kGolden * (high - low), b = low + kGolden * (high - low);
    (at(a) < at(b) ? high : low) = at(a) < at(b) ? b : a;
  }
  const double ratio = std::exp(0.5 * (low + high));
  return fit_at(s, 0.0).criterion <= fit_at(s, ratio).criterion ? 0.0 : ratio;
}

}  // namespace

double MixedFit::intraclass() const {
  const double b = between * between;
  return b > 0.0 ? b / (b + within * within) : 0.0;
}

Interval MixedFit::interval(std::size_t column, double level) const {
  const double half = student_t_quantile(0.5 + 0.5 * level, degrees) * errors[column];
  return {effects[column] - half, effects[column] + half};
}

std::optional<MixedFit> mixed_model(std::span<const Grouped> plants) {
  if (plants.empty()) return std::nullopt;
  // Values around their mean: sums of squares of what is left lose no digits.
  double mean = 0.0;
  for (const Grouped& plant : plants) mean += plant.value / static_cast<double>(plants.size());
  std::vector<Grouped> centred(plants.begin(), plants.end());
  for (Grouped& plant : centred) plant.value -= mean;
  const Sums s = sums_of(centred);
  const std::size_t p = s.xy.size();
  const double groups =
      static_cast<double>(std::count_if(s.beds.begin(), s.beds.end(), [](const Bed& b) { return b.n > 0.0; }));
  const double columns = static_cast<double>(p);
  if (groups <= columns || s.n <= columns || !fit_at(s, 0.0).whole) return std::nullopt;
  const double ratio = best_ratio(s);
  const Fit fit = fit_at(s, ratio);
  if (!fit.whole) return std::nullopt;
  const double variance = fit.squares / (s.n - columns);
  MixedFit out{fit.effects, {}, std::sqrt(ratio * variance), std::sqrt(variance), groups, groups - columns};
  out.effects[0] += mean;  // the first column is the constant
  for (std::size_t i = 0; i < p; ++i) out.errors.push_back(std::sqrt(variance * fit.inverse[i][i]));
  return out;
}

}  // namespace leat::science
