#include "science/crops/lettuce_one_state.h"
#include "science/crops/lettuce_two_state.h"
#include "science/fish/entries.h"
#include "science/fish/entry_input.h"

namespace leat::science {
namespace {

const InputRow kAir = input("temperature", "degC", 0, 40, "at the leaves");
const InputRow kCarbon = assumed("carbon_dioxide", "ppm", 100, 2000, 400, "in the air");
const InputRow kGlobal = words("global", "radiation on the roof, W/m2");
const InputRow kDry = input("dry_mass", "kg/m2", 0, 0.5, "per ground area");
const char* const kOneState = "Van Henten 2003";
const char* const kTwoState = "Van Henten 1994";

Number<> share_in(const Given& g) {
  return Number<>(1e-6 * g("carbon_dioxide"));
}

Density<> density_in(const Given& g) {
  return carbon_dioxide_in_air(share_in(g), celsius(g("temperature")), Pressure<>(g.get("pressure", 101325.0)),
                               g.get("molar_mass", 0.044), g.get("gas_constant", 8.31));
}

LettuceOneState one_state(const Given& g) {
  LettuceOneState model;
  model.canopy = g.get("canopy", model.canopy);
  model.light_use = g.get("light_use", model.light_use);
  model.compensation = g.get("compensation", model.compensation);
  return model;
}

std::vector<InputRow> with_one_state(std::vector<InputRow> rows) {
  rows.push_back(optional_input("canopy", "m2/kg", 10, 100, "extinction times leaf area; 53"));
  rows.push_back(optional_input("light_use", "kg/J", 1e-9, 1e-7, "assimilate per global light; 3.55e-9"));
  rows.push_back(optional_input("compensation", "kg/m3", 1e-5, 1e-3, "CO2 without gain; 5.2e-5"));
  return rows;
}

Flux<> global_in(const Given& g) {
  return Flux<>(number_in(g, "global", "W/m2"));
}

double one_state_end(const Given& g) {
  return dry_mass_one_state(ArealMass<>(g("dry_mass")), days(g("span")), celsius(g("temperature")), density_in(g),
                            global_in(g), one_state(g))
      .si();
}

std::vector<Entry> one_state_entries() {
  return {
      {"carbon_dioxide_in_air",
       "Mass of carbon dioxide per volume of air",
       {kCarbon, kAir, optional_input("pressure", "Pa", 5e4, 1.1e5, "of the air"),
        optional_input("molar_mass", "kg/mol", 0.04, 0.05, "of carbon dioxide; 0.044"),
        optional_input("gas_constant", "J/mol/K", 8.3, 8.33, "8.31 in Van Henten's constants")},
       {{"density", "kg/m3", [](const Given& g) { return density_in(g).si(); }}},
       "ideal gas"},
      {"lettuce_carboxylation_one_state",
       "Speed at which lettuce takes in carbon dioxide",
       {kAir},
       {{"speed", "m/s", [](const Given& g) { return carboxylation_one_state(celsius(g("temperature"))).si(); }}},
       kOneState},
      {"lettuce_base_temperature_one_state",
       "Where that speed is nothing",
       {},
       {{"low", "degC", [](const Given&) { return carboxylation_temperatures_one_state().low.celsius(); }},
        {"high", "degC", [](const Given&) { return carboxylation_temperatures_one_state().high.celsius(); }}},
       kOneState},
      {"lettuce_best_temperature_one_state",
       "Where that speed is highest",
       {},
       {{"best", "degC", [](const Given&) { return carboxylation_temperatures_one_state().best.celsius(); }}},
       kOneState},
      {"lettuce_photosynthesis_one_state",
       "Gross photosynthesis of lettuce",
       with_one_state({kDry, kAir, kCarbon, kGlobal}),
       {{"rate", "kg/m2/s",
         [](const Given& g) {
           return photosynthesis_one_state(ArealMass<>(g("dry_mass")), celsius(g("temperature")), density_in(g),
                                           global_in(g), one_state(g))
               .si();
         }}},
       kOneState},
      {"lettuce_growth_one_state",
       "Growth of lettuce",
       with_one_state({kDry, kAir, kCarbon, kGlobal}),
       {{"rate", "kg/m2/s",
         [](const Given& g) {
           return growth_rate_one_state(ArealMass<>(g("dry_mass")), celsius(g("temperature")), density_in(g),
                                        global_in(g), one_state(g))
               .si();
         }}},
       kOneState},
      {"lettuce_dry_mass_one_state",
       "Lettuce after a time under steady conditions",
       with_one_state({kDry, input("span", "d", 0, 200, "time"), kAir, kCarbon, kGlobal}),
       {{"dry_mass", "kg/m2", one_state_end}},
       kOneState},
      {"cover_transmission_implied",
       "Transmission of the cover in a light constant",
       {input("light_use", "kg/J", 1e-9, 1e-7, "assimilate per global light"),
        input("leaf_light_use", "kg/J", 1e-9, 1e-7, "assimilate per PAR of leaves"),
        assumed("par_share", "-", 0.3, 0.6, 0.5, "of global radiation"),
        assumed("carbon_term", "-", 0.1, 1, 0.75, "(C - G) / (C + 2 G)")},
       {{"transmission", "-",
         [](const Given& g) {
           return cover_transmission_implied(g("light_use"), g("leaf_light_use"), g("par_share"), g("carbon_term"));
         }}},
       "Van Henten 1994 beside 2003"},
  };
}

LettuceTwoState two_state(const Given& g) {
  LettuceTwoState m;
  m.growth = g.get("growth", m.growth);
  m.store_half = g.get("store_half", m.store_half);
  m.boundary = g.get("boundary", m.boundary);
  m.stomata = g.get("stomata", m.stomata);
  m.ppm_density = g.get("ppm_density", m.ppm_density);
  m.extinction = g.get("extinction", m.extinction);
  m.leaf_area = g.get("leaf_area", m.leaf_area);
  m.root_share = g.get("root_share", m.root_share);
  m.to_sugar = g.get("to_sugar", m.to_sugar);
  m.growth_yield = g.get("growth_yield", m.growth_yield);
  return m;
}

ArealMass<> store_in(const Given& g) {
  return number_in(g, "store", "g/m2") * gram_per_square_metre;
}
ArealMass<> structure_in(const Given& g) {
  return number_in(g, "structure", "g/m2") * gram_per_square_metre;
}

const InputRow kQ10 = optional_words("q10", "rise over ten degrees");
const InputRow kRoot = optional_input("root_share", "-", 0, 0.5, "roots in structure; 0.07 in soil, 0.15 in water");

double growth_share(const Given& g) {
  LettuceTwoState m = two_state(g);
  m.growth_q10 = plain_number(g, "q10", m.growth_q10);
  return relative_growth_two_state(celsius(g("temperature")), store_in(g), structure_in(g), m).si();
}

double burnt(const Given& g) {
  LettuceTwoState m = two_state(g);
  m.respiration_q10 = plain_number(g, "q10", m.respiration_q10);
  return respiration_two_state(celsius(g("temperature")), structure_in(g), m).si() * 1e3;
}

double two_state_end(const Given& g) {
  const Flux<> par(number_in(g, "par", "W/m2"));
  return dry_masses_two_state({store_in(g), structure_in(g)}, days(g("span")), celsius(g("temperature")), share_in(g),
                              par, two_state(g))
      .total()
      .in(gram_per_square_metre);
}

std::vector<Entry> two_state_entries() {
  const InputRow store = words("store", "stored dry mass, g/m2"), structure = words("structure", "structural, g/m2");
  return {
      {"lettuce_compensation_two_state",
       "Carbon dioxide at which lettuce gains nothing",
       {kAir, kQ10},
       {{"share", "ppm",
         [](const Given& g) {
           LettuceTwoState m;
           m.compensation_q10 = plain_number(g, "q10", m.compensation_q10);
           return compensation_two_state(celsius(g("temperature")), m).si() * 1e6;
         }}},
       kTwoState},
      {"lettuce_light_use_two_state",
       "Dry assimilate per light",
       {kAir, kCarbon},
       {{"use", "g/J",
         [](const Given& g) { return light_use_two_state(celsius(g("temperature")), share_in(g)).si() * 1e3; }}},
       kTwoState},
      {"lettuce_carboxylation_two_state",
       "Carboxylation conductance",
       {kAir},
       {{"speed", "m/s", [](const Given& g) { return carboxylation_two_state(celsius(g("temperature"))).si(); }}},
       kTwoState},
      {"lettuce_relative_growth_two_state",
       "Relative structural growth",
       {kAir, store, structure, optional_input("growth", "1/s", 1e-7, 1e-4, "largest at 20 degC; 5e-6"),
        optional_input("store_half", "-", 0.1, 10, "weight of structure; 1"), kQ10},
       {{"rate", "1/s", growth_share}},
       kTwoState},
      {"lettuce_respiration_two_state",
       "Maintenance respiration",
       {kAir, structure, kRoot, kQ10},
       {{"rate", "g/m2/s", burnt}},
       kTwoState},
      {"lettuce_dry_mass_two_state",
       "Lettuce after a time under steady conditions",
       {store, structure, input("span", "d", 0, 200, "time"), kAir, kCarbon,
        words("par", "light for growth on the crop, W/m2"), kRoot,
        optional_input("boundary", "m/s", 1e-4, 0.1, "conductance; 0.004"),
        optional_input("stomata", "m/s", 1e-4, 0.1, "conductance; 0.005"),
        optional_input("ppm_density", "-", 1e-3, 1e-2, "g/m3 of CO2 per ppm; 1.83e-3"),
        optional_input("extinction", "-", 0.1, 1, "0.9 for flat leaves"),
        optional_input("leaf_area", "-", 0.01, 0.2, "m2 per g; 0.075"),
        optional_input("to_sugar", "-", 0.5, 1, "assimilate per CO2; 0.68"),
        optional_input("growth_yield", "-", 0.5, 1, "structure per store; 0.8")},
       {{"dry_mass", "g/m2", two_state_end}},
       kTwoState},
  };
}

}  // namespace

std::vector<Entry> lettuce_entries() {
  std::vector<Entry> all = one_state_entries();
  for (Entry& entry : two_state_entries()) all.push_back(std::move(entry));
  return all;
}

}  // namespace leat::science
