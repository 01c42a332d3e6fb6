// The picture of where things went: bands as wide as the amounts, and as much right as left.
#include <cmath>
#include <regex>

#include "tell/tell.h"
#include "tests/loop_file.h"

namespace leat {
namespace {

answers::AheadAnswer made_up() {
  answers::AheadAnswer a;
  a.loop_name = "Here & there";
  a.dates = {{2026, 3, 1}, {2026, 3, 2}};
  answers::LedgerTable t;
  t.ledger = model::Ledger::nitrogen;
  t.lines = {{"feed", 6.0}, {"carried", -2.0}, {"air", -1.0}};
  t.kept = {{"in fish", 4.0}, {"in the water", -1.0}};
  a.books = {t};
  return a;
}

/// Heights of the bars at one x.
std::vector<double> bars(const std::string& svg, double x) {
  std::vector<double> all;
  const std::regex box("<rect class=\"solid\" x=\"([0-9.]+)\" y=\"[0-9.]+\" width=\"[0-9.]+\" height=\"([0-9.]+)\"");
  for (std::sregex_iterator it(svg.begin(), svg.end(), box), none; it != none; ++it)
    if (std::abs(std::stod((*it)[1]) - x) < 0.5) all.push_back(std::stod((*it)[2]));
  return all;
}

TEST(FlowPicture, BarsAreInTheProportionsOfTheAmounts) {
  const std::string svg = tell::flow_picture_svg(made_up());
  const std::vector<double> left = bars(svg, 290.0), right = bars(svg, 730.0);
  ASSERT_EQ(left.size(), 2u) << svg;  // feed, and what the water gave
  ASSERT_EQ(right.size(), 3u);
  EXPECT_NEAR(left[0] / left[1], 6.0, 0.05);
  EXPECT_NEAR(right[0] / right[2], 4.0, 0.05);
  EXPECT_NEAR(left[0] + left[1], right[0] + right[1] + right[2], 0.2);
  EXPECT_NE(svg.find("Here &amp; there"), std::string::npos);
  EXPECT_NE(svg.find("kept in fish"), std::string::npos);
  EXPECT_NE(svg.find("from what was in the water"), std::string::npos);
}

TEST(FlowPicture, IsTheSameEveryTimeAndEmptyWithoutBooks) {
  EXPECT_EQ(tell::flow_picture_svg(made_up()), tell::flow_picture_svg(made_up()));
  const std::string empty = tell::flow_picture_svg({});
  EXPECT_NE(empty.find("</svg>"), std::string::npos);
  EXPECT_EQ(empty.find("nan"), std::string::npos);
}

}  // namespace
}  // namespace leat
