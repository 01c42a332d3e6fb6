#include "tell/drawing/layout/order.h"

#include <algorithm>
#include <cstdlib>
#include <numeric>

#include "tell/drawing/layout/shapes.h"

namespace leat::tell::drawing {
namespace {

constexpr int kAllOrdersUpTo = 8;
/// Pairs of arcs looked at before the search is content; about half a second.
constexpr long kPatience = 60'000'000;

struct Span {
  int low = 0, high = 0;
};

/// What an order costs: crossings count first, then how far and how oddly its pipes run.
struct Cost {
  int crossings = 0;
  double ways = 0.0;
  bool operator<(const Cost& o) const {
    return crossings != o.crossings ? crossings < o.crossings : ways < o.ways - 1e-9;
  }
};

class Row {
  std::span<const Arc> arcs_;
  const std::vector<int>& places_;
  std::vector<Span> spans_;
  std::vector<Way> ways_;
  long looks_ = 0;

 public:
  Row(std::span<const Arc> arcs, const std::vector<int>& places) : arcs_(arcs), places_(places) {
    for (const Arc& arc : arcs) {
      const int a = places[at(arc.from)], b = places[at(arc.to)];
      spans_.push_back({std::min(a, b), std::max(a, b)});
      const bool neighbours = std::abs(a - b) == 1;
      ways_.push_back(!arc.falls ? Way::over : arc.may_step && neighbours ? Way::beside : Way::under);
    }
    improve();
  }
  const std::vector<Way>& ways() const { return ways_; }
  long looks() const { return looks_; }

  Cost cost() const {
    Cost c;
    for (std::size_t i = 0; i < arcs_.size(); ++i) {
      c.ways += cost_of(i, ways_[i]);
      for (std::size_t j = i + 1; j < arcs_.size(); ++j) c.crossings += cross(i, j, ways_[i], ways_[j]);
    }
    return c;
  }

 private:
  double cost_of(std::size_t i, Way way) const {
    const double length = spans_[i].high - spans_[i].low;
    if (way == Way::beside) return 0.3;
    if (way == Way::under) return length + (length == 1 ? 1.0 : 0.0);
    return length + (arcs_[i].falls ? 6.0 : 0.0);
  }

  /// Under the row, at a part where one arc comes in at the side and another leaves on the same side between the walls:
  /// they cross if the one that leaves turns in first.
  bool meet_at(int part, std::size_t in, std::size_t out) const {
    if (arcs_[in].to != part || arcs_[out].from != part || !arcs_[in].ends_at_side || !arcs_[out].leaves_below)
      return false;
    const int here = places_[at(part)], a = places_[at(arcs_[in].from)], b = places_[at(arcs_[out].to)];
    return (a < here) == (b < here) && std::abs(b - here) <= std::abs(a - here);
  }

  /// A low step, and what comes in from under the row through the wall that it passes.
  bool meet_step(std::size_t step, std::size_t in) const {
    const int part = arcs_[in].to, here = places_[at(part)];
    const bool low =
        (arcs_[step].from == part && arcs_[step].low_at_from) || (arcs_[step].to == part && arcs_[step].low_at_to);
    const int beyond = arcs_[step].from == part ? arcs_[step].to : arcs_[step].from;
    return low && arcs_[in].ends_at_side && (places_[at(arcs_[in].from)] < here) == (places_[at(beyond)] < here);
  }

  int cross(std::size_t i, std::size_t j, Way one, Way other) const {
    if (one == Way::beside && other == Way::under) return meet_step(i, j);
    if (other == Way::beside && one == Way::under) return meet_step(j, i);
    if (one != other || one == Way::beside) return 0;
    const Span &a = spans_[i], &b = spans_[j];
    const bool alternate =
        (a.low < b.low && b.low < a.high && a.high < b.high) || (b.low < a.low && a.low < b.high && b.high < a.high);
    if (alternate || one == Way::over) return alternate;
    return meet_at(arcs_[i].to, i, j) + meet_at(arcs_[j].to, j, i);
  }

  Cost cost_at(std::size_t i, Way way) {
    Cost c{0, cost_of(i, way)};
    for (std::size_t j = 0; j < arcs_.size(); ++j)
      if (j != i) c.crossings += cross(i, j, way, ways_[j]);
    looks_ += static_cast<long>(arcs_.size());
    return c;
  }

  /// Turns single arcs over while that helps.
  void improve() {
    for (bool changed = true; changed;) {
      changed = false;
      for (std::size_t i = 0; i < arcs_.size(); ++i) {
        if (!arcs_[i].falls || ways_[i] == Way::beside) continue;
        const Way other = ways_[i] == Way::over ? Way::under : Way::over;
        if (!(cost_at(i, other) < cost_at(i, ways_[i]))) continue;
        ways_[i] = other;
        changed = true;
      }
    }
  }
};

std::vector<int> places_of(const std::vector<int>& row) {
  std::vector<int> places(row.size());
  for (std::size_t i = 0; i < row.size(); ++i) places[at(row[i])] = static_cast<int>(i);
  return places;
}

/// Keeps the best row seen.
class Search {
  std::span<const Arc> arcs_;
  std::vector<int> best_;
  Cost cost_;
  long looks_ = 0;

