#include "science/fish/condition.h"
#include "science/fish/energy.h"
#include "science/fish/entries.h"
#include "science/fish/entry_input.h"
#include "science/fish/rationed_growth.h"

namespace leat::science {
namespace {

const InputRow kFish = input("fish_mass", "kg", 1e-3, 5, "mass of one fish");
const InputRow kWater = input("temperature", "degC", 0, 40, "temperature of the water");
constexpr Frequency<> kPerDay{1.0 / 86400.0};

/// Cost of growth as given, or as one over the efficiency.
double cost_in(const Given& g) {
  return g.has("efficiency") ? 1.0 / plain_number(g, "efficiency") : plain_number(g, "cost");
}

double energy_need(const Given& g) {
  const Power<> retained = g("energy_gain") * kilojoule_per_day;
  // The unit of maintenance holds the exponent, "kJ/kg^0.84/d", which no unit reader takes: the number is in kJ/d of
  // 1 kg.
  const Power<> maintenance = plain_number(g, "maintenance") * kilojoule_per_day;
  return energy_need_factorial(Mass<>(g("fish_mass")), maintenance, g("exponent"), retained, cost_in(g))
      .in(kilojoule_per_day);
}

double protein_need(const Given& g) {
  const MassRate<> gram_per_day(1e-3 / 86400.0);
  return protein_need_factorial(Mass<>(g("fish_mass")), plain_number(g, "maintenance") * gram_per_day, g("exponent"),
                                g("protein_gain") * gram_per_day, cost_in(g))
      .in(gram_per_day);
}

EnergyBudget<double> bureau(const Given& g) {
  const EnergyShares shares{plain_number(g, "increment", 0.17), plain_number(g, "excreted", 0.08)};
  const Power<> heat = fasting_heat_cho(celsius(g("temperature")), Mass<>(g("fish_mass")));
  return energy_need_bureau(g("retained") * kilojoule_per_day, heat, shares);
}

double gain_percent(const Given& g) {
  const Mass<> fish(g("fish_mass"));
  const MassRate<> eaten = g("ration") * percent_per_day * fish;
  const MassRate<> gain =
      gain_from_ration(eaten, g("feed_energy") * kilojoule_per_gram, celsius(g("temperature")), fish);
  return Frequency<>((gain / fish).si()).in(percent_per_day);
}

const InputRow kFeedEnergy = assumed("feed_energy", "kJ/g", 10, 25, 17.5, "digestible energy of the feed");

RationedGrowth<double> on_ration(const Given& g) {
  const Mass<> fish(g("fish_mass"));
  const Temperature<> water = celsius(g("temperature"));
  const Power<> digested(g("ration") * percent_per_day.si() * fish.si() * g("feed_energy") * kilojoule_per_gram.si());
  return growth_on_ration(digested, water, fish, growth_potential(*find_species("rainbow trout"), water, fish));
}

double mass_on_ration(const Given& g) {
  return fish_mass_on_ration(*find_species("rainbow trout"), Mass<>(g("fish_mass")), g("ration") * percent_per_day,
                             g("feed_energy") * kilojoule_per_gram, celsius(g("temperature")), days(g("span")))
      .in(units::gram);
}

std::vector<Entry> ration_entries() {
  const InputRow ration = input("ration", "%/d", 0, 10, "feed eaten per mass of fish");
  return {
      {"growth_on_ration",
       "Growth of a trout on a ration, held to what the warmth allows; a loss below maintenance",
       {kFish, kWater, ration, kFeedEnergy},
       {{"gain", "%/d", [](const Given& g) { return on_ration(g).gain.in(percent_per_day); }},
        {"heat", "kJ/d", [](const Given& g) { return on_ration(g).heat.in(kilojoule_per_day); }}},
       "Bureau, Kaushik & Cho 2002; Iwama & Tautz 1981; below maintenance derived from Weatherley & Gill 1981"},
      {"ration_maintenance",
       "Ration that holds a trout at its mass",
       {kFish, kWater, kFeedEnergy},
       {{"ration", "%/d",
         [](const Given& g) {
           return ration_maintenance(celsius(g("temperature")), Mass<>(g("fish_mass")),
                                     g("feed_energy") * kilojoule_per_gram)
               .in(percent_per_day);
         }}},
       "Bureau, Kaushik & Cho 2002"},
      {"fish_mass_on_ration",
       "Mass of a trout after a span at one ration and one temperature; none: after a fast",
       {kFish, kWater, ration, kFeedEnergy, input("span", "d", 0, 1000, "time")},
       {{"mass", "g", mass_on_ration}},
       "Bureau, Kaushik & Cho 2002; Iwama & Tautz 1981; below maintenance derived from Weatherley & Gill 1981"},
  };
}

std::vector<Entry> need_entries() {
  return {
      {"energy_need_factorial",
       "Digestible energy need by maintenance and cost of growth",
       {kFish, optional_input("temperature", "degC", 0, 40, "at which the constants hold"),
        words("maintenance", "need of a fish of 1 kg, kJ/kg^b/d"), input("exponent", "-", 0.5, 1, "of mass"),
        input("energy_gain", "kJ/d", 0, 1e4, "energy retained"),
        optional_words("cost", "energy eaten per energy retained"), optional_words("efficiency", "or one over it")},
       {{"energy", "kJ/d", energy_need}},
       "Amin et al. 2016; Glencross & Bermudes"},
      {"protein_need_factorial",
       "Digestible protein need by maintenance and cost of growth",
       {kFish, optional_input("temperature", "degC", 0, 40, "at which the constants hold"),
        words("maintenance", "need of a fish of 1 kg, g/kg^b/d"), input("exponent", "-", 0.5, 1, "of mass"),
        input("protein_gain", "g/d", 0, 100, "protein retained"),
        optional_words("cost", "protein eaten per protein retained"), optional_words("efficiency", "or one over it")},
       {{"protein", "g/d", protein_need}},
       "Amin et al. 2016"},
      {"energy_need_bureau",
       "Digestible energy need of a trout by the factorial scheme",
       {kFish, kWater, input("retained", "kJ/d", 0, 1e4, "energy retained"),
        optional_words("increment", "heat of feeding over retained and fasting heat; 0.17"),
        optional_words("excreted", "gills and urine over the rest; 0.06 to 0.09")},
       {{"energy", "kJ/d", [](const Given& g) { return bureau(g).digested.in(kilojoule_per_day); }},
        {"heat_increment", "kJ/d", [](const Given& g) { return bureau(g).increment.in(kilojoule_per_day); }},
        {"excreted", "kJ/d", [](const Given& g) { return bureau(g).excreted.in(kilojoule_per_day); }}},
       "Bureau, Kaushik & Cho 2002"},
      {"fasting_heat_cho",
       "Heat that a fasting trout gives off",
       {kWater, kFish},
       {{"heat", "kJ/d",
         [](const Given& g) {
           return fasting_heat_cho(celsius(g("temperature")), Mass<>(g("fish_mass"))).in(kilojoule_per_day);
         }}},
       "Cho 1991; Bureau, Kaushik & Cho 2002"},
      {"gain_from_ration",
       "Growth of a trout from the ration eaten; a loss below maintenance",
       {kFish, kWater, input("ration", "%/d", 0, 10, "feed eaten per mass of fish"), kFeedEnergy},
       {{"gain", "%/d", gain_percent}},
       "Bureau, Kaushik & Cho 2002"},
  };
}

std::vector<Entry> size_entries() {
  return {
      {"maintenance_energy",
       "Maintenance energy per mass of fish and per fish",
       {input("fish_mass", "g", 0.1, 5000, "mass of one fish"),
        input("maintenance", "kJ/kg/d", 1, 1000, "per mass of fish")},
       {{"per_mass", "kJ/kg/d", [](const Given& g) { return g("maintenance"); }},
        {"per_fish", "kJ/d", [](const Given& g) { return g("maintenance") * g("fish_mass") / 1000.0; }}},
       "definition"},
      {"allometric_exponent",
       "Exponent of mass in a rate, from two sizes",
       {input("mass_small", "g", 1e-3, 1e5, "smaller mass"), input("rate_small", "-", 1e-9, 1e9, "rate there"),
        input("mass_large", "g", 1e-3, 1e5, "larger mass"), input("rate_large", "-", 1e-9, 1e9, "rate there")},
       {{"exponent", "-",
         [](const Given& g) {
           return allometric_exponent(grams(g("mass_small")), g("rate_small"), grams(g("mass_large")), g("rate_large"))
               .si();
         }}},
       "definition"},
      {"condition_factor_metric",
       "Hatchery condition factor in metric units",
       {input("condition", "lb/in3", 1e-5, 1e-2, "C, mass over length cubed")},
       {{"condition", "g/mm3",
         [](const Given& g) { return g("condition") * (pound.si() * 1e3) / (25.4 * 25.4 * 25.4); }}},
       "Piper et al. 1982, p 61"},
      {"condition_factor_fulton",
       "Fulton's condition factor",
       {optional_input("condition", "g/mm3", 1e-7, 1e-3, "mass over length cubed"),
        optional_input("fish_mass", "g", 0.1, 1e5, "or mass"), optional_input("length", "cm", 1, 200, "and length")},
       {{"fulton", "100 g/cm3",
         [](const Given& g) {
           if (g.has("condition")) return condition_factor_from_density(Density<>(g("condition") * 1e6)).si();
           return condition_factor_fulton(grams(g("fish_mass")), Length<>(0.01 * g("length"))).si();
         }}},
       "Piper et al. 1982"},
      {"fish_mass_from_length",
       "Mass of a fish by its length",
       {optional_input("condition", "lb/in3", 1e-5, 1e-2, "C of hatchery manuals"),
        optional_input("fulton", "-", 0.3, 5, "or Fulton's factor"), input("length", "in", 0.5, 60, "length")},
       {{"mass", "g",
         [](const Given& g) {
           const double density = g.has("fulton") ? 0.0 : g("condition") * pound.si() / std::pow(inch.si(), 3);
           const Number<> fulton =
               g.has("fulton") ? Number<>(g("fulton")) : condition_factor_from_density(Density<>(density));
           return fish_mass_from_length(fulton, g("length") * inch).in(units::gram);
         }}},
       "Piper et al. 1982"},
      {"fish_mass_from_count",
       "Mass of one fish from a count per pound or kilogram",
       {words("count", "fish per mass, fish/lb or fish/kg")},
       {{"mass", "g",
         [](const Given& g) { return fish_mass_from_count(number_in(g, "count", "1/lb")).in(units::gram); }}},
       "definition"},
  };
}

}  // namespace

std::vector<Entry> energy_entries() {
  std::vector<Entry> all = need_entries();
  for (Entry& entry : ration_entries()) all.push_back(std::move(entry));
  for (Entry& entry : size_entries()) all.push_back(std::move(entry));
  return all;
}

}  // namespace leat::science
