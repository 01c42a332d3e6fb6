// Fish moved to a clad tank in a calmer fortnight: how much of the steadier water was the move? Every figure of the
// answer; the numbers were worked out by an independent program.
#include <fmt/core.h>
#include <gtest/gtest.h>

#include <array>
#include <nlohmann/json.hpp>

#include "tests/yard.h"

namespace leat {
namespace {

using nlohmann::json;
using tests::holds;

struct Swings {
  double air, water;
};
constexpr Swings kBefore[] = {{11.0, 4.6}, {13.5, 7.0}, {9.2, 4.2},  {12.4, 5.4}, {14.1, 7.3}, {8.6, 4.0},
                              {10.9, 5.6}, {12.8, 5.6}, {13.0, 6.7}, {9.9, 4.2},  {11.6, 4.8}, {11.0, 5.4}};
constexpr Swings kAfter[] = {{4.1, 1.2}, {6.0, 1.3}, {5.2, 1.6}, {3.9, 0.8}, {7.4, 2.1},
                             {5.5, 1.1}, {4.6, 1.2}, {6.3, 1.2}, {3.8, 1.2}};

class Quarr : public ::testing::Test {
 protected:
  tests::Yard yard{"tests/stories/quarr-bottom.toml"};

  void note(const std::string& phrase) {
    const auto printed = yard.note(phrase, "2026-03-25 09:00");
    ASSERT_EQ(printed.code, 0) << printed.text;
    ASSERT_FALSE(holds(printed.text, "kept as words")) << printed.text;
  }
  /// One morning's reading, with the reset a day before unless another is said.
  static std::string morning(int day, const Swings& s, const char* tank, const std::string& since = "") {
    const std::string from = since.empty() ? fmt::format("2026-03-{:02} 07:00", day - 1) : since;
    return fmt::format(
        "2026-03-{0:02} 07:00 tank.{1} min 8.0 max {2:.1f} since {4}; 2026-03-{0:02} 07:00 air min 2.0 max "
        "{3:.1f} since {4}; ",
        day, tank, 8.0 + s.water, 2.0 + s.air, from);
  }
  void before() {
    std::string all;
    for (int i = 0; i < 12; ++i) all += morning(2 + i, kBefore[i], "open");
    note(all);
    note("2026-03-13 10:00 moved 45 trout from tank.open to tank.clad");
  }
  void after() {
    std::string all;
    for (int i = 0; i < 9; ++i) all += morning(14 + i, kAfter[i], "clad", i == 0 ? "2026-03-13 10:00" : "");
    note(all);
  }
  json helped(const std::string& flags = "") {
    return json::parse(yard.leat("helped --json --heat-capacity '11.2 MJ/K' --now '2026-03-25' " + flags).text);
  }
  static double number(const json& j, const char* key) { return j.at(key).get<double>(); }
};

TEST_F(Quarr, AtEqualWeatherAboutHalf) {
  before();
  after();
  const json a = helped();
  EXPECT_EQ(a.at("verdict"), "steadier");
  EXPECT_EQ(a.at("before").at("count"), 12);
  EXPECT_EQ(a.at("after").at("count"), 9);
  EXPECT_EQ(a.at("before").at("where"), "tank.open");
  EXPECT_EQ(a.at("after").at("where"), "tank.clad");
  EXPECT_NEAR(number(a.at("before"), "slope"), 0.472, 0.0005);
  EXPECT_NEAR(number(a.at("before"), "slope_error"), 0.013, 0.0005);
  EXPECT_NEAR(number(a.at("after"), "slope"), 0.248, 0.0005);
  EXPECT_NEAR(number(a.at("after"), "slope_error"), 0.016, 0.0005);
  EXPECT_NEAR(number(a, "swing_standard_before"), 4.7, 0.05);
  EXPECT_NEAR(number(a, "swing_standard_after"), 2.5, 0.05);
  EXPECT_NEAR(number(a, "swing_cut"), 2.2, 0.05);
  EXPECT_NEAR(number(a, "swing_cut_low"), 1.8, 0.05);
  EXPECT_NEAR(number(a, "swing_cut_high"), 2.7, 0.05);
  EXPECT_NEAR(number(a, "share_cut"), 47.0, 0.5);
}

/// The story prints 2.6 and 1.6 for the change first. The rest of the drop of 4.1 beside 2.57 is 1.53; 1.56 is what the
/// second line gives for the weather. The lines pass the means by 0.04 K.
TEST_F(Quarr, BothOrdersOfTheDrop) {
  before();
  after();
  const json a = helped();
  EXPECT_NEAR(number(a.at("before"), "swing"), 5.4, 0.05);
  EXPECT_NEAR(number(a.at("after"), "swing"), 1.3, 0.05);
  EXPECT_NEAR(number(a, "swing_drop"), 4.1, 0.05);
  EXPECT_NEAR(number(a, "swing_drop_weather_first"), 3.0, 0.05);
  EXPECT_NEAR(number(a, "swing_drop") - number(a, "swing_drop_weather_first"), 1.1, 0.05);
  EXPECT_NEAR(number(a, "swing_drop_change_first"), 2.6, 0.05);
  EXPECT_NEAR(number(a.at("after"), "slope") * (11.5 - 5.2), 1.6, 0.05);
}

TEST_F(Quarr, TimeConstantsAndLosses) {
  before();
  after();
  const json a = helped();
  EXPECT_NEAR(number(a, "duration_constant_before") / 60.0, 7.1, 0.05);
  EXPECT_NEAR(number(a, "duration_constant_after") / 60.0, 14.9, 0.05);
  EXPECT_NEAR(number(a, "loss_W_per_K_before"), 437.0, 0.03 * 437.0);
  EXPECT_NEAR(number(a, "loss_W_per_K_after"), 209.0, 0.03 * 209.0);
}

TEST_F(Quarr, SaysThatTheWeatherNeverMatched) {
  before();
  after();
  EXPECT_FALSE(helped().at("overlap").get<bool>());
  EXPECT_EQ(helped().at("count_alike"), 0);
  const std::string text = tests::unbroken(yard.leat("helped --now 2026-03-25").text);
  EXPECT_TRUE(holds(text, "It helped: at equal weather the water swings about 47 % less")) << text;
  EXPECT_TRUE(holds(text, "wait for two clear days before claiming more")) << text;
  EXPECT_TRUE(holds(text, "carried through the origin")) << text;
  EXPECT_TRUE(holds(text, "days taken as independent")) << text;
  EXPECT_TRUE(holds(text, "3.0 is the weather and 1.1 the change")) << text;
  EXPECT_FALSE(holds(text, "76 %")) << text;
}

TEST_F(Quarr, NightsAreNeverMixedWithDays) {
  before();
  std::string nights;
  for (int i = 0; i < 9; ++i) nights += morning(14 + i, kAfter[i], "clad", fmt::format("2026-03-{:02} 18:00", 13 + i));
  note(nights);
  const auto printed = yard.leat("helped --now 2026-03-25");
  EXPECT_EQ(printed.code, 3);
  const std::string text = tests::unbroken(printed.text);
  EXPECT_TRUE(holds(text, "before 12 whole-day, after 9 overnight")) << text;
  EXPECT_TRUE(holds(text, "not mixed")) << text;
}

TEST_F(Quarr, NothingToCompareWithIsSaid) {
  note("fed 60 g");
  const auto printed = yard.leat("helped --now 2026-03-25");
  EXPECT_EQ(printed.code, 3);
  EXPECT_TRUE(holds(tests::unbroken(printed.text), "the record names no change")) << printed.text;
  EXPECT_EQ(yard.leat("helped --windows noon").code, 2);
  EXPECT_EQ(yard.leat("helped --heat-capacity 'a lot'").code, 2);
}

}  // namespace
}  // namespace leat
