// Formulas, units of readings, doses.
#include <gtest/gtest.h>

#include <algorithm>

#include "science/water/dosing.h"
#include "science/water/entry_help.h"
#include "science/water/formula.h"
#include "science/water/unit_conversion.h"

namespace leat::science {
namespace {

double grams(std::string_view formula) {
  const auto read = read_formula(formula);
  return read ? read->mass.in(gram_per_mole) : 0.0;
}

TEST(Formula, WeighsWhatTheTablesSay) {
  EXPECT_NEAR(grams("CaCO3"), 100.087, 0.002);
  EXPECT_NEAR(grams("CaMg(CO3)2"), 184.40, 0.01);
  EXPECT_NEAR(grams("CaCl2.2H2O"), 147.01, 0.005);
  EXPECT_NEAR(grams("MgSO4*7H2O"), 246.47, 0.01);
  EXPECT_NEAR(grams("(NH4)2SO4"), 132.14, 0.01);
  EXPECT_NEAR(grams("Na2S2O3.5H2O"), 248.18, 0.01);
}

TEST(Formula, RefusesWhatItDoesNotUnderstand) {
  for (const std::string_view bad : {"", "Xx", "Ca(OH", "CaCO3)", "caco3", "2", "H2O.", ".H2O", "()", "NaCl KCl"})
    EXPECT_FALSE(read_formula(bad)) << bad;
}

TEST(Basis, AgreesWithTheFormulas) {
  for (const std::string_view name : {"NH3", "NH4", "NO2", "NO3", "PO4", "CO2", "HCO3", "O2", "SO4", "NaCl"})
    EXPECT_NEAR(mass_per_mole_of_basis(name)->in(gram_per_mole), grams(name), 1e-9) << name;
  EXPECT_NEAR(mass_per_mole_of_basis("CaCO3")->in(gram_per_mole), 50.04, 0.01);
  EXPECT_FALSE(mass_per_mole_of_basis("nitrogen"));
}

TEST(Conversion, ComesBackToWhereItStarted) {
  for (const auto& [a, b] :
       std::initializer_list<std::pair<std::string_view, std::string_view>>{{"NH3-N", "NH3"},
                                                                            {"TAN", "NH4"},
                                                                            {"NO3", "NO3-N"},
                                                                            {"P2O5", "PO4"},
                                                                            {"dKH", "mg/L HCO3"},
                                                                            {"meq/L", "gpg"},
                                                                            {"degree Clark", "degree German hardness"},
                                                                            {"mg/L Ca", "mg/L CaCO3"}}) {
    const auto there = conversion_factor(a, b), back = conversion_factor(b, a);
    ASSERT_TRUE(there && back) << a << " " << b;
    EXPECT_NEAR(there->si() * back->si(), 1.0, 1e-12);
  }
}

TEST(Conversion, KnowsKitsAndDegrees) {
  EXPECT_NEAR(conversion_factor("P", "PO4")->si(), 3.0662, 3e-4);
  EXPECT_NEAR(conversion_factor("NH3-N", "NH4")->si(), 1.2878, 3e-4);
  EXPECT_NEAR(conversion_factor("dKH", "mg/L HCO3")->si(), 21.76, 0.02);
  EXPECT_NEAR(conversion_factor("degree German hardness", "mg/L Ca")->si(), 7.147, 0.002);
  EXPECT_NEAR(conversion_factor("degree French hardness", "degree German hardness")->si(), 0.5603, 2e-4);
}

TEST(Conversion, RefusesWhatHasNothingInCommon) {
  EXPECT_FALSE(conversion_factor("NO3", "PO4"));
  EXPECT_FALSE(conversion_factor("meq/L", "NO3"));
  EXPECT_FALSE(conversion_factor("furlong", "NO3"));
}

TEST(Amount, IsReadAsPeopleWriteIt) {
  const auto n = [](std::string_view text) {
    const auto c = water_entry::read_amount(text, molar_mass::nitrogen, "mg/L");
    return c ? c->si() : -1.0;
  };
  const double five = 5.0 / 14.007;
  for (const std::string_view text : {"5", "5 mg/L", "5 mgN/L", "5 mg/L as N", "5 mg/L N", "5000 ug/L", "5 mg/L NO3-N"})
    EXPECT_NEAR(n(text), five, 1e-12) << text;
  EXPECT_NEAR(n("1 mmol/L"), 1.0, 1e-12);
  EXPECT_NEAR(n("0.001 mol/kg"), 1.0, 1e-12);
  EXPECT_NEAR(n("4.4267 mg/L NO3"), 1.0 / 14.007, 1e-5);
  EXPECT_NEAR(n("50.04 mg/L CaCO3"), 1.0, 1e-4);
  EXPECT_NEAR(n("1 dKH"), 0.3567, 1e-4);
  EXPECT_EQ(n("five"), -1.0);
  EXPECT_EQ(n("5 m"), -1.0);
}

TEST(Dose, OfABaseAndOfAnAcidCancel) {
  const Volume<> water(2.5);
  const Concentration<> change(0.7);
  const auto base = *find_reagent("K2CO3"), acid = *find_reagent("HCl");
  const double up = (mass_for_alkalinity(base, water, change) / molar_mass_of(base)).si() * base.equivalents;
  const double down = (mass_for_alkalinity(acid, water, change) / molar_mass_of(acid)).si() * acid.equivalents;
  EXPECT_NEAR(up + down, 0.0, 1e-12);
  EXPECT_NEAR(up, 2.5 * 0.7, 1e-12);
}

TEST(Dose, OfEveryReagentCanBeWeighed) {
  for (const Reagent& r : reagents()) EXPECT_GT(molar_mass_of(r).si(), 0.0) << r.formula;
  EXPECT_FALSE(find_reagent("NaCl"));
}

TEST(Dose, CarriesCarbonAsItsFormulaSays) {
  EXPECT_DOUBLE_EQ(carbon_with_alkalinity(*find_reagent("NaHCO3"), Concentration<>(1.0)).si(), 1.0);
  EXPECT_DOUBLE_EQ(carbon_with_alkalinity(*find_reagent("CaMg(CO3)2"), Concentration<>(1.0)).si(), 0.5);
  EXPECT_DOUBLE_EQ(carbon_with_alkalinity(*find_reagent("Ca(OH)2"), Concentration<>(1.0)).si(), 0.0);
}

TEST(Chlorine, NeedsWhatItsReactionsSay) {
  const ChlorineNeed need = chlorine_need();
  EXPECT_NEAR(need.thiosulphate_least.si(), 0.875, 0.001);
  EXPECT_NEAR(need.thiosulphate.si(), 7.0, 0.01);
  EXPECT_NEAR(need.ascorbic_acid.si(), 2.48, 0.01);
  EXPECT_NEAR(need.nitrogen_left.si(), 0.1975, 0.0005);
}

TEST(WaterEntries, HaveNamesOfTheirOwnAndInputsWithMeaning) {
  std::vector<std::string_view> names;
  for (const Entry& entry : water_entries()) {
    names.push_back(entry.name);
    EXPECT_FALSE(entry.outputs.empty()) << entry.name;
    EXPECT_FALSE(entry.source.empty()) << entry.name;
    for (const InputRow& input : entry.inputs) EXPECT_FALSE(input.meaning.empty()) << entry.name;
  }
  std::sort(names.begin(), names.end());
  EXPECT_EQ(std::adjacent_find(names.begin(), names.end()), names.end());
}

}  // namespace
}  // namespace leat::science
