#include "science/gas/help.h"
#include "science/water/entry_help.h"

namespace leat::science::water_entry {
namespace {

constexpr MassRate<> gram_an_hour{1e-3 / 3600.0};
constexpr Frequency<> per_hour{1.0 / 3600.0};

const InputRow kRated{"rated", "g/h", 0, 1e6, "oxygen in clean water free of it, 20 degC, 1 atm"};
const InputRow kTheta = assume({"theta", "-", 1.0, 1.05, "temperature factor"}, 1.024);
const InputRow kAirFlow{"air_flow", "L/min", 0, 1e5, "at 20 degC and 1 atm"};

std::vector<Entry> rating_entries() {
  return {
      {"transfer_coefficient_at",
       "transfer coefficient at the water's temperature",
       {{"coefficient_20c", "1/h", 0, 1000, "at 20 degC"}, temperature_row, kTheta},
       {{"coefficient", "1/h",
         [](const Given& g) {
           return g("coefficient_20c") * transfer_temperature_factor(temperature_of(g), Number<>(g("theta"))).si();
         }}},
       "ASCE/EWRI 2-06"},
      {"standard_oxygen_transfer",
       "rated oxygen transfer from the transfer coefficient",
       {{"coefficient_20c", "1/h", 0, 1000, "at 20 degC"}, {"volume", "m3", 0, 1e5, "of water"}},
       {{"rated", "g/h",
         [](const Given& g) {
           return standard_oxygen_transfer(g("coefficient_20c") * per_hour, Volume<>(g("volume"))).in(gram_an_hour);
         }}},
       "ASCE/EWRI 2-06"},
      {"oxygen_transfer_in_use",
       "oxygen transfer into fish water that already holds some",
       rows({{kRated, assume({"alpha", "-", 0.3, 1, "transfer in this water over clean"}, 0.8),
              assume({"beta", "-", 0.9, 1, "saturation in this water over clean"}, 1.0), temperature_row},
             pressure_rows(),
             {amount_row("oxygen", "dissolved, mg/L")}}),
       {{"transfer", "g/h",
         [](const Given& g) {
           const Density<> oxygen = amount_of(g, "oxygen", molar_mass::oxygen, "mg/L") * molar_mass::oxygen;
           return oxygen_transfer_in_use(g("rated") * gram_an_hour, Number<>(g("alpha")), Number<>(g("beta")),
                                         temperature_of(g), pressure_of(g), oxygen)
               .in(gram_an_hour);
         }}},
       "ASCE/EWRI 2-06"},
      {"standard_aeration_efficiency",
       "rated oxygen per energy",
       {kRated, {"power", "W", 0, 1e6, "taken from the mains"}},
       {{"efficiency", "kg/kWh",
         [](const Given& g) {
           return standard_aeration_efficiency(g("rated") * gram_an_hour, Power<>(g("power")))
               .in(kilogram_per_kilowatt_hour);
         }}},
       "ASCE/EWRI 2-06"},
  };
}

std::vector<Entry> bubble_entries() {
  return {
      {"air_density_dry",
       "mass per volume of dry air",
       rows({{{"temperature", "degC", -40, 60, "of the air"}}, pressure_rows()}),
       {{"density", "kg/m3", [](const Given& g) { return air_density_dry(temperature_of(g), pressure_of(g)).si(); }}},
       "Tchobanoglous et al. 2014, appendix B-3"},
      {"standard_oxygen_transfer_of_air",
       "rated oxygen transfer of an air stone",
       {kAirFlow, {"share_dissolved", "-", 0, 1, "of the air's oxygen: 0.01 to 0.06 per metre of depth"}},
       {{"rated", "g/h",
         [](const Given& g) {
           return standard_oxygen_transfer_of_air(g("air_flow") * (units::litre / units::minute),
                                                  Number<>(g("share_dissolved")))
               .in(gram_an_hour);
         }}},
       "oxygen in dry air; share: common practice"},
      {"exchange_flow_of_bubbles",
       "water per time that bubbles bring to balance in carbon dioxide",
       {kAirFlow, {"share_dissolved", "-", 0, 1, "of the air's oxygen in water free of it"}, temperature_row},
       {{"exchange_flow", "L/min",
         [](const Given& g) {
           const Flow<> air = g("air_flow") * (units::litre / units::minute);
           const Flow<> unhindered = transfer_ratio_carbon_dioxide(temperature_of(g)) *
                                     transfer_temperature_factor(temperature_of(g)) *
                                     exchange_flow_of_air_stone(air, Number<>(g("share_dissolved")));
           return exchange_flow_of_bubbles(unhindered, air, carbon_dioxide_gas_over_water(temperature_of(g)))
               .in(units::litre / units::minute);
         }}},
       "mass balance of a bubble in mixed water"},
      {"carbon_dioxide_stripping_limit",
       "greatest share of carbon dioxide above balance that one stage of air can take",
       {{"gas_liquid_ratio", "-", 0, 100, "air over water by volume"}, temperature_row},
       {{"share", "-",
         [](const Given& g) {
           return carbon_dioxide_stripping_limit(Number<>(g("gas_liquid_ratio")), temperature_of(g)).si();
         }}},
       "one equilibrium stage with fresh air"},
  };
}

Density<> oxygen_in(const Given& g, std::string_view name) {
  return amount_of(g, name, molar_mass::oxygen, "mg/L") * molar_mass::oxygen;
}

std::vector<Entry> help_entries() {
  return {
      {"oxygen_from_air_pump",
       "oxygen that an air pump on a battery gives to a tank",
       rows({{{"power", "W", 0, 1e4, "taken from the battery"},
              {"efficiency", "kg/kWh", 0, 3, "rated: small kits 0.2 to 0.5, fine stones 0.92"},
              assume({"alpha", "-", 0.3, 1, "transfer in this water over clean"}, 0.8),
              temperature_row},
             pressure_rows(),
             {amount_row("oxygen", "dissolved, mg/L")}}),
       {{"transfer", "g/h",
         [](const Given& g) {
           const Density<> saturation = oxygen_saturation_mass(temperature_of(g), pressure_of(g));
           return exchange_of_air_pump(Power<>(g("power")), g("efficiency") * kilogram_per_kilowatt_hour,
                                       temperature_of(g), saturation, Number<>(g("alpha")))
               .gives(oxygen_in(g, "oxygen"))
               .in(gram_an_hour);
         }}},
       "ASCE/EWRI 2-06; ratings common practice"},
      {"oxygen_from_buckets",
       "oxygen that buckets of water from elsewhere bring to a tank",
       {{"buckets", "1/h", 0, 1000, "carried"},
        {"bucket", "L", 0, 100, "in each"},
        amount_row("oxygen_brought", "in the buckets, mg/L"),
        amount_row("oxygen", "in the tank, mg/L")},
       {{"transfer", "g/h",
         [](const Given& g) {
           return exchange_of_buckets(g("buckets") * per_hour, g("bucket") * units::litre,
                                      oxygen_in(g, "oxygen_brought"))
               .gives(oxygen_in(g, "oxygen"))
               .in(gram_an_hour);
         }}},
       "mass balance"},
  };
}

}  // namespace

std::vector<Entry> aeration_entries() {
  std::vector<Entry> all = rating_entries();
  for (Entry& entry : bubble_entries()) all.push_back(std::move(entry));
  for (Entry& entry : help_entries()) all.push_back(std::move(entry));
  return all;
}

}  // namespace leat::science::water_entry
