// What to weigh out: alkalinity, acid, chloride, iron, and against chlorine.
#pragma once

#include <optional>
#include <span>
#include <string_view>

#include "science/water/substances.h"

namespace leat::science {

/// A base or acid as it is bought.
struct Reagent {
  std::string_view formula;
  double equivalents;  ///< of alkalinity per mole: positive a base, negative an acid
  double carbon;       ///< moles of inorganic carbon per mole
};

/// Bases and acids that are known. Phosphoric acid counts once (to H2PO4).
std::span<const Reagent> reagents();
/// returns nothing when the formula is not known
std::optional<Reagent> find_reagent(std::string_view formula);
/// Mass of one mole of it.
MolarMass<> molar_mass_of(const Reagent& reagent);

/// Mass of pure reagent that changes the alkalinity of a volume. A base raises it, an acid lowers it.
///
///   m = V dA M / |equivalents|
///
/// volume   of water
/// change   of alkalinity, in equivalents (50.04 g CaCO3 are one)
/// source   molar masses
/// beyond   hydroxide and carbonate burn fish and free ammonia: in the sump, premixed, at most +0.3 pH at a time
Mass<> mass_for_alkalinity(const Reagent& reagent, Volume<> volume, Concentration<> change);

/// Inorganic carbon that comes along with an alkalinity: bicarbonate 1, carbonate 0.5, hydroxide 0 per equivalent.
Concentration<> carbon_with_alkalinity(const Reagent& reagent, Concentration<> change);

/// Mass of a product that brings a rise of something: volume times rise over the product's share of it.
inline Mass<> mass_for_rise(Volume<> volume, Density<> rise, Number<> share) {
  return volume * rise / share;
}

/// Chloride that keeps nitrite out of the gill: nitrite (as NO2) times the ratio.
///
/// ratio    chloride over nitrite by mass   10; at least 6 for trout (20 over nitrite N, common practice)
/// source   SRAC 462 (catfish). Largemouth bass gain nothing from it.
inline Density<> chloride_against_nitrite(Density<> nitrite_ion, Number<> ratio) {
  return ratio * nitrite_ion;
}

/// What neutralises chlorine, as mass over the mass of chlorine (Cl2).
///
/// thiosulphate_least  Na2S2O3.5H2O when all its sulphur becomes sulphate
/// thiosulphate        when it becomes tetrathionate: what practice takes
/// ascorbic_acid       costs alkalinity
/// nitrogen_left       ammonia nitrogen that monochloramine leaves behind
/// source   molar masses
struct ChlorineNeed {
  Number<> thiosulphate_least, thiosulphate, ascorbic_acid, nitrogen_left;
};
ChlorineNeed chlorine_need();

}  // namespace leat::science
