#include "science/statistics/ranks.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <random>

#include "science/statistics/special_functions.h"

namespace leat::science {
namespace {

using Matrix = std::vector<std::vector<double>>;

std::vector<std::size_t> order_of(const std::vector<double>& values) {
  std::vector<std::size_t> order(values.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return values[a] < values[b]; });
  return order;
}

/// Ranks where each value stands so many times. Those that stand nowhere get none.
void rank_counted(const std::vector<double>& values, const std::vector<std::size_t>& order,
                  const std::vector<int>& times, std::vector<double>& rank) {
  double before = 0.0;
  for (std::size_t i = 0; i < order.size();) {
    double tied = 0.0;
    std::size_t end = i;
    for (; end < order.size() && values[order[end]] == values[order[i]]; ++end) tied += times[order[end]];
    for (std::size_t k = i; k < end; ++k) rank[order[k]] = before + 0.5 * (tied - 1.0);
    before += tied;
    i = end;
  }
}

double correlation(const std::vector<double>& a, const std::vector<double>& b, const std::vector<int>& times,
                   double middle) {
  double ab = 0.0, aa = 0.0, bb = 0.0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    ab += times[i] * (a[i] - middle) * (b[i] - middle);
    aa += times[i] * (a[i] - middle) * (a[i] - middle);
    bb += times[i] * (b[i] - middle) * (b[i] - middle);
  }
  return aa > 0.0 && bb > 0.0 ? ab / std::sqrt(aa * bb) : 0.0;
}

/// Lower triangle L with L L^T = m; false where there is none.
bool cholesky(const Matrix& m, Matrix& l) {
  l = Matrix(m.size(), std::vector<double>(m.size(), 0.0));
  for (std::size_t i = 0; i < m.size(); ++i)
    for (std::size_t j = 0; j <= i; ++j) {
      double left = m[i][j];
      for (std::size_t k = 0; k < j; ++k) left -= l[i][k] * l[j][k];
      if (i == j && left <= 1e-12) return false;
      l[i][j] = i == j ? std::sqrt(left) : left / l[j][j];
    }
  return true;
}

/// Columns that go together directly or by others between them.
std::vector<std::vector<std::size_t>> groups(const std::vector<RankPair>& wanted) {
  std::vector<std::vector<std::size_t>> all;
  for (const RankPair& pair : wanted) {
    std::vector<std::size_t> joined{pair.one, pair.other};
    std::erase_if(all, [&](const std::vector<std::size_t>& g) {
      const bool meets =
          std::any_of(g.begin(), g.end(), [&](std::size_t c) { return c == pair.one || c == pair.other; });
      if (meets) joined.insert(joined.end(), g.begin(), g.end());
      return meets;
    });
    std::sort(joined.begin(), joined.end());
    joined.erase(std::unique(joined.begin(), joined.end()), joined.end());
    all.push_back(std::move(joined));
  }
  return all;
}

Matrix wanted_of(const std::vector<std::size_t>& group, const std::vector<RankPair>& wanted) {
  Matrix c(group.size(), std::vector<double>(group.size(), 0.0));
  const auto place = [&](std::size_t column) {
    return static_cast<std::size_t>(std::find(group.begin(), group.end(), column) - group.begin());
  };
  for (std::size_t i = 0; i < group.size(); ++i) c[i][i] = 1.0;
  for (const RankPair& p : wanted)
    if (const std::size_t a = place(p.one), b = place(p.other); a < group.size() && b < group.size())
      c[a][b] = c[b][a] = 2.0 * std::sin(std::numbers::pi * p.correlation / 6.0);
  return c;
}

std::vector<double> column_of(const Matrix& rows, std::size_t column) {
  std::vector<double> values;
  for (const auto& row : rows) values.push_back(row[column]);
  return values;
}

std::vector<double> normal_scores(const std::vector<double>& values) {
  std::vector<double> scores = ranks_of(values);
  for (double& s : scores) s = normal_quantile((s + 1.0) / (static_cast<double>(values.size()) + 1.0));
  return scores;
}

