#include "science/gas/carbon_dioxide.h"
#include "science/gas/nitrogen_gas.h"
#include "science/water/entry_help.h"

namespace leat::science::water_entry {
namespace {

const InputRow kSalinity = assume({"salinity", "g/kg", 0, 40, "salt per mass of water"}, 0.0);
const InputRow kOxygen = amount_row("oxygen", "dissolved, mg/L");

Number<> salinity_of(const Given& g) {
  return g("salinity") * gram_per_kilogram;
}

Density<> oxygen_of(const Given& g) {
  return amount_of(g, "oxygen", molar_mass::oxygen, "mg/L") * molar_mass::oxygen;
}

std::vector<Entry> oxygen_entries() {
  return {
      {"oxygen_saturation",
       "dissolved oxygen in balance with moist air",
       rows({{temperature_row}, pressure_rows(), {kSalinity}}),
       {{"oxygen", "mg/L",
         [](const Given& g) {
           return oxygen_saturation_mass(temperature_of(g), pressure_of(g), salinity_of(g)).in(milligram_per_litre);
         }}},
       "Benson & Krause 1980 and 1984"},
      {"oxygen_share_of_saturation",
       "dissolved oxygen over its balance with the air at the place",
       rows({{kOxygen, temperature_row}, pressure_rows(), {kSalinity}}),
       {{"share", "%",
         [](const Given& g) {
           return 100.0 *
                  oxygen_share_of_saturation(oxygen_of(g), temperature_of(g), pressure_of(g), salinity_of(g)).si();
         }}},
       "Benson & Krause 1980 and 1984"},
      {"saturation_at_depth",
       "saturation that bubbles see which are let out below the surface",
       {{"saturation", "mg/L", 0, 30, "at the surface"},
        {"depth", "m", 0, 10, "of the outlet"},
        assume({"depth_share", "-", 0.25, 0.45, "of the depth that counts"}, 0.4)},
       {{"saturation", "mg/L",
         [](const Given& g) {
           return saturation_at_depth(g("saturation") * milligram_per_litre, Length<>(g("depth")),
                                      Number<>(g("depth_share")))
               .in(milligram_per_litre);
         }}},
       "Tchobanoglous et al. 2014"},
  };
}

std::vector<Entry> nitrogen_gas_entries() {
  return {
      {"nitrogen_saturation",
       "dissolved nitrogen gas in balance with moist air",
       rows({{temperature_row}, pressure_rows()}),
       {{"nitrogen", "mg/L",
         [](const Given& g) {
           return nitrogen_saturation_mass(temperature_of(g), pressure_of(g)).in(milligram_per_litre);
         }}},
       "Weiss 1970"},
      {"total_gas_pressure",
       "pressure of all dissolved gases over that of the air",
       rows({{{"oxygen_share", "%", 0, 400, "of saturation"},
              {"nitrogen_share", "%", 0, 200, "of saturation, nitrogen with argon"},
              temperature_row},
             pressure_rows(),
             {assume({"depth", "m", 0, 5, "where the fish are"}, 0.0)}}),
       {{"total_gas_pressure", "%",
         [](const Given& g) {
           const Number<> at_surface =
               total_gas_pressure(Number<>(0.01 * g("oxygen_share")), Number<>(0.01 * g("nitrogen_share")),
                                  temperature_of(g), pressure_of(g));
           return 100.0 * total_gas_pressure_at_depth(at_surface, Length<>(g("depth")), pressure_of(g)).si();
         }}},
       "Colt 1984"},
  };
}

Solubility<> solubility_of(const Given& g) {
  return carbon_dioxide_solubility(temperature_of(g)) *
         std::exp(carbon_dioxide_salting_out(temperature_of(g), salinity_of(g)).si());
}

std::vector<Entry> carbon_dioxide_entries() {
  return {
      {"carbon_dioxide_saturation",
       "dissolved carbon dioxide in balance with its pressure",
       rows({{temperature_row}, carbon_dioxide_rows()}),
       {{"carbon_dioxide", "mg/L",
         [](const Given& g) {
           return (carbon_dioxide_saturation(temperature_of(g), gas_pressure_of(g)) * molar_mass::carbon_dioxide)
               .in(milligram_per_litre);
         }}},
       "Plummer & Busenberg 1982"},
      {"carbon_dioxide_solubility",
       "solubility of carbon dioxide",
       {temperature_row, kSalinity},
       {{"solubility", "mol/(kg atm)", [](const Given& g) { return solubility_of(g).in(mole_per_litre_atmosphere); }}},
       "Plummer & Busenberg 1982; salt after Weiss 1974"},
      {"carbon_dioxide_log_solubility",
       "log10 of the solubility in mol/(kg atm)",
       {temperature_row},
       {{"log_solubility", "-", [](const Given& g) { return carbon_dioxide_log_solubility(temperature_of(g)).si(); }}},
       "Plummer & Busenberg 1982"},
      {"carbon_dioxide_gas_over_water",
       "concentration in the gas over that in the water at balance",
       {temperature_row},
       {{"ratio", "-", [](const Given& g) { return carbon_dioxide_gas_over_water(temperature_of(g)).si(); }}},
       "Plummer & Busenberg 1982"},
  };
}

}  // namespace

std::vector<Entry> saturation_entries() {
  std::vector<Entry> all = oxygen_entries();
  for (auto* more : {nitrogen_gas_entries, carbon_dioxide_entries})
    for (Entry& entry : more()) all.push_back(std::move(entry));
  return all;
}

}  // namespace leat::science::water_entry
