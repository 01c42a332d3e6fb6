#include "science/fish/species.h"

#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "base/csv.h"
#include "science/crops/crop.h"
#include "science/fish/potential.h"

namespace leat::science {
namespace {

CsvTable table_of(const std::string& file) {
  std::ifstream in(std::string(LEAT_ROOT) + "/data/" + file, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  Problems problems;
  CsvTable table = read_csv(text.str(), file, problems);
  EXPECT_TRUE(problems.empty()) << problems.text();
  return table;
}

/// The built-in rows and those of the file are the same, in the same order.
void expect_same(std::span<const Datum> built_in, const CsvTable& file) {
  ASSERT_EQ(built_in.size(), file.rows.size());
  for (std::size_t i = 0; i < built_in.size(); ++i) {
    const auto& fields = file.rows[i].fields;
    ASSERT_EQ(fields.size(), 5u) << "line " << file.rows[i].line;
    const Datum& d = built_in[i];
    const std::array<std::string_view, 5> ours{d.name, d.key, d.value, d.source, d.provenance};
    for (std::size_t f = 0; f < 5; ++f) EXPECT_EQ(ours[f], fields[f].text) << "line " << file.rows[i].line;
  }
}

TEST(SpeciesTable, IsTheFile) {
  expect_same(species_data(), table_of("species.csv"));
}

TEST(CropTable, IsTheFile) {
  expect_same(crop_data(), table_of("crops.csv"));
}

TEST(SpeciesTable, StatesWhereEveryNumberComesFrom) {
  for (const auto table : {species_data(), crop_data()})
    for (const Datum& d : table) {
      if (read_span(d.value) || !read_points(d.value).empty()) {
        EXPECT_FALSE(d.provenance.empty()) << d.name << ' ' << d.key;
      }
    }
}

TEST(SpeciesTable, AnswersToNamesInUse) {
  ASSERT_NE(find_species("Trout"), nullptr);
  EXPECT_EQ(find_species("Trout")->name, "rainbow trout");
  EXPECT_EQ(find_species("NILE TILAPIA")->name, "Nile tilapia");
  EXPECT_EQ(find_species("goldfish"), nullptr);
  EXPECT_EQ(find_species(""), nullptr);
  EXPECT_EQ(find_crop("silverbeet")->name, "chard (silverbeet)");
  EXPECT_EQ(find_crop("bok choy")->name, "pak choi");
}

TEST(SpeciesTable, LeavesBlankWhatNobodySupports) {
  const Species& perch = *find_species("jade perch");
  EXPECT_FALSE(perch.growth.has_value());
  EXPECT_FALSE(perch.ammonia_max.has_value());
  EXPECT_EQ(find_species("African catfish")->oxygen_law, OxygenLaw::unsupported);
}

TEST(SpeciesTable, HoldsTemperaturesInOrder) {
  for (const Species& s : all_species()) {
    if (const auto a = s.appetite()) {
      EXPECT_LT(a->stop_low, a->full_low) << s.name;
      EXPECT_LT(a->full_low, a->full_high) << s.name;
      EXPECT_LT(a->full_high, a->stop_high) << s.name;
    }
    if (const auto& g = s.growth_temperatures) {
      EXPECT_LT(g->base, g->plateau_low) << s.name;
      EXPECT_LT(g->plateau_low, g->plateau_high) << s.name;
      EXPECT_LT(g->plateau_high, g->zero) << s.name;
    }
  }
  for (const Crop& crop : all_crops()) {
    const auto t = crop.temperatures();
    ASSERT_TRUE(t.has_value()) << crop.name;
    EXPECT_LT(t->base, t->best_low) << crop.name;
    EXPECT_LT(t->best_low, t->best_high) << crop.name;
    EXPECT_LT(t->best_high, t->fail) << crop.name;
  }
}

TEST(ReadSpan, TakesNumbersSpansAndFractionsOnly) {
  EXPECT_DOUBLE_EQ(read_span("1/3")->low, 1.0 / 3.0);
  EXPECT_DOUBLE_EQ(read_span("-2")->low, -2.0);
  EXPECT_DOUBLE_EQ(read_span("24-42")->middle(), 33.0);
  EXPECT_DOUBLE_EQ(read_span("0.02-0.20 by chloride")->high, 0.20);
  EXPECT_FALSE(read_span("table").has_value());
  EXPECT_FALSE(read_span("").has_value());
  EXPECT_EQ(read_points("12:0.40 30:1.90").size(), 2u);
  EXPECT_TRUE(read_points("25-32").empty());
}

TEST(GrowthPotential, FallsToNothingAtBothEnds) {
  for (const Species& s : all_species()) {
    if (!s.growth || !s.growth_temperatures) continue;
    const auto at = [&](double c) {
      return growth_potential(s, Temperature<>::from_celsius(c), Mass<>(0.05)).in(percent_per_day);
    };
    EXPECT_GT(at(s.growth_temperatures->plateau_low.celsius()), 0.8) << s.name;
    EXPECT_NEAR(at(s.growth_temperatures->base.celsius() - 1.0), 0.0, 1e-12) << s.name;
    EXPECT_NEAR(at(s.growth_temperatures->zero.celsius() + 1.0), 0.0, 1e-9) << s.name;
  }
}

}  // namespace
}  // namespace leat::science
