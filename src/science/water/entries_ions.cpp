#include "science/water/entry_help.h"
#include "science/water/ions.h"

namespace leat::science::water_entry {
namespace {

std::vector<InputRow> ion_rows() {
  std::vector<InputRow> all;
  for (const auto& [name, meaning] : std::initializer_list<std::pair<std::string_view, std::string_view>>{
           {"sodium", "Na, mmol/L or mg/L"},
           {"potassium", "K, mmol/L or mg/L"},
           {"calcium", "Ca, mmol/L or mg/L"},
           {"magnesium", "Mg, mmol/L or mg/L"},
           {"ammonium", "NH4, mmol/L or mg/L as N"},
           {"chloride", "Cl, mmol/L or mg/L"},
           {"nitrate", "NO3, mmol/L or mg/L as N"},
           {"sulphate", "SO4, mmol/L or mg/L as SO4"},
           {"bicarbonate", "HCO3, mmol/L or mg/L"},
           {"dihydrogen_phosphate", "H2PO4, mmol/L or mg/L as P"}})
    all.push_back(maybe(amount_row(name, meaning)));
  return all;
}

Ions<> ions_of(const Given& g) {
  const auto take = [&](std::string_view name, MolarMass<> per_mole) {
    return amount_or_none(g, name, per_mole, "mmol/L");
  };
  return {take("sodium", molar_mass::sodium),           take("potassium", molar_mass::potassium),
          take("calcium", molar_mass::calcium),         take("magnesium", molar_mass::magnesium),
          take("ammonium", molar_mass::nitrogen),       take("chloride", molar_mass::chlorine_atom),
          take("nitrate", molar_mass::nitrogen),        take("sulphate", molar_mass::sulphate),
          take("bicarbonate", molar_mass::bicarbonate), take("dihydrogen_phosphate", molar_mass::phosphorus)};
}

}  // namespace

std::vector<Entry> ion_entries() {
  return {
      {"conductivity_from_ions",
       "electric conductivity at 25 degC",
       ion_rows(),
       {{"conductivity_25c", "uS/cm",
         [](const Given& g) { return conductivity_at_25c(ions_of(g)).in(microsiemens_per_centimetre); }}},
       "limiting conductivities of the CRC handbook (from memory); correction fitted to PHREEQC"},
      {"ionic_strength_from_ions",
       "half the sum of concentration times charge squared",
       ion_rows(),
       {{"ionic_strength", "mol/L", [](const Given& g) { return 1e-3 * ionic_strength(ions_of(g)).si(); }}},
       "definition"},
      {"strong_ions",
       "charge of the ions that no acid or base changes",
       ion_rows(),
       {{"strong_ions", "meq/L", [](const Given& g) { return strong_ions(ions_of(g)).si(); }}},
       "electroneutrality"},
      {"conductivity_temperature",
       "conductivity at the water's temperature",
       {{"conductivity_25c", "uS/cm", 0, 10000, "at 25 degC"}, temperature_row},
       {{"conductivity", "uS/cm",
         [](const Given& g) {
           return conductivity_at(g("conductivity_25c") * microsiemens_per_centimetre, temperature_of(g))
               .in(microsiemens_per_centimetre);
         }}},
       "1.91 % per K"},
      {"ionic_strength_from_conductivity",
       "ionic strength of common water",
       {{"conductivity_25c", "uS/cm", 0, 5000, "at 25 degC"}},
       {{"ionic_strength", "mol/L",
         [](const Given& g) {
           return 1e-3 * ionic_strength_from_conductivity(g("conductivity_25c") * microsiemens_per_centimetre).si();
         }}},
       "Chapra & Pelletier, QUAL2K"},
  };
}

}  // namespace leat::science::water_entry
