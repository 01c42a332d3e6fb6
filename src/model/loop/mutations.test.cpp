// A good description whose lines are mixed up and whose values are exchanged: it is refused with words, or makes a loop
// of which every number can be computed with.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <random>
#include <set>
#include <sstream>

#include "model/loop/loop.h"

namespace leat::model {
namespace {

std::vector<std::string> lines_of(const std::string& path) {
  std::ifstream in(std::string(LEAT_ROOT) + "/" + path, std::ios::binary);
  std::vector<std::string> lines;
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

bool fine(double x, double low, double high) {
  return std::isfinite(x) && x >= low && x <= high;
}

void check_vessels(const Loop& loop) {
  for (const Vessel& v : loop.vessels) {
    EXPECT_TRUE(fine(v.depth().si(), 0.0199, 10.01)) << v.path << " depth " << v.depth().si();
    EXPECT_TRUE(fine(v.area.si(), 0.999e-3, 1001.0)) << v.path << " area " << v.area.si();
    EXPECT_TRUE(fine(v.porosity, 0.1, 1.0)) << v.path;
    EXPECT_TRUE(fine(v.film_area.si(), 0.0, 1e7)) << v.path;
    EXPECT_TRUE(fine(v.cover, 0.0, 1.0) && fine(v.shade, 0.0, 1.0) && fine(v.cladding_share, 0.0, 1.0)) << v.path;
    EXPECT_TRUE(v.buried.si() >= 0.0 && v.buried.si() <= v.depth().si() + 1e-5) << v.path;
    for (const auto& level : {v.level_at_rest, v.held_level})
      EXPECT_TRUE(!level || fine(level->si(), v.floor.si() - 1e-9, v.rim.si() + 1e-9)) << v.path;
    if (v.wall_thickness.si() <= 0.0) ADD_FAILURE() << v.path << " has no wall";
  }
}

void check_plumbing_of(const Loop& loop) {
  const int vessels = static_cast<int>(loop.vessels.size());
  const auto is_vessel = [&](int v) { return v >= 0 && v < vessels; };
  for (const Pump& p : loop.pumps) {
    EXPECT_TRUE(is_vessel(p.vessel)) << p.path;
    EXPECT_TRUE(fine(p.curve.largest().si(), 1e-9, 1e3)) << p.path;
    EXPECT_TRUE(fine(p.curve.head(Flow<>(0.0)).si(), 1e-6, 1e3)) << p.path;
    EXPECT_TRUE(p.power ? p.power->si() > 0.0 : p.efficiency > 0.0) << p.path;
    const auto feeds = std::count_if(loop.pipes.begin(), loop.pipes.end(), [&](const Pipe& pipe) {
      return pipe.from.what == End::What::pump && &loop.pumps[static_cast<std::size_t>(pipe.from.index)] == &p;
    });
    EXPECT_EQ(feeds, 1) << p.path;
  }
  for (const Pipe& p : loop.pipes) {
    EXPECT_TRUE(fine(p.run.bore.si(), 0.002, 1.0) && fine(p.run.length.si(), 0.0, 500.0)) << p.path;
    EXPECT_TRUE(fine(p.run.minor_losses.si(), 0.0, 1e6)) << p.path;
    EXPECT_FALSE(p.from.what == p.to.what && p.from.index == p.to.index) << p.path;
  }
  for (const Overflow& o : loop.overflows) {
    ASSERT_TRUE(is_vessel(o.from) && is_vessel(o.to)) << o.path;
    const Vessel& v = loop.vessels[static_cast<std::size_t>(o.from)];
    EXPECT_NE(o.from, o.to) << o.path;
    EXPECT_TRUE(o.rim > v.floor && o.rim <= v.rim) << o.path;
  }
}

void check_life(const Loop& loop) {
  for (const FishGroup& f : loop.fish) {
    EXPECT_TRUE(f.vessel >= 0 && fine(f.count, 0.0, 1e6) && f.mass.si() > 0.0 && !f.meals.empty()) << f.path;
  }
  for (const Planting& p : loop.plantings) {
    EXPECT_TRUE(p.vessel >= 0 && p.places >= 1.0) << p.path << " has " << p.places;
    EXPECT_TRUE(fine(p.area.si(), 1e-6, 1e4)) << p.path;
  }
  for (const Source& s : loop.sources) EXPECT_GE(s.vessel, 0) << s.path;
  EXPECT_LT(loop.limits.temperature_low.kelvin(), loop.limits.temperature_high.kelvin());
  EXPECT_LT(loop.limits.pH_low, loop.limits.pH_high);
}

void check_paths(const Loop& loop) {
  std::set<std::string> paths;
  const auto once = [&](const auto& parts) {
    for (const auto& part : parts) EXPECT_TRUE(paths.insert(part.path).second) << part.path << " is there twice";
  };
  once(loop.vessels), once(loop.pumps), once(loop.pipes), once(loop.overflows), once(loop.fish), once(loop.plantings);
  for (const Assumption& a : loop.assumptions) EXPECT_FALSE(a.value.empty() || a.reason.empty()) << a.path;
}

constexpr const char* kOddValues[] = {
    "\"0 m\"",
    "\"1e-300 m\"",
    "\"0.02 m\"",
    "\"9.9 m\"",
    "\"-0.5 m\"",
    "\"1 mm\"",
    "\"50 m\"",
    "\"1 L\"",
    "\"500 m3\"",
    "\"1000 m2\"",
    "\"0.001 m2\"",
    "0",
    "1",
    "-1",
    "1e308",
    "nan",
    "inf",
    "\"0 L/h\"",
    "\"4 L/h\"",
    "\"0 mg/L\"",
    "\"0 mg/L as N\"",
    "\"-3 x elbow\"",
    "[]",
    "[\"-3 x elbow\"]",
    "[\"9e9 x exit\"]",
    "true",
    "false",
    "\"\"",
    "\"none\"",
    "\"tank.nursery\"",
    "\"sump.main\"",
    "[\"24:00\"]",
    "2026-02-28",
    "0.5",
    "\"100 %\"",
    "[[\"0 L/h\", \"4 m\"], [\"0.0000001 L/h\", \"3 m\"]]",
    "[[\"0 L/h\", \"4 m\"], [\"100 L/h\", \"3.9999999 m\"], [\"100.0000001 L/h\", \"1 m\"]]"};

class Mixer {
  std::mt19937_64 random_;

 public:
  explicit Mixer(std::uint64_t seed) : random_(seed) {}
  std::size_t below(std::size_t n) { return static_cast<std::size_t>(random_() % n); }

  /// One change: a line left out, doubled or moved, or its value exchanged for another's or for an odd one.
  void change(std::vector<std::string>& lines) {
    const std::size_t at = below(lines.size());
    const std::size_t equals = lines[at].find('=');
    const auto value_of_another = [&] {
      const std::string& other = lines[below(lines.size())];
      return other.find('=') == std::string::npos ? std::string("1") : other.substr(other.find('=') + 1);
    };
    switch (below(5)) {
      case 0:
        lines.erase(lines.begin() + static_cast<std::ptrdiff_t>(at));
        return;
      case 1:
        std::swap(lines[at], lines[below(lines.size())]);
        return;
      case 2:
        if (equals != std::string::npos) lines[at] = lines[at].substr(0, equals + 1) + value_of_another();
        return;
      default:
        if (equals != std::string::npos)
          lines[at] = lines[at].substr(0, equals + 1) + ' ' + kOddValues[below(std::size(kOddValues))];
    }
  }
};

/// The share of trials in which a loop was made.
double share_made(const std::vector<std::string>& good, std::uint64_t seed, int trials) {
  Mixer mixer(seed);
  int made = 0;
  for (int trial = 0; trial < trials; ++trial) {
    std::vector<std::string> lines = good;
    for (std::size_t k = 0; k <= mixer.below(3); ++k) mixer.change(lines);
    std::string text;
    for (const std::string& line : lines) text += line + '\n';
    Problems problems;
    const Loop loop = make_loop(read_description(text, "loop.toml", problems), problems);
    if (!problems.empty()) continue;
    ++made;
    check_vessels(loop);
    check_plumbing_of(loop);
    check_life(loop);
    check_paths(loop);
    if (::testing::Test::HasFailure()) {
      ADD_FAILURE() << "made of:\n" << text;
      break;
    }
  }
  return static_cast<double>(made) / trials;
}

TEST(Mutations, OfTheExampleAreRefusedOrSound) {
  const double made = share_made(lines_of("examples/first-loop/loop.toml"), 1, 3000);
  EXPECT_GT(made, 0.1);
  EXPECT_LT(made, 0.9);
}

TEST(Mutations, OfARingMainAreRefusedOrSound) {
  const double made = share_made(lines_of("tests/cases/case-2a.toml"), 2, 2000);
  EXPECT_GT(made, 0.1);
  EXPECT_LT(made, 0.9);
}

}  // namespace
}  // namespace leat::model