 public:
  Search(std::span<const Arc> arcs, const std::vector<int>& row) : arcs_(arcs) { take(row, cost_of(row)); }
  const std::vector<int>& best() const { return best_; }
  bool tired() const { return looks_ > kPatience; }

  bool offer(const std::vector<int>& row) {
    const Cost c = cost_of(row);
    if (!(c < cost_)) return false;
    take(row, c);
    return true;
  }

 private:
  Cost cost_of(const std::vector<int>& row) {
    const std::vector<int> places = places_of(row);
    const Row arcs(arcs_, places);
    looks_ += arcs.looks() + static_cast<long>(arcs_.size() * arcs_.size()) / 2;
    return arcs.cost();
  }
  void take(const std::vector<int>& row, const Cost& cost) {
    best_ = row;
    cost_ = cost;
  }
};

void try_all(Search& search, std::vector<int> row) {
  std::sort(row.begin() + 1, row.end());
  do search.offer(row);
  while (std::next_permutation(row.begin() + 1, row.end()));
}

/// Each part goes to the mean place of those it is joined to, again and again.
void sweep(Search& search, std::vector<int> row, std::span<const Arc> arcs) {
  for (int round = 0; round < 12; ++round) {
    const std::vector<int> places = places_of(row);
    std::vector<double> sum(row.size(), 0.0), count(row.size(), 0.0);
    for (const Arc& arc : arcs)
      for (const auto& [one, other] : {std::pair{arc.from, arc.to}, std::pair{arc.to, arc.from}}) {
        sum[at(one)] += places[at(other)];
        count[at(one)] += 1.0;
      }
    const auto wanted = [&](int part) {
      const double own = places[at(part)];
      return count[at(part)] > 0.0 ? 0.5 * own + 0.5 * sum[at(part)] / count[at(part)] : own;
    };
    std::stable_sort(row.begin() + 1, row.end(), [&](int a, int b) { return wanted(a) < wanted(b); });
    search.offer(row);
  }
}

/// Moves one part, or a run of two or three, to each other place while it helps.
void move_parts(Search& search) {
  for (bool changed = true; changed && !search.tired();) {
    changed = false;
    const int n = static_cast<int>(search.best().size());
    for (int length = 1; length <= 3; ++length)
      for (int from = 1; from + length <= n; ++from)
        for (int to = 1; to + length <= n && !search.tired(); ++to) {
          if (to == from) continue;
          std::vector<int> row = search.best();
          const std::vector<int> run(row.begin() + from, row.begin() + from + length);
          row.erase(row.begin() + from, row.begin() + from + length);
          row.insert(row.begin() + to, run.begin(), run.end());
          changed = search.offer(row) || changed;
        }
  }
}

/// The parts as the water reaches them from the first: `deep` follows one branch to its end, else all branches a step.
std::vector<int> by_reach(int parts, std::span<const Arc> arcs, int first, bool deep) {
  std::vector<int> row, waiting{first};
  std::vector<bool> seen(at(parts), false);
  for (int next_seed = 0; static_cast<int>(row.size()) < parts;) {
    while (waiting.empty()) {
      if (!seen[at(next_seed)]) waiting.push_back(next_seed);
      ++next_seed;
    }
    const auto it = deep ? waiting.end() - 1 : waiting.begin();
    const int part = *it;
    waiting.erase(it);
    if (seen[at(part)]) continue;
    seen[at(part)] = true;
    row.push_back(part);
    for (const Arc& arc : arcs)
      if (arc.from == part && !seen[at(arc.to)]) waiting.push_back(arc.to);
  }
  return row;
}

}  // namespace

Order with_best_ways(std::vector<int> places, std::span<const Arc> arcs) {
  Order order{std::move(places), {}, 0};
  const Row row(arcs, order.places);
  order.ways = row.ways();
  order.crossings = row.cost().crossings;
  return order;
}

Order best_order(int parts, std::span<const Arc> arcs, int first) {
  if (parts == 0) return {};
  const std::vector<int> wide = by_reach(parts, arcs, first, false), deep = by_reach(parts, arcs, first, true);
  Search search(arcs, wide);
  search.offer(deep);
  if (parts <= kAllOrdersUpTo) {
    try_all(search, wide);
  } else {
    for (const auto& start : {wide, deep}) {
      Search own(arcs, start);
      sweep(own, start, arcs);
      move_parts(own);
      search.offer(own.best());
    }
  }
  return with_best_ways(places_of(search.best()), arcs);
}

}  // namespace leat::tell::drawing
