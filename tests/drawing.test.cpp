// The drawing of a loop, read back from its SVG: true heights, no words over vessels, no crossing where none is needed.
#include <fmt/core.h>
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <limits>

#include "base/words/quantities.h"
#include "tell/drawing/layout/sheet.h"
#include "tell/tell.h"
#include "tests/drawings/random_loop.h"
#include "tests/drawings/svg_reader.h"
#include "tests/loop_file.h"

namespace leat {
namespace {

using tests::Drawing;
using tests::DrawnLoop;

namespace fs = std::filesystem;

std::vector<std::string> loop_files() {
  std::vector<std::string> files{"tests/drawings/twelve.toml"};
  for (const char* folder : {"examples", "tests/cases"})
    for (const auto& entry : fs::recursive_directory_iterator(fs::path(LEAT_ROOT) / folder))
      if (entry.path().extension() == ".toml") files.push_back(fs::relative(entry.path(), LEAT_ROOT).string());
  std::sort(files.begin(), files.end());
  return files;
}

DrawnLoop checked(const std::string& path) {
  DrawnLoop drawn;
  drawn.loop = tests::read_loop(path);
  drawn.answer = answers::check(drawn.loop);
  return drawn;
}

Drawing drawing_of(const DrawnLoop& drawn) {
  return tests::read_drawing(tell::drawing_svg(drawn.loop, drawn.answer));
}

void expect_true_heights(const DrawnLoop& drawn, const Drawing& d) {
  ASSERT_EQ(d.vessels.size(), drawn.loop.vessels.size());
  ASSERT_GE(d.scale.size(), 2u);
  const auto low = *d.scale.begin(), high = *std::prev(d.scale.end());
  const auto metres = [](const auto& mark) { return std::strtod(mark.first.c_str(), nullptr); };
  const double per_metre = (high.second - low.second) / (metres(high) - metres(low));
  const auto y = [&](double m) { return low.second + per_metre * (m - metres(low)); };
  for (std::size_t v = 0; v < drawn.loop.vessels.size(); ++v) {
    const model::Vessel& vessel = drawn.loop.vessels[v];
    const tests::Box& box = d.vessels.at(vessel.path);
    EXPECT_NEAR(box.bottom, y(vessel.floor.si()), 0.3) << vessel.path;
    EXPECT_NEAR(box.top, y(vessel.rim.si()), 0.3) << vessel.path;
    const double level = std::clamp(drawn.answer.vessels[v].running.si(), vessel.floor.si(), vessel.rim.si());
    EXPECT_NEAR(d.water.at(vessel.path), y(level), 0.3) << vessel.path;
  }
}

/// Words over vessels, over other words, over pipes and their symbols, beyond the sheet.
void expect_clear_words(const Drawing& d) {
  for (std::size_t i = 0; i < d.labels.size(); ++i) {
    const auto& [words, box] = d.labels[i];
    EXPECT_TRUE(box.left >= 0.0 && box.right <= d.width && box.top >= 0.0 && box.bottom <= d.height) << words;
    for (const auto& [path, vessel] : d.vessels) EXPECT_FALSE(overlap(box, vessel)) << words << " over " << path;
    for (std::size_t j = 0; j < i; ++j)
      EXPECT_FALSE(overlap(box, d.labels[j].second)) << words << " over " << d.labels[j].first;
    for (const tests::Box& symbol : d.symbols) EXPECT_FALSE(overlap(box, symbol)) << words << " over a symbol";
    for (const auto& [path, pipe] : d.pipes)
      for (std::size_t n = 1; n < pipe.size(); ++n)
        EXPECT_FALSE(overlap(box, tell::drawing::around_step(pipe[n - 1], pipe[n], d.stroke.at(path) / 2.0)))
            << words << " over " << path;
  }
}

void expect_apart(const Drawing& d) {
  for (const auto& [path, box] : d.vessels)
    for (const auto& [other, other_box] : d.vessels)
      EXPECT_TRUE(path >= other || !overlap(box, other_box)) << path << " over " << other;
}

int crossings(const Drawing& d) {
  std::vector<tests::Line> lines;
  for (const auto& [path, line] : d.pipes) lines.push_back(line);
  return tell::drawing::crossings_among(lines);
}

class DrawingOfFile : public ::testing::TestWithParam<std::string> {};

void expect_all_told(const DrawnLoop& drawn, const std::string& svg, const Drawing& d) {
  EXPECT_EQ(d.pipes.size(), drawn.answer.pipes.size() + drawn.answer.passages.size());
  for (const auto& pipe : drawn.answer.pipes)
    EXPECT_NE(svg.find(words::shown_text("flow", std::abs(pipe.flow.si()))), std::string::npos) << pipe.path;
  for (const auto& passage : drawn.answer.passages)
    EXPECT_NE(svg.find(words::shown_text("flow", std::abs(passage.flow.si()))), std::string::npos) << passage.path;
  for (const auto& f : drawn.answer.findings)
    EXPECT_TRUE(f.verdict == answers::Verdict::good || svg.find(f.path + ": ") != std::string::npos) << f.path;
}

TEST_P(DrawingOfFile, StandsTrueAndClearAndTellsAll) {
  const DrawnLoop drawn = checked(GetParam());
  const std::string svg = tell::drawing_svg(drawn.loop, drawn.answer);
  const Drawing d = tests::read_drawing(svg);
  expect_true_heights(drawn, d);
  expect_clear_words(d);
  expect_apart(d);
  expect_all_told(drawn, svg, d);
  EXPECT_EQ(crossings(d), 0);
  EXPECT_EQ(svg, tell::drawing_svg(drawn.loop, drawn.answer)) << "not the same bytes";
  EXPECT_GE(tell::drawing::kPlain * 1000.0 / std::max(1000.0, d.width), 11.0) << "letters too small on 1000 px";
  for (const char* barred : {"<script", "href", "@import", "url("}) EXPECT_EQ(svg.find(barred), std::string::npos);
}

std::string file_name(const ::testing::TestParamInfo<std::string>& info) {
  std::string name = info.param;
  std::replace_if(
      name.begin(), name.end(), [](char c) { return !std::isalnum(static_cast<unsigned char>(c)); }, '_');
  return name;
}
INSTANTIATE_TEST_SUITE_P(Files, DrawingOfFile, ::testing::ValuesIn(loop_files()), file_name);

TEST(Drawing, OfRandomLoopsStandsTrueAndClear) {
  for (unsigned seed = 0; seed < 200; ++seed) {
    SCOPED_TRACE(seed);
    const DrawnLoop drawn = tests::random_loop(seed);
    const Drawing d = drawing_of(drawn);
    expect_true_heights(drawn, d);
    expect_clear_words(d);
    expect_apart(d);
    if (HasFailure()) break;
  }
}

/// The pairs of lines that cross, for a message.
std::string crossing_pairs(const tell::drawing::Sheet& sheet) {
  std::string pairs;
  for (std::size_t i = 0; i < sheet.routes.size(); ++i)
    for (std::size_t j = 0; j < i; ++j)
      for (const auto& p : tell::drawing::crossings_between(sheet.routes[i], sheet.routes[j]))
        pairs +=
            fmt::format("  {} x {} at {:.0f} {:.0f}\n", sheet.graph.links[i].path, sheet.graph.links[j].path, p.x, p.y);
  return pairs;
}

/// A sump, a pump, tanks in a row that spill from one into the next, the last back into the sump.
DrawnLoop chain(int tanks) {
  using What = model::End::What;
  tests::LoopMaker make(static_cast<unsigned>(tanks));
  const int sump = make.add_vessel(0.0, 0.6, 1.0, model::VesselKind::sump);
  for (int t = 1; t <= tanks; ++t) make.add_vessel(0.5 + 0.3 * (tanks - t), 1.0, 1.2);
  make.add_pipe({What::pump, make.add_pump(sump)}, {What::vessel, 1});
  for (int t = 1; t <= tanks; ++t) make.add_fall(t, t == tanks ? sump : t + 1, t % 5);
  return make.take();
}

/// A pump, a junction, tanks, and from each tank beds that drain to the sump, each by two ways.
DrawnLoop tree(int tanks, int beds) {
  using What = model::End::What;
  tests::LoopMaker make(static_cast<unsigned>(10 * tanks + beds));
  const int sump = make.add_vessel(0.0, 0.8, 2.0, model::VesselKind::sump);
  const int junction = make.add_junction();
  make.add_pipe({What::pump, make.add_pump(sump)}, {What::junction, junction});
  for (int t = 0; t < tanks; ++t) {
    const int tank = make.add_vessel(0.9, 1.0, 1.2);
    make.add_pipe({What::junction, junction}, {What::vessel, tank});
    for (int b = 0; b < beds; ++b) {
      const int bed = make.add_vessel(0.85, 0.3, 1.2, model::VesselKind::gravel_bed);
      make.add_fall(tank, bed, 0);
      make.add_fall(bed, sump, b % 2);
      make.add_fall(bed, sump, 2);
    }
  }
  return make.take();
}

TEST(Drawing, OfAChainCrossesNothing) {
  for (int tanks = 1; tanks <= 10; ++tanks) EXPECT_EQ(crossings(drawing_of(chain(tanks))), 0) << tanks << " tanks";
}

TEST(Drawing, OfATreeCrossesNothing) {
  for (int tanks = 1; tanks <= 3; ++tanks)
    for (int beds = 1; beds <= 4; ++beds)
      EXPECT_EQ(crossings(drawing_of(tree(tanks, beds))), 0)
          << tanks << " tanks of " << beds << " beds\n"
          << crossing_pairs(tell::drawing::make_sheet(tree(tanks, beds).loop, tree(tanks, beds).answer, false));
}

/// What the search for the order counts is what the drawn lines do.
TEST(Drawing, CrossesAsOftenAsItsOrderSays) {
  int crossed = 0;
  for (unsigned seed = 0; seed < 300; ++seed) {
    const DrawnLoop drawn = tests::random_loop(seed);
    const auto sheet = tell::drawing::make_sheet(drawn.loop, drawn.answer, false);
    EXPECT_LE(tell::drawing::crossings_among(sheet.routes), sheet.order.crossings) << "seed " << seed << "\n"
                                                                                   << crossing_pairs(sheet);
    crossed += sheet.order.crossings > 0;
  }
  EXPECT_GT(crossed, 20);
}

TEST(Drawing, OfNothingIsASheetAllTheSame) {
  const Drawing d = drawing_of(DrawnLoop{});
  EXPECT_TRUE(d.vessels.empty());
  EXPECT_GT(d.height, 100.0);
}

TEST(Drawing, TakesAnyNameAndNumber) {
  DrawnLoop drawn = chain(2);
  drawn.loop.name = drawn.answer.loop_name = "A <b> & \"c\" \x01 \xff\xfe \xed\xa0\x80 \u00fc";
  drawn.answer.vessels[1].running = Length<>(std::nan(""));
  drawn.answer.pipes[0].flow = Flow<>(std::numeric_limits<double>::infinity());
  const std::string svg = tell::drawing_svg(drawn.loop, drawn.answer);
  tests::read_drawing(svg);
  EXPECT_NE(svg.find("A &lt;b&gt; &amp; &quot;c&quot;"), std::string::npos);
  for (const char* bad : {"=\"nan", "=\"inf", "Mnan", "\x01", "\xff", "\xed\xa0"})
    EXPECT_EQ(svg.find(bad), std::string::npos);
}

}  // namespace
}  // namespace leat
