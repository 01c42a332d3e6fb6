#include "science/fish/entries.h"

#include <gtest/gtest.h>

#include <set>
#include <string>

#include "science/fish/entry_input.h"
#include "science/fish/observed.h"

namespace leat::science {
namespace {

TEST(LifeEntries, HaveNamesOfTheirOwnAndStateASource) {
  std::set<std::string_view> names;
  for (const Entry& e : life_entries()) {
    EXPECT_TRUE(names.insert(e.name).second) << e.name;
    EXPECT_FALSE(e.source.empty()) << e.name;
    EXPECT_FALSE(e.meaning.empty()) << e.name;
    EXPECT_FALSE(e.outputs.empty()) << e.name;
    std::set<std::string_view> inputs;
    for (const InputRow& row : e.inputs) {
      EXPECT_TRUE(inputs.insert(row.name).second) << e.name << ' ' << row.name;
      if (!row.unit.empty()) {
        EXPECT_TRUE(std::holds_alternative<Unit>(read_unit(row.unit))) << e.name << ' ' << row.name;
        EXPECT_LE(row.low, row.high) << e.name << ' ' << row.name;
      }
    }
  }
}

TEST(LifeEntries, SayWhichInputIsMissing) {
  for (const Entry& e : life_entries()) {
    bool needs = false;
    for (const InputRow& row : e.inputs) needs = needs || (!row.optional && !row.assumed);
    if (!needs) continue;
    EXPECT_THROW(e.outputs.front().evaluate(Given{}), std::out_of_range) << e.name;
  }
}

TEST(MeasuredWords, LeaveOutWhatIsCounted) {
  Given g;
  g.words = {{"stock", "154 fish/m3"},
             {"energy", "18.5 MJ/kg feed"},
             {"urea", "2.2 mg N/kg/h"},
             {"food", "1.35 g/100 g"},
             {"swing", "3.8 degC (sine)"},
             {"plants", "40 plants in one bed"},
             {"bare", "12"},
             {"wrong", "3 kg"},
             {"spacing", "20 x 25 cm"}};
  EXPECT_NEAR(number_in(g, "stock", "1/m3"), 154.0, 1e-12);
  EXPECT_NEAR(number_in(g, "energy", "kJ/g"), 18.5, 1e-12);
  EXPECT_NEAR(number_in(g, "urea", "g/kg/d"), 2.2e-3 * 24.0, 1e-12);
  EXPECT_NEAR(number_in(g, "food", "g/kg"), 13.5, 1e-12);
  EXPECT_NEAR(plain_number(g, "swing"), 3.8, 1e-12);
  EXPECT_NEAR(plain_number(g, "plants"), 40.0, 1e-12);
  EXPECT_NEAR(number_in(g, "bare", "g/m2"), 12.0, 1e-12);
  EXPECT_THROW(number_in(g, "wrong", "m"), std::out_of_range);
  EXPECT_THROW(number_in(g, "absent", "m"), std::out_of_range);
  const auto [a, b] = pair_in(g, "spacing", "x", "m");
  EXPECT_NEAR(a, 0.20, 1e-12);
  EXPECT_NEAR(b, 0.25, 1e-12);
}

TEST(Observed, LiesBetweenThePointsSeenAndHoldsBeyond) {
  const std::vector<std::pair<double, double>> points{{0, 1}, {10, 3}};
  EXPECT_EQ(*between_points(points, -5), 1.0);
  EXPECT_EQ(*between_points(points, 5), 2.0);
  EXPECT_EQ(*between_points(points, 50), 3.0);
  EXPECT_FALSE(between_points({}, 1).has_value());
  EXPECT_FALSE(maintenance_ration(*find_species("trout"), Temperature<>::from_celsius(10)).has_value());
}

}  // namespace
}  // namespace leat::science
