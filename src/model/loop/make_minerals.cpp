// Phosphorus, ions, iron and algae of a water, and the charge that they must balance.
#include <algorithm>
#include <cmath>

#include "model/loop/make.h"
#include "model/loop/wording.h"
#include "science/water/substances.h"

namespace leat::model {
namespace {

/// What a water holds that nobody measured, mg/L: of a loop that has run, and of a source (common practice, no source).
struct Usual {
  std::string_view key, basis;
  Concentration<> Contents<>::*member;
  double in_loop, in_source;
};
constexpr std::array kUsual = {
    Usual{"phosphorus", "P", &Contents<>::phosphorus, 2.0, 0.05},
    Usual{"potassium", "K", &Contents<>::potassium, 5.0, 2.0},
    Usual{"sodium", "Na", &Contents<>::sodium, 10.0, 10.0},
    Usual{"chloride", "Cl", &Contents<>::chloride, 15.0, 15.0},
    Usual{"sulphate", "SO4", &Contents<>::sulphate, 15.0, 15.0},
    Usual{"iron", "Fe", &Contents<>::iron, 0.1, 0.02},
};
constexpr double kUsualMagnesium = 4.0;    // mg/L
constexpr double kUsualChlorophyll = 5.0;  // ug/L: clear water
constexpr double kCarbonPerChlorophyll = 40.0;

std::string shown(double mg_l) {
  return fmt::format("{:.3g} mg/L", mg_l);
}

/// Calcium and magnesium: as said, or as the hardness has them, three of four parts calcium. True when calcium is
/// known.
bool harden(Filling& fill, const Component& c, Contents<>& m) {
  const auto per_mole = [](std::string_view basis) { return *science::mass_per_mole_of_basis(basis); };
  const Said *calcium = c.find("calcium"), *magnesium = c.find("magnesium"), *hardness = c.find("hardness");
  if (calcium) m.calcium = Density<>(calcium->number) / per_mole("Ca");
  if (magnesium) m.magnesium = Density<>(magnesium->number) / per_mole("Mg");
  const Concentration<> both =
      hardness ? 0.5 * (Density<>(hardness->number) / per_mole("CaCO3")) : Concentration<>(0.0);
  if (hardness && calcium && magnesium && std::abs((m.calcium + m.magnesium - both).si()) > 0.15 * both.si() + 0.05)
    fill.complain(c, "hardness",
                  fmt::format("{} is not what calcium {} and magnesium {} make together, {:.0f} mg/L as CaCO3; leave "
                              "the hardness out, or one of them",
                              quoted(hardness->text), quoted(calcium->text), quoted(magnesium->text),
                              2.0 * (m.calcium + m.magnesium).si() * per_mole("CaCO3").si() * 1e3));
  if (!magnesium) {
    m.magnesium = !hardness ? kUsualMagnesium * science::milligram_per_litre / science::molar_mass::magnesium
                  : calcium ? std::max(both - m.calcium, Concentration<>(0.0))
                            : 0.25 * both;
    fill.assume(c, "magnesium", shown((m.magnesium * science::molar_mass::magnesium).si() * 1e3),
                hardness ? "what the hardness leaves, or a quarter of it" : "not measured");
  }
  if (calcium || !hardness) return calcium != nullptr;
  m.calcium = std::max(both - m.magnesium, Concentration<>(0.0));
  fill.assume(c, "calcium", shown((m.calcium * science::molar_mass::calcium).si() * 1e3), "what the hardness leaves");
  return true;
}

/// Charge that the ions lack beside the stated alkalinity, in equivalents; negative: that they have too much.
double lacking_charge(const WaterQuality& w) {
  const Contents<>& m = w.minerals;
  const Concentration<> strong =
      m.sodium + m.potassium + 2.0 * (m.calcium + m.magnesium) - m.chloride - 2.0 * m.sulphate;
  return (w.alkalinity + w.nitrate - w.ammonia + w.nitrite + m.phosphorus - strong).si();
}

/// Calcium makes up the charge where it was not read, or else sodium; a surplus is met by chloride.
void balance(Filling& fill, const Component& c, WaterQuality& w, bool calcium_known) {
  const double lacks = lacking_charge(w);
  Contents<>& m = w.minerals;
  if (lacks > 0.0 && !calcium_known) {
    m.calcium = Concentration<>(0.5 * lacks);
    fill.assume(c, "calcium", shown((m.calcium * science::molar_mass::calcium).si() * 1e3),
                "what balances the charge of the other ions and the alkalinity");
  } else if (std::abs(lacks) > 1e-9) {
    const bool more_sodium = lacks > 0.0;
    Concentration<>& ion = more_sodium ? m.sodium : m.chloride;
    ion += Concentration<>(std::abs(lacks));
    const auto mass = more_sodium ? science::molar_mass::sodium : science::molar_mass::chlorine_atom;
    fill.assume(c, more_sodium ? "sodium" : "chloride",
                fmt::format("{} more", shown(std::abs(lacks) * mass.si() * 1e3)),
                "what the ions and the alkalinity leave over in charge");
    if (!calcium_known) fill.assume(c, "calcium", "none", "the alkalinity leaves no room for it beside the other ions");
  }
}

}  // namespace

void make_minerals(Filling& fill, const Component& c, WaterQuality& w, const WaterQuality* loop_water) {
  for (const Usual& u : kUsual)
    w.minerals.*u.member = dissolved(fill, c, u.key, loop_water ? u.in_source : u.in_loop, u.basis,
                                     loop_water ? "usual of tap and well water" : "not measured");
  const bool calcium_known = harden(fill, c, w.minerals);
  balance(fill, c, w, calcium_known);
  const Said* chlorophyll = c.find("chlorophyll");
  if (!chlorophyll && !loop_water)
    fill.assume(c, "chlorophyll", fmt::format("{:g} ug/L", kUsualChlorophyll), "clear water; not measured");
  const double otherwise = loop_water ? 0.0 : kUsualChlorophyll * 1e-6;
  w.minerals.algae =
      kCarbonPerChlorophyll * Density<>(chlorophyll ? chlorophyll->number : otherwise) / science::molar_mass::carbon;
}

}  // namespace leat::model
