#include "science/gas/aeration.h"
#include "science/gas/transfer.h"
#include "science/water/entry_help.h"

namespace leat::science::water_entry {
namespace {

const InputRow kWind{"wind", "m/s", 0, 20, "at 10 m"};
const InputRow kFreshSalinity = assume({"salinity", "g/kg", 0, 3, "taken as fresh; 1 % per 3 g/kg is left out"}, 0.0);
constexpr double kFreshLimit = 3.0;

Velocity<> wind_of(const Given& g) {
  return Velocity<>(g("wind"));
}

/// The Schmidt numbers here are those of fresh water.
Temperature<> fresh_temperature_of(const Given& g) {
  need(g("salinity") <= kFreshLimit, "salinity of at most 3 g/kg");
  return temperature_of(g);
}

std::vector<Entry> surface_entries() {
  return {
      {"transfer_velocity_cole_caraco",
       "transfer velocity at Schmidt number 600 over open water",
       {kWind},
       {{"k600", "m/d", [](const Given& g) { return transfer_velocity_cole_caraco(wind_of(g)).in(metre_per_day); }}},
       "Cole & Caraco 1998"},
      {"transfer_velocity_banks_herrera",
       "transfer velocity of oxygen at 20 degC, zero in a calm",
       {kWind},
       {{"velocity", "m/d",
         [](const Given& g) { return transfer_velocity_banks_herrera(wind_of(g)).in(metre_per_day); }}},
       "Banks & Herrera 1977"},
      {"transfer_velocity_wanninkhof_1991",
       "transfer velocity of oxygen at 20 degC, zero in a calm",
       {kWind},
       {{"velocity", "m/d",
         [](const Given& g) { return transfer_velocity_wanninkhof_1991(wind_of(g)).in(metre_per_day); }}},
       "Wanninkhof et al. 1991"},
      {"transfer_velocity_of_gas",
       "transfer velocity of a gas from that at Schmidt number 600",
       {{"k600", "m/d", 0, 20, "at Schmidt number 600"}, {"schmidt_number", "-", 100, 3000, "of the gas"}},
       {{"velocity", "m/d",
         [](const Given& g) {
           return transfer_velocity_of_gas(g("k600") * metre_per_day, Number<>(g("schmidt_number"))).in(metre_per_day);
         }}},
       "Wanninkhof 2014"},
      {"schmidt_number_oxygen",
       "Schmidt number of oxygen in fresh water",
       {temperature_row, kFreshSalinity},
       {{"schmidt_number", "-", [](const Given& g) { return schmidt_number_oxygen(fresh_temperature_of(g)).si(); }}},
       "Wanninkhof 2014"},
      {"schmidt_number_carbon_dioxide",
       "Schmidt number of carbon dioxide in fresh water",
       {temperature_row, kFreshSalinity},
       {{"schmidt_number", "-",
         [](const Given& g) { return schmidt_number_carbon_dioxide(fresh_temperature_of(g)).si(); }}},
       "Wanninkhof 2014"},
      {"transfer_ratio_carbon_dioxide",
       "transfer velocity of carbon dioxide over that of oxygen",
       {maybe({"temperature", "degC", 0, 40, "of the water, for the ratio of Schmidt numbers"}),
        maybe({"method", "", 0, 0, "(32/44)^0.25 for the ratio of molar masses, else by Schmidt numbers"})},
       {{"ratio", "-",
         [](const Given& g) {
           const bool by_mass = g.words.contains("method") && g.word("method").find("32/44") != std::string_view::npos;
           return by_mass ? transfer_ratio_by_molar_mass().si()
                          : transfer_ratio_carbon_dioxide(Temperature<>::from_celsius(g.get("temperature", 20.0))).si();
         }}},
       "Wanninkhof 2014; Chapra & Pelletier, QUAL2K"},
  };
}

std::vector<Entry> fall_entries() {
  return {
      {"deficit_ratio_of_fall",
       "oxygen deficit above a fall over that below it",
       {{"drop", "m", 0, 9, "free fall"},
        {"a", "-", 0.6, 1.8, "clean water 1.8, grossly polluted 0.65"},
        {"b", "-", 0.05, 1.05, "shape: sharp vertical edge 0.8, submerged 0.05"},
        temperature_row},
       {{"ratio", "-",
         [](const Given& g) {
           return deficit_ratio_of_fall(Length<>(g("drop")), temperature_of(g), Number<>(g("a")), Number<>(g("b")))
               .si();
         }},
        {"ratio_carbon_dioxide", "-",
         [](const Given& g) {
           const Number<> r =
               deficit_ratio_of_fall(Length<>(g("drop")), temperature_of(g), Number<>(g("a")), Number<>(g("b")));
           return deficit_ratio_carbon_dioxide(r, transfer_ratio_carbon_dioxide(temperature_of(g))).si();
         }}},
       "Gameson 1957; Butts & Evans 1983"},
      {"concentration_below_fall",
       "concentration of a gas below a fall",
       {{"above", "mg/L", 0, 50, "above the fall"},
        {"saturation", "mg/L", 0, 50, "in balance with air"},
        {"ratio", "-", 1, 5, "deficit above over deficit below"}},
       {{"below", "mg/L",
         [](const Given& g) {
           // Any measure of concentration will do: the relation is linear.
           return concentration_below_fall(Concentration<>(g("above")), Concentration<>(g("saturation")),
                                           Number<>(g("ratio")))
               .si();
         }}},
       "definition of the ratio"},
  };
}

}  // namespace

std::vector<Entry> transfer_entries() {
  std::vector<Entry> all = surface_entries();
  for (Entry& entry : fall_entries()) all.push_back(std::move(entry));
  return all;
}

}  // namespace leat::science::water_entry
