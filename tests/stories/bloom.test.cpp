// A bloom and the sag before dawn, every figure of the evening; and four nights of real ponds.
#include <cmath>
#include <map>

#include "answers/night.h"
#include "base/csv.h"
#include "science/gas/night_oxygen.h"
#include "science/gas/oxygen_saturation.h"
#include "tests/loop_file.h"

namespace leat::answers {
namespace {

Density<> mg(double value) {
  return Density<>(1e-3 * value);
}

class Bloom : public ::testing::Test {
 protected:
  model::Loop loop = tests::read_loop("tests/stories/harrow-lea.toml");
  NightRequest evening = [] {
    NightRequest r;
    r.readings = {{18.0, mg(14.0)}, {21.0, mg(7.8)}};
    r.dawn_hour = 29.5;
    r.temperature = Temperature<>::from_celsius(17.0);
    r.reaeration = Frequency<>(0.30 / 3600.0);
    r.pH = 9.1;
    r.ammonia = mg(1.0);
    return r;
  }();
};

TEST_F(Bloom, WhereTheNightGoesAndWhatTakesIt) {
  const NightAnswer a = night(loop, evening);
  EXPECT_NEAR(1e3 * a.saturation.si(), 9.67, 0.01);
  EXPECT_NEAR(1e3 * a.equilibrium.si(), 3.55, 0.01);
  EXPECT_NEAR(a.demand * 3.6e6, 1.84, 0.01);
  EXPECT_NEAR(a.fish_demand * 3.6e6, 0.64, 0.01);
}

TEST_F(Bloom, DawnWithItsBandAndChances) {
  const NightAnswer a = night(loop, evening);
  EXPECT_NEAR(1e3 * a.dawn.si(), 3.9, 0.05);
  EXPECT_NEAR(1e3 * a.dawn_low.si(), 1.1, 0.1);
  EXPECT_NEAR(1e3 * a.dawn_high.si(), 6.1, 0.1);
  EXPECT_NEAR(a.chance_low, 0.77, 0.02);
  EXPECT_NEAR(a.chance_deadly, 0.28, 0.02);
  ASSERT_TRUE(a.passes_low_at);
  EXPECT_NEAR(*a.passes_low_at, 24.0 + 35.0 / 60.0, 0.05);
  EXPECT_EQ(a.verdict, Verdict::bad);
}

TEST_F(Bloom, OneMoreReadingNarrowsIt) {
  evening.readings.push_back({23.0, mg(5.9)});
  const NightAnswer a = night(loop, evening);
  EXPECT_NEAR(1e3 * a.dawn_low.si(), 2.1, 0.1);
  EXPECT_NEAR(1e3 * a.dawn_high.si(), 5.4, 0.1);
  EXPECT_NEAR(a.chance_low, 0.88, 0.02);
  EXPECT_NEAR(a.chance_deadly, 0.20, 0.02);
}

TEST_F(Bloom, AirLiftsTheFloorAndALogLineHasNone) {
  const NightAnswer a = night(loop, evening);
  EXPECT_NEAR(1e3 * a.with_air.si(), 6.6, 0.05);
  EXPECT_NEAR(1e3 * a.log_line.si(), 1.5, 0.05);
}

TEST_F(Bloom, TheSecondNightWithTheBloomDying) {
  evening.readings = {{17.99, mg(14.0)}, {18.0, mg(14.0)}};
  evening.demand_per_hour = mg(2.4);
  const NightAnswer a = night(loop, evening);
  EXPECT_NEAR(1e3 * a.dawn.si(), 2.1, 0.05);
  EXPECT_NEAR(1e3 * a.equilibrium.si(), 1.7, 0.05);
  EXPECT_NEAR(1e3 * a.with_air.si(), 5.7, 0.05);
}

TEST_F(Bloom, TheAfternoonsAmmoniaAndGas) {
  const NightAnswer a = night(loop, evening);
  ASSERT_TRUE(a.ammonia_share && a.unionised_ammonia);
  EXPECT_NEAR(*a.ammonia_share, 0.285, 0.0005);
  EXPECT_NEAR(1e3 * a.unionised_ammonia->si(), 0.29, 0.005);
  EXPECT_NEAR(a.gas_pressure, 1.09, 0.005);
  for (const std::string& advice : a.advice) EXPECT_EQ(advice.find("copper"), std::string::npos);
}

TEST_F(Bloom, WithoutReaerationTheLogLineIsTakenAndSaid) {
  evening.reaeration = std::nullopt;
  const NightAnswer a = night(loop, evening);
  EXPECT_FALSE(a.by_reaeration);
  ASSERT_FALSE(a.assumed.empty());
  EXPECT_NE(a.assumed[0].find("no floor"), std::string::npos);
}

TEST_F(Bloom, TheSameSeedGivesTheSameBand) {
  EXPECT_EQ(night(loop, evening).dawn_low.si(), night(loop, evening).dawn_low.si());
}

/// Outdoor ponds of 1 m3 (Barneche et al. 2021, Nature 592:76; data of the repository dbarneche/nature20200508666,
/// MIT).
class Ponds : public ::testing::Test {
 protected:
  struct Night {
    Density<> dusk, later, dawn;  ///< 21:00, 24:00, 05:00
    bool smooth = true;
  };
  std::vector<Night> nights;

