#include "answers/drawn.h"

#include <algorithm>
#include <cmath>

#include "answers/priors.h"
#include "science/statistics/ranks.h"
#include "science/statistics/special_functions.h"

namespace leat::answers {

namespace {

/// The largest of so many that chance reaches in nineteen of twenty, each with a spread of 1 where there is nothing.
double largest_of(std::size_t things) {
  return -science::normal_quantile(0.025 / static_cast<double>(std::max<std::size_t>(1, things)));
}

}  // namespace

double HowDrawn::by_chance() const {
  return std::min(1.0, largest_of(drawn.size()) * uncertainty);
}

std::vector<Owed> owed_most(const std::vector<Prior>& priors, const std::vector<std::vector<double>>& draws,
                            const std::vector<double>& values, std::uint64_t seed) {
  struct Candidate {
    const Prior* prior;
    std::vector<double> drawn;
    double correlation;
  };
  std::vector<Candidate> all;
  if (values.size() < 3) return {};
  const double by_chance = largest_of(priors.size()) / std::sqrt(static_cast<double>(values.size()) - 1.0);
  for (const Prior& p : priors) {
    Candidate c{&p, {}, 0.0};
    for (const auto& row : draws) c.drawn.push_back(row[p.column]);
    c.correlation = science::rank_correlation(c.drawn, values);
    if (std::abs(c.correlation) > by_chance) all.push_back(std::move(c));
  }
  std::stable_sort(all.begin(), all.end(), [](const Candidate& x, const Candidate& y) {
    return std::abs(x.correlation) > std::abs(y.correlation);
  });
  if (all.size() > 3) all.resize(3);
  std::vector<Owed> owed;
  for (const Candidate& c : all) {
    const science::Interval i = science::rank_correlation_interval(c.drawn, values, 0.9, seed + c.prior->column);
    owed.push_back({c.prior->name, c.correlation, i.low, i.high});
  }
  return owed;
}

HowDrawn how_drawn(const std::vector<Prior>& priors, int members, int stopped, std::uint64_t seed,
                   const EnsembleSize& size) {
  HowDrawn how{members, stopped, seed, size, {}, drawn_together(priors), 0.0};
  for (const Prior& p : priors) how.drawn.push_back({p.name, p.width, p.source});
  if (members > 1) how.uncertainty = 1.0 / std::sqrt(members - 1.0);
  return how;
}

EnsembleSize size_of_runs(const model::Loop& loop, int days, int asked, double budget) {
  constexpr double kCores = 2.0, kStates = 45.0, kSecond = 5e-6;
  const double one = kSecond * kStates * static_cast<double>(loop.vessels.size()) * days / kCores;
  EnsembleSize size{asked, 0.0, budget};
  if (asked < 0) size.members = 20.0 * one > 10.0 ? 0 : static_cast<int>(std::clamp(budget / one, 20.0, 200.0));
  size.about = size.members * one;
  return size;
}

}  // namespace leat::answers
