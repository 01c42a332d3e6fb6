#include "science/nitrogen/bed_gas.h"
#include "science/nitrogen/denitrification.h"
#include "science/nitrogen/film_growth.h"
#include "science/nitrogen/filter.h"
#include "science/nitrogen/organic_decay.h"
#include "science/water/entry_help.h"

namespace leat::science::water_entry {
namespace {

const InputRow kAcidity{"acidity", "-", 5, 10, "pH"};
const InputRow kOxygen = amount_row("oxygen", "dissolved, mg/L");

Concentration<> oxygen_of(const Given& g, std::string_view name = "oxygen") {
  return amount_of(g, name, molar_mass::oxygen, "mg/L");
}

Concentration<> nitrogen_of(const Given& g, std::string_view name) {
  return amount_of(g, name, molar_mass::nitrogen, "mg/L");
}

/// The ammonia film of the model, each figure of which may be stated.
FilmKinetics film_of(const Given& g) {
  FilmKinetics film = ammonia_film;
  film.at_20c = g("at_20c") * gram_nitrogen_per_square_metre_day;
  if (g.has("half_ammonia")) film.half_nitrogen = nitrogen_of(g, "half_ammonia");
  if (g.has("half_oxygen")) film.half_oxygen = oxygen_of(g, "half_oxygen");
  return film;
}

double film_rate(const Given& g) {
  const Number<> warmth = g.has("theta") ? temperature_factor(temperature_of(g), Number<>(g("theta")))
                                         : film_temperature_factor(temperature_of(g));
  const Number<> factors = Number<>(g("acidity_factor") * g("organic_factor"));
  return nitrification_rate_sharp(film_of(g), nitrogen_of(g, "ammonia"), oxygen_of(g), warmth, factors)
      .in(gram_nitrogen_per_square_metre_day);
}

std::vector<Entry> factor_entries() {
  return {
      {"temperature_factor",
       "rate against that at 20 degC: theta^(t - 20)",
       {{"theta", "-", 1.0, 1.3, "per kelvin"}, temperature_row},
       {{"factor", "-",
         [](const Given& g) { return temperature_factor(temperature_of(g), Number<>(g("theta"))).si(); }}},
       "definition"},
      {"film_temperature_factor",
       "rate of a fixed film against that at 20 degC",
       {temperature_row},
       {{"factor", "-", [](const Given& g) { return film_temperature_factor(temperature_of(g)).si(); }}},
       "Zhu & Chen 2002; Hoang et al. 2014"},
      {"nitrification_acidity_factor",
       "rate of nitrifiers against that at their best pH",
       {kAcidity},
       {{"factor", "-", [](const Given& g) { return nitrification_acidity_factor(Number<>(g("acidity"))).si(); }}},
       "Henze et al. 2008, ch. 5"},
      {"nitrification_acidity_factor_epa",
       "rate of nitrifiers below pH 7.2 against that above",
       {kAcidity},
       {{"factor", "-", [](const Given& g) { return nitrification_acidity_factor_epa(Number<>(g("acidity"))).si(); }}},
       "USEPA 1993"},
      {"nitrification_oxygen_factor_exponential",
       "rate of nitrifiers against that with plenty of oxygen",
       {kOxygen, assume({"steepness", "L/mg", 0.1, 2, "of the curve"}, 0.6)},
       {{"factor", "-",
         [](const Given& g) {
           return nitrification_oxygen_factor_exponential(oxygen_of(g) * molar_mass::oxygen, g("steepness")).si();
         }}},
       "Chapra & Pelletier, QUAL2K"},
      {"nitrification_organic_factor",
       "rate of nitrifiers beside organic matter",
       {{"demand_per_nitrogen", "-", 0, 5, "biodegradable COD over TAN"}},
       {{"factor", "-",
         [](const Given& g) { return nitrification_organic_factor(Number<>(g("demand_per_nitrogen"))).si(); }}},
       "fit to Ling & Chen 2005"},
  };
}

std::vector<Entry> film_entries() {
  return {
      {"nitrification_rate",
       "ammonia nitrogen turned over per area of film",
       {assume({"at_20c", "g/m2/d", 0.05, 2, "N at 20 degC with plenty"},
               ammonia_film.at_20c.in(gram_nitrogen_per_square_metre_day)),
        amount_row("ammonia", "total, mg/L as N"), maybe(amount_row("half_ammonia", "0.5 mg/L as N if not given")),
        kOxygen, maybe(amount_row("half_oxygen", "1.0 mg/L if not given")),
        maybe({"theta", "-", 1.0, 1.2, "per kelvin; that of films if not given"}), temperature_row,
        assume({"acidity_factor", "-", 0, 1.2, "pH factor"}, 1.0),
        assume({"organic_factor", "-", 0, 1, "loss by organic matter"}, 1.0)},
       {{"rate", "g/m2/d", film_rate}},
       "Malone & Pfeiffer 2006; Ling & Chen 2005"},
      {"denitrification_rate",
       "nitrate nitrogen that gravel or sludge turns to gas, per area of film",
       {{"at_20c", "g/m2/d", 0.01, 2, "N at 20 degC with plenty of nitrate and no oxygen"},
        amount_row("nitrate", "mg/L as N"),
        kOxygen,
        assume({"theta", "-", 1.0, 1.2, "per kelvin"}, 1.08),
        temperature_row},
       {{"rate", "g/m2/d",
         [](const Given& g) {
           return denitrification_rate(g("at_20c") * gram_nitrogen_per_square_metre_day, nitrogen_of(g, "nitrate"),
                                       oxygen_of(g), temperature_of(g), Number<>(g("theta")))
               .in(gram_nitrogen_per_square_metre_day);
         }}},
       "Henze et al. 2008"},
      {"packed_bed_area",
       "area of grains per volume of bed",
       {{"diameter", "mm", 1, 100, "of grains"}, {"porosity", "-", 0.2, 0.98, "voids over bed"}},
       {{"specific_area", "m2/m3",
         [](const Given& g) {
           return packed_bed_area(g("diameter") * units::millimetre, Number<>(g("porosity"))).si();
         }}},
       "geometry of spheres"},
      {"plug_flow_outlet",
       "ammonia after a bed in plug flow, first order",
       {amount_row("inlet", "mg/L as N"),
        {"rate", "m/d", 0.01, 5, "of the film"},
        {"area", "m2", 0, 1e5, "of film"},
        {"flow", "m3/d", 1e-3, 1e6, "of water"}},
       {{"outlet", "mg/L",
         [](const Given& g) {
           const Concentration<> out = plug_flow_outlet(nitrogen_of(g, "inlet"), Velocity<>(g("rate") / 86400.0),
                                                        Area<>(g("area")), Flow<>(g("flow") / 86400.0));
           return (out * molar_mass::nitrogen).in(milligram_per_litre);
         }}},
       "Watten & Sibrell 2006"},
  };
}

std::vector<InputRow> film_growth_rows(std::string_view food) {
  return {{"film", "-", 0, 1, "share of one grown in full"},
          amount_row(food, "mg/L as N"),
          kOxygen,
          assume({"suits", "-", 0, 1, "share that acidity and alkalinity allow"}, 1.0),
          temperature_row};
}

double film_growth_of(const Given& g, const NitrifierGrowth& kind, std::string_view food) {
  return film_change(kind, g("film"), nitrogen_of(g, food), oxygen_of(g), g("suits"), temperature_of(g)) * 86400.0;
}

std::vector<InputRow> to_gas_rows(std::string_view area, std::string_view meaning) {
  return {{area, "m2", 0, 1e4, meaning},
          amount_row("nitrate", "mg/L as N"),
          {"solids", "g", 0, 1e6, "carbon of what lies there"},
          temperature_row};
}

double to_gas_of(const Given& g, std::string_view area,
                 double (*law)(const Area<>&, const double&, const double&, const Temperature<>&)) {
  const double solids = g("solids") * 1e-3 / molar_mass::carbon.si();
  const double mol_a_second = law(Area<>(g(area)), nitrogen_of(g, "nitrate").si(), solids, temperature_of(g));
  return mol_a_second * molar_mass::nitrogen.si() * 1e3 * 86400.0;
}

std::vector<Entry> growth_entries() {
  return {
      {"ammonia_oxidiser_growth",
       "net growth of ammonia oxidisers",
       {amount_row("ammonia", "mg/L as N"), kOxygen, temperature_row},
       {{"net_growth", "1/d",
         [](const Given& g) {
           return nitrifier_net_growth(ammonia_oxidisers, nitrogen_of(g, "ammonia"), oxygen_of(g), temperature_of(g))
               .in(per_day);
         }}},
       "Tchobanoglous et al. 2014, table 8-14"},
      {"nitrite_oxidiser_growth",
       "net growth of nitrite oxidisers",
       {amount_row("nitrite", "mg/L as N"), kOxygen, temperature_row},
       {{"net_growth", "1/d",
         [](const Given& g) {
           return nitrifier_net_growth(nitrite_oxidisers, nitrogen_of(g, "nitrite"), oxygen_of(g), temperature_of(g))
               .in(per_day);
         }}},
       "Tchobanoglous et al. 2014, table 8-14 (from memory)"},
      {"nitrification_alkalinity_share",
       "share of the first step of nitrification that the alkalinity left allows",
       {amount_row("alkalinity", "mg/L as CaCO3")},
       {{"share", "-",
         [](const Given& g) {
           return nitrification_alkalinity_share(
                      amount_of(g, "alkalinity", molar_mass::calcium_carbonate_equivalent, "mg/L"))
               .si();
         }}},
       "common practice"},
      {"ammonia_film_growth",
       "change of the film of ammonia oxidisers, as a share of a full one a day",
       film_growth_rows("ammonia"),
       {{"change", "1/d", [](const Given& g) { return film_growth_of(g, ammonia_oxidisers, "ammonia"); }}},
       "Masic & Eberl 2015; Henze et al. 2008; common practice"},
      {"nitrite_film_growth",
       "change of the film of nitrite oxidisers, as a share of a full one a day",
       film_growth_rows("nitrite"),
       {{"change", "1/d", [](const Given& g) { return film_growth_of(g, nitrite_oxidisers, "nitrite"); }}},
       "Masic & Eberl 2015; Henze et al. 2008; common practice"},
      {"gravel_nitrate_to_gas",
       "nitrate nitrogen that a gravel bed turns to gas",
       to_gas_rows("gravel", "of the bed, seen from above"),
       {{"gas", "g/d", [](const Given& g) { return to_gas_of(g, "gravel", gravel_nitrate_to_gas<double>); }}},
       "form Henze et al. 2008; rate common practice"},
      {"sludge_nitrate_to_gas",
       "nitrate nitrogen that sludge at rest turns to gas",
       to_gas_rows("sludge", "floor on which it lies undisturbed"),
       {{"gas", "g/d", [](const Given& g) { return to_gas_of(g, "sludge", sludge_nitrate_to_gas<double>); }}},
       "Messer, Burchell & Birgand 2017"},
      {"decay_rate_particles",
       "decay of solids in a loop",
       {temperature_row},
       {{"rate", "1/d", [](const Given& g) { return decay_rate(particles, temperature_of(g)).in(per_day); }}},
       "Zhang & Johnson 2016"},
      {"oxygen_demand_exerted",
       "oxygen taken in a time by organic matter",
       {{"ultimate", "mg/L", 0, 1e5, "demand in the end"},
        {"rate_20c", "1/d", 0.001, 5, "of decay at 20 degC"},
        {"time", "d", 0, 1000, "passed"},
        assume({"theta", "-", 1.0, 1.2, "per kelvin"}, 1.047),
        assume(temperature_row, 20.0)},
       {{"exerted", "mg/L",
         [](const Given& g) {
           const Frequency<> rate = decay_rate(Decay{g("rate_20c") * per_day, Number<>(g("theta"))}, temperature_of(g));
           return oxygen_demand_exerted(g("ultimate") * milligram_per_litre, rate, g("time") * units::day)
               .in(milligram_per_litre);
         }}},
       "Chapra 1997"},
  };
}

}  // namespace

std::vector<Entry> nitrification_entries() {
  std::vector<Entry> all = factor_entries();
  for (auto* more : {film_entries, growth_entries})
    for (Entry& entry : more()) all.push_back(std::move(entry));
  return all;
}

}  // namespace leat::science::water_entry
