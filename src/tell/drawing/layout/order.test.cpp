// The order of parts against every order there is, and rows that need no crossing at all.
#include "tell/drawing/layout/order.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>
#include <random>

namespace leat::tell::drawing {
namespace {

struct Network {
  int parts = 0;
  std::vector<Arc> arcs;
};

/// Crossings of one row by the plain definition: the ends of two arcs on one side alternate. Independent of the search.
int alternations(const std::vector<int>& places, const std::vector<Arc>& arcs, const std::vector<Way>& ways) {
  const auto ends = [&](std::size_t i) {
    const int a = places[static_cast<std::size_t>(arcs[i].from)], b = places[static_cast<std::size_t>(arcs[i].to)];
    return std::pair(std::min(a, b), std::max(a, b));
  };
  int count = 0;
  for (std::size_t i = 0; i < arcs.size(); ++i)
    for (std::size_t j = i + 1; j < arcs.size(); ++j) {
      if (ways[i] != ways[j] || ways[i] == Way::beside) continue;
      const auto [a, b] = ends(i);
      const auto [c, d] = ends(j);
      count += (a < c && c < b && b < d) || (c < a && a < d && d < b);
    }
  return count;
}

/// The least over all rows that start with part 0 and all ways that are allowed.
int least_of_all(const Network& n) {
  std::vector<int> row(static_cast<std::size_t>(n.parts));
  std::iota(row.begin(), row.end(), 0);
  std::vector<std::size_t> free;
  for (std::size_t i = 0; i < n.arcs.size(); ++i)
    if (n.arcs[i].falls) free.push_back(i);
  int least = 1 << 20;
  do {
    std::vector<int> places(row.size());
    for (std::size_t i = 0; i < row.size(); ++i) places[static_cast<std::size_t>(row[i])] = static_cast<int>(i);
    for (unsigned bits = 0; bits < 1u << free.size(); ++bits) {
      std::vector<Way> ways(n.arcs.size(), Way::over);
      for (std::size_t i = 0; i < free.size(); ++i)
        if (bits >> i & 1u) ways[free[i]] = Way::under;
      least = std::min(least, alternations(places, n.arcs, ways));
    }
  } while (std::next_permutation(row.begin() + 1, row.end()));
  return least;
}

/// Arcs that meet nothing at a wall, so that only alternating ends cross.
Arc plain(int from, int to, bool falls) {
  Arc arc{from, to, falls};
  arc.leaves_below = arc.ends_at_side = false;
  return arc;
}

Network random_network(unsigned seed, int parts, int arcs) {
  std::mt19937 random(seed);
  const auto below = [&](int n) { return static_cast<int>(random() % static_cast<unsigned>(n)); };
  Network n{parts, {}};
  while (static_cast<int>(n.arcs.size()) < arcs) {
    const int a = below(parts), b = below(parts);
    if (a != b) n.arcs.push_back(plain(a, b, below(2) == 0));
  }
  return n;
}

TEST(DrawingOrder, IsTheBestOfAllOrders) {
  int crossed = 0;
  for (unsigned seed = 0; seed < 40; ++seed) {
    const Network n = random_network(seed, 5 + static_cast<int>(seed % 2), 16);
    const Order order = best_order(n.parts, n.arcs, 0);
    EXPECT_EQ(order.crossings, alternations(order.places, n.arcs, order.ways));
    EXPECT_EQ(order.crossings, least_of_all(n)) << "seed " << seed;
    crossed += order.crossings > 0;
  }
  EXPECT_GT(crossed, 3) << "networks that never need a crossing test nothing";
}

TEST(DrawingOrder, PutsTheFirstPartAtTheLeftAndEachPartOnce) {
  for (unsigned seed = 0; seed < 30; ++seed) {
    const Network n = random_network(seed, 3 + static_cast<int>(seed % 12), 14);
    const Order order = best_order(n.parts, n.arcs, 1);
    EXPECT_EQ(order.places[1], 0);
    std::vector<int> sorted = order.places;
    std::sort(sorted.begin(), sorted.end());
    for (std::size_t i = 0; i < sorted.size(); ++i) EXPECT_EQ(sorted[i], static_cast<int>(i));
  }
}

TEST(DrawingOrder, KeepsPumpedWaterOverTheRow) {
  const Network n = random_network(3, 9, 20);
  const Order order = best_order(n.parts, n.arcs, 0);
  for (std::size_t i = 0; i < n.arcs.size(); ++i) EXPECT_TRUE(n.arcs[i].falls || order.ways[i] == Way::over);
}

/// Water pumped to the first of a chain, falling from one to the next, the last into the sump.
Network chain(int parts) {
  Network n{parts, {{0, 1, false}}};
  for (int i = 1; i < parts; ++i) {
    Arc arc{i, (i + 1) % parts, true};
    arc.may_step = true;
    n.arcs.push_back(arc);
  }
  return n;
}

TEST(DrawingOrder, AChainNeedsNoCrossing) {
  for (int parts = 2; parts <= 20; ++parts) {
    Network n = chain(parts);
    std::vector<int> names(static_cast<std::size_t>(parts));
    std::iota(names.begin(), names.end(), 0);
    std::shuffle(names.begin(), names.end(), std::mt19937(static_cast<unsigned>(parts)));
    for (Arc& arc : n.arcs) {
      arc.from = names[static_cast<std::size_t>(arc.from)];
      arc.to = names[static_cast<std::size_t>(arc.to)];
    }
    EXPECT_EQ(best_order(parts, n.arcs, names[0]).crossings, 0) << parts << " parts";
  }
}

/// Pumped to a junction, from there to tanks, from each tank by gravity to beds, from each bed back to the sump.
Network tree(int tanks, int beds) {
  Network n{2 + tanks + tanks * beds, {{0, 1, false}}};
  for (int t = 0; t < tanks; ++t) {
    const int tank = 2 + t;
    n.arcs.push_back({1, tank, false});
    for (int b = 0; b < beds; ++b) {
      const int bed = 2 + tanks + t * beds + b;
      Arc down{tank, bed, true}, back{bed, 0, true};
      down.may_step = back.may_step = true;
      n.arcs.push_back(down);
      n.arcs.push_back(back);
    }
  }
  return n;
}

TEST(DrawingOrder, ATreeNeedsNoCrossing) {
  for (int tanks = 1; tanks <= 4; ++tanks)
    for (int beds = 1; beds <= 4; ++beds) {
      const Network n = tree(tanks, beds);
      EXPECT_EQ(best_order(n.parts, n.arcs, 0).crossings, 0) << tanks << " tanks of " << beds << " beds";
    }
}

}  // namespace
}  // namespace leat::tell::drawing
