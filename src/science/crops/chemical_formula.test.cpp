#include "science/crops/chemical_formula.h"

#include <gtest/gtest.h>

namespace leat::science {
namespace {

TEST(ChemicalFormula, ReadsGroupsAndWater) {
  EXPECT_NEAR(*molar_mass("MgSO4.7H2O"), 246.47, 0.01);
  EXPECT_NEAR(*molar_mass("Ca(NO3)2.4H2O"), 236.15, 0.01);
  EXPECT_NEAR(*molar_mass("CaMg(CO3)2"), 184.40, 0.01);
  EXPECT_NEAR(*molar_mass("K2SO4"), 174.25, 0.02);
  EXPECT_EQ(formula_atoms("Ca(NO3)2.4H2O")->at("O"), 10.0);
}

TEST(ChemicalFormula, SharesSumToOne) {
  for (const std::string formula : {"KHCO3", "MgSO4.7H2O", "P2O5", "Ca(OH)2", "FeSO4.7H2O"}) {
    double sum = 0.0;
    const auto atoms = formula_atoms(formula);
    for (const auto& [element, count] : *atoms) sum += element_share(formula, element)->si();
    EXPECT_NEAR(sum, 1.0, 1e-12) << formula;
  }
  EXPECT_NEAR(element_share("P2O5", "P")->si(), 0.436, 0.0005);
  EXPECT_NEAR(element_share("K2O", "K")->si(), 0.830, 0.0005);
  EXPECT_EQ(element_share("K2O", "P")->si(), 0.0);
}

TEST(ChemicalFormula, RefusesWhatItCannotRead) {
  for (const char* text : {"", "clean", "Ca(OH2", "Ca)2", "Xx2", "MgSO4.", "K2O "})
    EXPECT_FALSE(molar_mass(text).has_value()) << text;
}

}  // namespace
}  // namespace leat::science