/// Correlation of scores, whose mean is 0.
Matrix correlation_of(const Matrix& scores) {
  const std::vector<int> once(scores.front().size(), 1);
  Matrix t(scores.size(), std::vector<double>(scores.size(), 1.0));
  for (std::size_t i = 0; i < scores.size(); ++i)
    for (std::size_t j = 0; j < i; ++j) t[i][j] = t[j][i] = correlation(scores[i], scores[j], once, 0.0);
  return t;
}

/// Row by row: first Q^-1 takes out what chance brought, then P puts in what is wanted.
void recombine(Matrix& scores, const Matrix& p, const Matrix* q) {
  const std::size_t k = scores.size();
  std::vector<double> free(k);
  for (std::size_t m = 0; m < scores.front().size(); ++m) {
    for (std::size_t i = 0; i < k; ++i) {
      free[i] = scores[i][m];
      if (!q) continue;
      for (std::size_t j = 0; j < i; ++j) free[i] -= (*q)[i][j] * free[j];
      free[i] /= (*q)[i][i];
    }
    for (std::size_t i = 0; i < k; ++i) {
      scores[i][m] = 0.0;
      for (std::size_t j = 0; j <= i; ++j) scores[i][m] += p[i][j] * free[j];
    }
  }
}

/// The column's own values in the order of the scores.
void reorder(Matrix& rows, std::size_t column, const std::vector<double>& scores) {
  std::vector<double> values = column_of(rows, column);
  std::sort(values.begin(), values.end());
  const std::vector<std::size_t> order = order_of(scores);
  for (std::size_t i = 0; i < order.size(); ++i) rows[order[i]][column] = values[i];
}

}  // namespace

std::vector<double> ranks_of(const std::vector<double>& values) {
  std::vector<double> rank(values.size());
  rank_counted(values, order_of(values), std::vector<int>(values.size(), 1), rank);
  return rank;
}

double rank_correlation(const std::vector<double>& x, const std::vector<double>& y) {
  return correlation(ranks_of(x), ranks_of(y), std::vector<int>(x.size(), 1),
                     0.5 * (static_cast<double>(x.size()) - 1.0));
}

Interval rank_correlation_interval(const std::vector<double>& x, const std::vector<double>& y, double level,
                                   std::uint64_t seed, int resamples) {
  const std::size_t n = x.size();
  if (n == 0 || resamples < 1) return {0.0, 0.0};
  const std::vector<std::size_t> by_x = order_of(x), by_y = order_of(y);
  std::mt19937_64 random(seed);
  std::vector<double> a(n), b(n), all;
  for (int r = 0; r < resamples; ++r) {
    std::vector<int> times(n, 0);
    for (std::size_t i = 0; i < n; ++i) ++times[random() % n];
    rank_counted(x, by_x, times, a);
    rank_counted(y, by_y, times, b);
    all.push_back(correlation(a, b, times, 0.5 * (static_cast<double>(n) - 1.0)));
  }
  std::sort(all.begin(), all.end());
  const auto at = [&](double share) {
    return all[static_cast<std::size_t>(std::lround(share * static_cast<double>(all.size() - 1)))];
  };
  return {at(0.5 * (1.0 - level)), at(0.5 * (1.0 + level))};
}

bool correlate_by_rank(Matrix& rows, const std::vector<RankPair>& wanted) {
  const auto all = groups(wanted);
  std::vector<Matrix> targets(all.size());
  for (std::size_t g = 0; g < all.size(); ++g)
    if (!cholesky(wanted_of(all[g], wanted), targets[g])) return false;
  for (std::size_t g = 0; g < all.size() && !rows.empty(); ++g) {
    Matrix scores;
    for (const std::size_t column : all[g]) scores.push_back(normal_scores(column_of(rows, column)));
    Matrix q;
    const bool enough = rows.size() > 2 * all[g].size() && cholesky(correlation_of(scores), q);
    recombine(scores, targets[g], enough ? &q : nullptr);
    for (std::size_t i = 0; i < all[g].size(); ++i) reorder(rows, all[g][i], scores[i]);
  }
  return true;
}

}  // namespace leat::science