  void SetUp() override {
    std::map<std::string, std::map<std::string, std::map<std::string, double>>> series;
    Problems problems;
    const auto table = read_csv(tests::slurp(std::string(LEAT_ROOT) + "/tests/data/ponds.csv"), "ponds.csv", problems);
    ASSERT_TRUE(problems.empty()) << problems.text();
    for (const auto& row : table.rows)
      series[row.fields[0].text][row.fields[3].text.substr(0, 16)][row.fields[4].text] = std::stod(row.fields[5].text);
    const auto oxygen = [&](const std::string& pond, const std::string& time) {
      auto& at = series[pond][time];
      const auto warm = Temperature<>::from_celsius(at.at("water_temperature"));
      return 0.01 * at.at("oxygen_saturation") * science::oxygen_saturation_mass(warm, units::atmosphere);
    };
    const auto add = [&](const char* pond, const char* day, const char* next, bool smooth) {
      const std::string d(day), n(next);
      nights.push_back({oxygen(pond, d + "T21:00"), oxygen(pond, n + "T00:00"), oxygen(pond, n + "T05:00"), smooth});
    };
    add("dorset-pond-2-ambient", "2013-07-21", "2013-07-22", true);
    add("dorset-pond-2-ambient", "2013-07-22", "2013-07-23", true);
    add("dorset-pond-10-ambient", "2013-07-16", "2013-07-17", false);  // it drops 1.4 mg/L within one hour
    add("dorset-pond-10-ambient", "2013-07-17", "2013-07-18", true);
  }

  static double by_reaeration(const Night& n, double hourly) {
    const Frequency<> k(hourly / 3600.0);
    const auto rest = science::night_equilibrium_oxygen(n.dusk, n.later, Duration<>(3.0 * 3600.0), k);
    return 1e3 * (science::night_oxygen(n.later, rest, Duration<>(5.0 * 3600.0), k) - n.dawn).si();
  }
  static double by_log_line(const Night& n) {
    return 1e3 * (science::night_oxygen_log_line(n.dusk, n.later, Duration<>(3.0 * 3600.0), Duration<>(5.0 * 3600.0)) -
                  n.dawn)
                     .si();
  }
  /// One reaeration for both ponds, from the nights that fall smoothly.
  double fitted() const {
    double best = 0.0, least = 1e9;
    for (double k = 0.02; k < 0.3; k += 0.001) {
      double squares = 0.0;
      for (const Night& n : nights)
        if (n.smooth) squares += std::pow(by_reaeration(n, k), 2);
      if (squares < least) {
        least = squares;
        best = k;
      }
    }
    return best;
  }
};

TEST_F(Ponds, DawnFromDuskAndThreeHoursLater) {
  const double k = fitted();
  double smooth = 0.0, all = 0.0, line = 0.0;
  for (const Night& n : nights) {
    if (n.smooth) smooth += std::abs(by_reaeration(n, k)) / 3.0;
    all += std::abs(by_reaeration(n, k)) / 4.0;
    line += std::abs(by_log_line(n)) / 4.0;
  }
  RecordProperty("reaeration_per_hour", std::to_string(k));
  RecordProperty("mean_error_smooth", std::to_string(smooth));
  RecordProperty("mean_error_all", std::to_string(all));
  RecordProperty("mean_error_log_line", std::to_string(line));
  EXPECT_LE(smooth, 0.5);
  EXPECT_LE(all, line);
}

}  // namespace
}  // namespace leat::answers
