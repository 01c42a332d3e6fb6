// Raft against gravel, uneven: a season's weights typed by row, every figure of the answer. The numbers were worked out
// by an independent program (Welch, all arrangements, Fisher, Clopper-Pearson).
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "science/statistics/two_groups.h"
#include "tests/yard.h"

namespace leat {
namespace {

using nlohmann::json;
using tests::holds;

class Blenkarn : public ::testing::Test {
 protected:
  tests::Yard yard{"tests/stories/blenkarn.toml"};

  void SetUp() override {
    note("2026-05-01 planted 9 chard in raft");
    note("2026-05-01 planted 7 chard in gravel bed");
    note("2026-05-07 1 chard died in raft; 2026-05-07 substituted 1 chard in raft");
    note("2026-05-20 2 chard died in raft");
    note("2026-05-25 33 dead");
    note("harvested chard 118 142 96 131 155 109 g in raft");
    note("harvested 1 substitute chard 61 g in raft");
    note("harvested chard 88 121 104 97 133 79 110 g in gravel bed");
  }
  void note(const std::string& phrase) {
    const auto printed = yard.note(phrase, "2026-06-12 09:00");
    ASSERT_EQ(printed.code, 0) << printed.text;
    ASSERT_FALSE(holds(printed.text, "kept as words")) << printed.text;
  }
  json trial() {
    const auto printed = yard.leat("trial --json --now 2026-06-12");
    EXPECT_EQ(printed.code, 0) << printed.text;
    return json::parse(printed.text).at("trials").at(0);
  }
  std::string told() { return tests::unbroken(yard.leat("trial --now 2026-06-12").text); }
};

const json& on_basis(const json& trial, const std::string& basis) {
  for (const json& c : trial.at("compared"))
    if (c.at("basis") == basis) return c;
  throw std::out_of_range(basis);
}

void expect_difference(const json& c, double difference, double low, double high, double p) {
  EXPECT_NEAR(c.at("mass_difference").get<double>(), difference, 0.05);
  EXPECT_NEAR(c.at("mass_difference_low").get<double>(), low, 0.05);
  EXPECT_NEAR(c.at("mass_difference_high").get<double>(), high, 0.05);
  EXPECT_NEAR(c.at("p").get<double>(), p, 0.0005);
}

TEST_F(Blenkarn, SurvivorsAndPlacesWithTheSignTurning) {
  const json t = trial();
  const json& alive = on_basis(t, "survivors");
  EXPECT_EQ(alive.at("first"), "raft bed");
  EXPECT_NEAR(alive.at("mass_first").get<double>(), 125.2, 0.05);
  EXPECT_NEAR(alive.at("mass_second").get<double>(), 104.6, 0.05);
  expect_difference(alive, 20.6, -4.7, 45.9, 0.094);
  EXPECT_EQ(alive.at("count_arrangements").get<double>(), 1716.0);
  const json& places = on_basis(t, "places");
  EXPECT_NEAR(places.at("mass_first").get<double>(), 83.4, 0.05);
  EXPECT_NEAR(places.at("mass_second").get<double>(), 104.6, 0.05);
  expect_difference(places, -21.1, -72.1, 29.8, 0.414);
}

TEST_F(Blenkarn, WhatTheSubstituteWouldHaveDone) {
  const json t = trial();
  const json& with = on_basis(t, "with_substitutes");
  EXPECT_NEAR(with.at("mass_difference").get<double>(), 11.4, 0.05);
  EXPECT_NEAR(with.at("p").get<double>(), 0.43, 0.005);
  EXPECT_TRUE(holds(told(), "1 substitute in raft_bed.north, 61 g: it was planted later than the originals"));
}

TEST_F(Blenkarn, AsManyLived) {
  const json t = trial();
  EXPECT_EQ(t.at("lived").at(0).at("count_alive").get<double>(), 6.0);
  EXPECT_EQ(t.at("lived").at(0).at("count_places").get<double>(), 9.0);
  EXPECT_EQ(t.at("lived").at(1).at("count_alive").get<double>(), 7.0);
  EXPECT_NEAR(t.at("p_lived_alike").get<double>(), 0.21, 0.005);
  // Clopper-Pearson, 7 of 7: the lower end is 0.025^(1/7).
  EXPECT_NEAR(t.at("lived").at(1).at("share_low").get<double>(), 100.0 * std::pow(0.025, 1.0 / 7.0), 1e-6);
}

TEST_F(Blenkarn, SaysWhatCanHonestlyBeSaid) {
  const std::string text = told();
  EXPECT_TRUE(holds(text, "Living raft bed plants were about 20 % heavier than gravel bed plants")) << text;
  EXPECT_TRUE(holds(text, "raft bed gave about 20 % less per place: the sign turns")) << text;
  EXPECT_TRUE(holds(text, "cannot tell either from chance, nor raft bed from where its bed stands")) << text;
  EXPECT_TRUE(holds(text, "everything of one treatment stands in one bed")) << text;
  EXPECT_TRUE(holds(text, "swap positions")) << text;
  EXPECT_TRUE(holds(text, "2026-05-25 33 fish died")) << text;
  EXPECT_TRUE(holds(text, "gravel gave more than raft and raft more than nutrient film")) << text;
  EXPECT_FALSE(holds(text, "significant")) << text;
}

/// "About 23 plants a bed for 15 % at a spread of 0.18". That is 22.6 by normal quantiles with 0.18. These weights have
/// 0.1765, which gives 21.7 by normal quantiles and 22.8 by Student's t: 23 as well.
TEST_F(Blenkarn, PlantsNeededNextTime) {
  const json t = trial();
  EXPECT_NEAR(t.at("share_variation").get<double>(), 18.0, 0.5);
  EXPECT_EQ(t.at("count_needed").get<double>(), 23.0);
  EXPECT_NEAR(science::plants_needed_normal(0.18, 0.15, 0.95, 0.80), 22.6, 0.05);
}

TEST_F(Blenkarn, CellsThatASpreadsheetWouldRunAreGuarded) {
  note("planted 1 @sum(a1) in raft");
  const std::string csv = yard.leat("trial --csv --now 2026-06-12").text;
  EXPECT_TRUE(holds(csv, "\n'@sum(a1),raft_bed.north")) << csv;
  EXPECT_TRUE(holds(csv, "\nchard,raft_bed.north,2026-05-01,no,harvested,2026-06-12,118,1,2 ")) << csv;
  EXPECT_FALSE(holds(csv, "\n@")) << csv;
}

}  // namespace
}  // namespace leat
