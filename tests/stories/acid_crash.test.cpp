// A pH crash under heavy nitrification, every figure of it, to 3 % in grams.
#include <algorithm>
#include <cmath>

#include "answers/dose.h"
#include "science/carbonate/acidity.h"
#include "science/water/dosing.h"
#include "tests/loop_file.h"

namespace leat::answers {
namespace {

class AcidCrash : public ::testing::Test {
 protected:
  DoseRequest r = [] {
    DoseRequest request;
    request.water = Volume<>(3.0);
    request.temperature = Temperature<>::from_celsius(13.0);
    request.pH = 6.2;
    request.target_pH = 7.0;
    request.shaken_pH = 6.8;
    request.ammonia = Concentration<>(1.5e-3 / 14.007e-3);
    request.feed = MassRate<>(0.150 / 86400.0);
    request.plants_take = 0.35;
    return request;
  }();

  static bool says(const DoseAnswer& a, const std::string& words) {
    for (const std::string& line : a.lines)
      if (line.find(words) != std::string::npos) return true;
    return false;
  }
};

TEST_F(AcidCrash, WhatTheJarAndTheFeedSay) {
  const DoseAnswer a = dose(r);
  EXPECT_NEAR(a.alkalinity_now->si(), 0.047, 0.0015);
  EXPECT_NEAR(50.043 * a.alkalinity_low->si(), 1.5, 0.1);
  EXPECT_NEAR(50.043 * a.alkalinity_high->si(), 3.7, 0.11);
  EXPECT_NEAR(44.009 * a.carbon_dioxide->si(), 3.6, 0.1);
  EXPECT_NEAR(a.net_acid_as_caco3.si() * 86400.0 * 1e3, 14.4, 0.4);
  EXPECT_NEAR(a.net_acid_as_caco3.si() * 86400.0 * 1e3 / 3.0, 4.8, 0.1);
}

TEST_F(AcidCrash, LiftStandingDoseAndGeometricSteps) {
  const DoseAnswer a = dose(r);
  EXPECT_NEAR(a.alkalinity_target->si(), 0.298, 0.005);
  EXPECT_NEAR(1e3 * a.lift.si(), 75.0, 0.03 * 75.0);
  EXPECT_NEAR(a.standing->si() * 86400e3, 29.0, 0.03 * 29.0);
  ASSERT_EQ(a.days.size(), 3u);
  const double grams[] = {43.0, 57.0, 62.0};
  for (std::size_t d = 0; d < 3; ++d) EXPECT_NEAR(1e3 * a.days[d].grams.si(), grams[d], 0.03 * grams[d]);
  EXPECT_EQ(a.days[0].goes, 4);
  EXPECT_NEAR(a.days[0].first_jump, 0.25, 0.01);
  EXPECT_TRUE(says(a, "by 0.48 now, by 0.12 once at 7.0"));
}

TEST_F(AcidCrash, IonicStrengthWantsMore) {
  r.ionic_strength = Concentration<>(8.0);
  EXPECT_NEAR(1e3 * dose(r).lift.si(), 81.0, 0.03 * 81.0);
}

/// At the carbon dioxide of the first reading 5 mg/L of phosphorus add a fifth to the lift. From the jar they add far
/// more: in the jar, too, phosphate holds acid, so that the loop's own carbon dioxide comes out higher.
TEST_F(AcidCrash, PhosphateWantsAFifthMoreAtTheSameCarbonDioxide) {
  const auto k = science::mixed_constants(r.temperature, Concentration<>(0.0));
  const Concentration<> co2 = *dose(r).carbon_dioxide;
  const auto lift = [&](Concentration<> phosphate) {
    const auto alkalinity = [&](double pH) {
      const science::AcidBaseTotals<> totals{Concentration<>(0.0), science::inorganic_carbon_of(Number<>(pH), k, co2),
                                             *r.ammonia, Concentration<>(0.0), phosphate};
      return science::alkalinity_of(Number<>(pH), k, totals).si();
    };
    return alkalinity(7.0) - alkalinity(6.2);
  };
  EXPECT_NEAR(lift(Concentration<>(5e-3 / 30.974e-3)) / lift(Concentration<>(0.0)), 1.21, 0.03);
  const double plain = dose(r).lift.si();
  r.phosphate = Concentration<>(5e-3 / 30.974e-3);
  EXPECT_GT(dose(r).lift.si(), 1.5 * plain);
}

TEST_F(AcidCrash, StopRuleAndWhatTheSaltBrings) {
  EXPECT_TRUE(says(dose(r), "0.0035 mg/L as N; stop if total ammonia passes 5.3"));
  r.reagent = "NaHCO3";
  EXPECT_TRUE(says(dose(r), "2.2 mg/L of sodium a day, 133 in 60 days"));
}

TEST_F(AcidCrash, NoGoMovesPhByMoreThanItMay) {
  for (double pH = 5.6; pH < 7.4; pH += 0.2)
    for (double target = pH + 0.1; target < 7.8; target += 0.3) {
      r.pH = pH;
      r.shaken_pH = pH + 0.5;
      r.target_pH = target;
      for (const DoseDay& d : dose(r).days) {
        EXPECT_LE(d.first_jump, kMostInOneGo + 1e-9);
        EXPECT_LE(d.pH_to - d.pH_from, kMostInADay + 1e-9);
      }
    }
}

/// 1,000 L at 12 degC and pH 7.5 with 40 mg/L of KH.
DoseRequest of_a_cube(DoseRequest::For what, const std::string& reagent, double pH, double target, double kh) {
  DoseRequest r;
  r.what = what;
  r.reagent = reagent;
  r.water = Volume<>(1.0);
  r.temperature = Temperature<>::from_celsius(12.0);
  r.pH = pH;
  r.target_pH = target;
  r.alkalinity = Concentration<>(kh / 50.043);
  return r;
}

double grams_in_all(const DoseAnswer& a) {
  double sum = 0.0;
  for (const DoseDay& d : a.days) sum += 1e3 * d.grams.si();
  return sum;
}

TEST(Doses, OfAcidWhatTheFeedTakesIsTakenOff) {
  DoseRequest r = of_a_cube(DoseRequest::For::acid, "HCl", 7.8, 7.0, 80.0);
  const DoseAnswer alone = dose(r);
  r.feed = MassRate<>(0.03 / 86400.0);
  const DoseAnswer fed = dose(r);
  const double a_day = 36.46 * fed.net_acid_as_caco3.si() * 86400e3 / 50.043;
  ASSERT_EQ(fed.days.size(), alone.days.size());
  EXPECT_NEAR(grams_in_all(fed), grams_in_all(alone) - a_day * static_cast<double>(alone.days.size()), 0.05);
  r.feed = MassRate<>(0.5 / 86400.0);
  EXPECT_TRUE(dose(r).days.empty()) << "so much feed lowers pH faster by itself";
}

/// What is put in acts on the carbon that is there before air brings more: no go may move pH by more than it may then.
TEST(Doses, NoGoMovesPhTooFarAtOnce) {
  for (const science::Reagent& reagent : science::reagents())
    for (const double kh : {15.0, 40.0, 120.0}) {
      const bool base = reagent.equivalents > 0.0;
      const DoseRequest r = of_a_cube(base ? DoseRequest::For::base : DoseRequest::For::acid,
                                      std::string(reagent.formula), base ? 6.9 : 7.9, base ? 7.4 : 7.1, kh);
      const DoseAnswer a = dose(r);
      const auto k = science::mixed_constants(r.temperature, Concentration<>(0.0));
      if (a.days.empty()) {
        EXPECT_NE(a.verdict.find("not with"), std::string::npos) << reagent.formula << ": " << a.verdict;
        continue;
      }
      const DoseDay& d = a.days.front();
      const double equivalents = d.grams.si() / d.goes / science::molar_mass_of(reagent).si() * reagent.equivalents;
      science::AcidBaseTotals<> after{*r.alkalinity + Concentration<>(equivalents),
                                      science::inorganic_carbon_of(Number<>(r.pH), k, *a.carbon_dioxide) +
                                          Concentration<>(equivalents * reagent.carbon / reagent.equivalents),
                                      Concentration<>(0.0), Concentration<>(0.0), Concentration<>(0.0)};
      if (reagent.formula == "H3PO4") after.phosphate = Concentration<>(-equivalents);
      const double pH = science::acidity_closed(k, after, 7.0).si();
      EXPECT_LE(std::abs(pH - r.pH), kMostInOneGo + 0.02) << reagent.formula << " at " << kh;
      EXPECT_GT(base ? pH - r.pH : r.pH - pH, 0.0) << reagent.formula;
    }
}

/// A mole of phosphoric acid takes one equivalent and, above pH 6, gives a part of its second.
TEST(Doses, PhosphoricAcidReachesItsPh) {
  const DoseRequest r = of_a_cube(DoseRequest::For::acid, "H3PO4", 7.8, 7.2, 120.0);
  const DoseAnswer a = dose(r);
  const Concentration<> phosphate(grams_in_all(a) / 97.994);
  const auto k = science::mixed_constants(r.temperature, Concentration<>(0.0));
  const science::AcidBaseTotals<> end{Concentration<>(0.0),
                                      science::inorganic_carbon_of(Number<>(7.2), k, *a.carbon_dioxide),
                                      Concentration<>(0.0), Concentration<>(0.0), phosphate};
  EXPECT_NEAR(science::alkalinity_of(Number<>(7.2), k, end).si(), (*r.alkalinity - phosphate).si(), 0.02);
  EXPECT_TRUE(std::any_of(a.lines.begin(), a.lines.end(), [](const std::string& line) {
    return line.find("mg/L of phosphorus with the lift") != std::string::npos;
  }));
}

TEST(Doses, WhatWouldHarmIsNotDosed) {
  DoseRequest r = of_a_cube(DoseRequest::For::base, "KHCO3", 7.4, 8.5, 100.0);
  r.temperature = Temperature<>::from_celsius(20.0);
  r.ammonia = Concentration<>(3e-3 / 14.007e-3);
  EXPECT_TRUE(dose(r).days.empty());
  EXPECT_NE(dose(r).verdict.find("pH is not raised now"), std::string::npos) << dose(r).verdict;
  const DoseAnswer impossible = dose(of_a_cube(DoseRequest::For::base, "KHCO3", 6.5, 7.5, 400.0));
  EXPECT_TRUE(impossible.days.empty());
  EXPECT_NE(impossible.verdict.find("read both again"), std::string::npos) << impossible.verdict;
  DoseRequest fed = of_a_cube(DoseRequest::For::base, "NaOH", 6.8, 7.2, 20.0);
  fed.feed = MassRate<>(20.0 / 86400.0);
  EXPECT_NE(dose(fed).verdict.find("not with NaOH"), std::string::npos) << dose(fed).verdict;
}

TEST(Doses, SaltAgainstNitrite) {
  DoseRequest r;
  r.what = DoseRequest::For::nitrite;
  r.water = Volume<>(2.0);
  r.reading = Density<>(1e-3);
  r.source = Density<>(4e-3);
  const DoseAnswer a = dose(r);  // 6 mg/L of chloride are missing in 2 m3: 12 g, 19.8 g of salt
  ASSERT_EQ(a.days.size(), 1u);
  EXPECT_NEAR(1e3 * a.days[0].grams.si(), 12.0 * 58.44 / 35.45, 0.05);
}

TEST(Doses, AWaterChangeInDaysReachesItsTarget) {
  DoseRequest r;
  r.what = DoseRequest::For::change;
  r.water = Volume<>(1.0);
  r.reading = Density<>(120e-3);
  r.target = Density<>(60e-3);
  r.source = Density<>(10e-3);
  EXPECT_NE(dose(r).verdict.find("55 % of the water at once"), std::string::npos) << dose(r).verdict;
  r.source = Density<>(70e-3);
  EXPECT_NE(dose(r).verdict.find("cannot be reached"), std::string::npos);
}

TEST(Doses, ThiosulphateForChlorineOfTheMains) {
  DoseRequest r;
  r.what = DoseRequest::For::chloramine;
  r.new_water = Volume<>(0.2);
  r.reading = Density<>(0.8e-3);
  const DoseAnswer a = dose(r);  // 0.16 g of chlorine, seven times as much thiosulphate
  EXPECT_NEAR(1e3 * a.days[0].grams.si(), 0.16 * 7.0, 0.01);
  EXPECT_NE(a.lines[0].find("0.16 mg/L of ammonia nitrogen"), std::string::npos) << a.lines[0];
}

}  // namespace
}  // namespace leat::answers
