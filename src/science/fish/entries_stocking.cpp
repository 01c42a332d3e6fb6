#include <algorithm>
#include <stdexcept>

#include "science/fish/entries.h"
#include "science/fish/entry_input.h"
#include "science/fish/grading.h"
#include "science/fish/nitrogen.h"
#include "science/fish/stocking.h"
#include "science/fish/transfer.h"

namespace leat::science {
namespace {

const MassRate<> kGramPerDay(1e-3 / 86400.0);
constexpr double kYearDays = 365.25;

Density<> milligram_per_litre(double c) {
  return Density<>(1e-3 * c);
}

/// A yearly amount, "5010 kg" or "5010 kg/yr", in the unit without the year.
double yearly(const Given& g, std::string_view name, const std::string& unit) {
  const auto measured = measured_from(g.word(name));
  const auto per_year = read_unit(unit + "/yr");
  if (measured && measured->dimension == std::get<Unit>(per_year).dimension) return number_in(g, name, unit + "/yr");
  return number_in(g, name, unit);
}

double filter_area(const Given& g) {
  const MassRate<> ammonia = ammonia_from_feed_rule(g("feed") * kGramPerDay, Number<>(g("protein")), g("factor"));
  const ArealMassRate<> rate =
      g.has("rate") ? g("rate") * gram_per_square_metre_day : nitrification_rate_guide(celsius(g("temperature")));
  return (ammonia / rate).si();
}

/// "5 degF per 0.5 h fall" in degrees Celsius per hour. A change in degF is a difference: only its degree's size
/// counts.
double tempering(const Given& g) {
  const std::string_view text = g.word("limit");
  const std::size_t per = text.find(" per ");
  if (per == std::string_view::npos) throw std::out_of_range("limit");
  const auto time = measured_from(text.substr(per + 5));
  if (!time || !(time->dimension == dim::time)) throw std::out_of_range("limit");
  const double degree = text.substr(0, per).find("degF") == std::string_view::npos ? 1.0 : 5.0 / 9.0;
  return plain_number(g, "limit") * degree / (time->si / units::hour.si());
}

SizeSpread graded_fish(const Given& g) {
  return {grams(g("mean")), g("spread")};
}
double graded_share(const Given& g) {
  return share_below(graded_fish(g), grams(g("mass")));
}

TemperatureDifference<> step_of(const Given& g) {
  return TemperatureDifference<>(g("to") - g("from"));
}
Duration<> acidity_time(const Given& g) {
  return acidity_tempering_time(g("acidity_step"));
}

std::vector<Entry> tank_entries() {
  return {
      {"harvest_density",
       "Fish per volume at harvest",
       {words("stock", "fish stocked per volume, fish/m3"), input("survival", "-", 0, 1, "share that lives"),
        input("fish_mass", "g", 1, 1e4, "mass of one fish at harvest")},
       {{"density", "kg/m3",
         [](const Given& g) {
           return harvest_density(number_in(g, "stock", "1/m3"), g("survival"), grams(g("fish_mass"))).si();
         }}},
       "definition"},
      {"annual_fish_yield",
       "Fish per year from one tank harvested at an interval",
       {input("density", "kg/m3", 0, 300, "at harvest"), input("volume", "m3", 0.01, 1e4, "of the tank"),
        input("interval", "d", 1, 2000, "between harvests")},
       {{"yield", "t/yr",
         [](const Given& g) {
           return annual_fish_yield(Density<>(g("density")), Volume<>(g("volume")), days(g("interval")))
               .in(MassRate<>(1000.0 / (kYearDays * 86400.0)));
         }}},
       "definition"},
      {"density_from_index",
       "Fish per volume by the density index",
       {input("index", "lb/ft3/in", 0.01, 1, "density index"), input("length", "in", 0.5, 30, "length of the fish")},
       {{"density", "kg/m3",
         [](const Given& g) { return density_from_index(g("index"), g("length") * Length<>(0.0254)).si(); }}},
       "Piper et al. 1982"},
      {"flow_index_scaled",
       "Flow index at another oxygen of the inflow",
       {input("index", "-", 0.01, 10, "flow index"), input("oxygen", "mg/L", 0, 20, "at which it holds"),
        input("oxygen_new", "mg/L", 0, 20, "at which it is wanted"), input("oxygen_min", "mg/L", 0, 20, "the floor")},
       {{"index", "-",
         [](const Given& g) {
           return flow_index_scaled(Number<>(g("index")), milligram_per_litre(g("oxygen")),
                                    milligram_per_litre(g("oxygen_new")), milligram_per_litre(g("oxygen_min")))
               .si();
         }}},
       "Piper et al. 1982, p 70"},
      {"mortality_rate",
       "Deaths per fish and time",
       {input("deaths", "-", 0, 1e6, "counted"), input("fish_days", "-", 1e-9, 1e9, "fish times days")},
       {{"rate", "per 1000 fish-days",
         [](const Given& g) { return 1000.0 * mortality_rate(g("deaths"), g("fish_days")).si() * units::day.si(); }}},
       "definition"},
      {"share_above_mass",
       "Share of a group of fish that is above a mass, and the means of both parts",
       {input("mean", "g", 1, 5e3, "mass of one fish"),
        assumed("spread", "-", 0, 1.5, 0.25, "standard deviation of their masses over the mean"),
        input("mass", "g", 1, 5e3, "at which they are graded")},
       {{"share", "-", [](const Given& g) { return 1.0 - graded_share(g); }},
        {"mean_above", "g",
         [](const Given& g) { return between_ranks(graded_fish(g), graded_share(g), 1.0).mean.in(units::gram); }},
        {"mean_below", "g",
         [](const Given& g) { return between_ranks(graded_fish(g), 0.0, graded_share(g)).mean.in(units::gram); }}},
       "log-normal distribution; that fish of one age follow it is common practice"},
      {"transfer_time",
       "Time over which fish are brought from one water to another",
       {input("from", "degC", 0, 40, "the water they leave"), input("to", "degC", 0, 40, "the water they come to"),
        assumed("acidity_step", "-", 0, 5, 0.0, "difference of pH")},
       {{"gently", "h",
         [](const Given& g) { return std::max(tempering_time(step_of(g)), acidity_time(g)).in(units::hour); }},
        {"at_least", "h",
         [](const Given& g) { return std::max(shortest_tempering(step_of(g)), acidity_time(g)).in(units::hour); }}},
       "3 K at once, then 2.5 K/h (common practice); 8.3 up and 5.6 K/h down: Louisiana State University extension"},
      {"tempering_rate",
       "Change of temperature per hour",
       {words("limit", "as in: 5 degF per 0.5 h fall")},
       {{"rate", "degC/h", tempering}},
       "definition"},
      {"water_mass",
       "Mass that a stand must carry",
       {input("volume", "m3", 0, 1e4, "of water"), assumed("density", "kg/m3", 900, 1100, 1000, "of water")},
       {{"mass", "kg", [](const Given& g) { return g("volume") * g("density"); }}},
       "definition"},
  };
}

std::vector<Entry> plan_entries() {
  return {
      {"growing_area",
       "Bed for a yearly harvest",
       {words("annual", "harvest, kg per year"), words("yield", "kg/m2/yr")},
       {{"area", "m2", [](const Given& g) { return yearly(g, "annual", "kg") / yearly(g, "yield", "kg/m2"); }}},
       "definition"},
      {"cycles_per_year",
       "Harvests in a year",
       {words("annual", "harvest per year, kg/m2"), words("per_harvest", "kg/m2")},
       {{"cycles", "1/yr",
         [](const Given& g) { return yearly(g, "annual", "kg/m2") / number_in(g, "per_harvest", "kg/m2"); }}},
       "definition"},
      {"feed_from_area",
       "Daily feed for a planted area",
       {input("ratio", "g/m2/d", 5, 150, "feed per area"), input("area", "m2", 0.1, 1e4, "planted")},
       {{"feed", "g/d",
         [](const Given& g) {
           return feed_from_area(g("ratio") * gram_per_square_metre_day, Area<>(g("area"))).in(kGramPerDay);
         }}},
       "FAO Fisheries Technical Paper 589"},
      {"area_from_plants",
       "Bed for a number of plants",
       {words("plants", "how many"), words("density", "plants per area, plants/m2")},
       {{"area", "m2", [](const Given& g) { return plain_number(g, "plants") / number_in(g, "density", "1/m2"); }}},
       "definition"},
      {"biomass_from_feed",
       "Fish that a daily feed keeps",
       {input("feed", "g/d", 0, 1e6, "per day"), input("ration", "%/d", 0.1, 20, "feed per mass of fish")},
       {{"fish", "kg",
         [](const Given& g) {
           return biomass_from_feed(g("feed") * kGramPerDay, g("ration") * Frequency<>(0.01 / 86400.0)).si();
         }}},
       "definition"},
      {"loop_sizes_fao",
       "Fish, feed and bed for a tank",
       {input("tank", "L", 100, 5000, "fish tank")},
       {{"fish", "kg", [](const Given& g) { return loop_sizes_fao(g("tank") * units::litre).fish.si(); }},
        {"feed", "g/d", [](const Given& g) { return loop_sizes_fao(g("tank") * units::litre).feed.in(kGramPerDay); }},
        {"plant_area", "m2", [](const Given& g) { return loop_sizes_fao(g("tank") * units::litre).plants.si(); }}},
       "FAO Fisheries Technical Paper 589, table 8.1"},
      {"nitrification_rate_guide",
       "Ammonia nitrogen that grown-in film takes up: a rule for sizing",
       {input("temperature", "degC", 5, 25, "of the water")},
       {{"rate", "g/m2/d",
         [](const Given& g) {
           return nitrification_rate_guide(celsius(g("temperature"))).in(gram_per_square_metre_day);
         }}},
       "On-line aquaculture dictionary, nitrification activity by temperature"},
      {"biofilter_area",
       "Film area for a daily feed",
       {input("feed", "g/d", 0, 1e6, "per day"), input("protein", "-", 0.2, 0.6, "share of feed"),
        assumed("factor", "-", 0.05, 0.16, 0.092, "ammonia nitrogen per protein"),
        optional_input("temperature", "degC", 5, 25, "of the water"),
        optional_input("rate", "g/m2/d", 0.01, 2, "ammonia nitrogen per area; by temperature unless given")},
       {{"area", "m2", filter_area}},
       "rule of thumb over the guide's rate"},
  };
}

}  // namespace

std::vector<Entry> stocking_entries() {
  std::vector<Entry> all = tank_entries();
  for (Entry& entry : plan_entries()) all.push_back(std::move(entry));
  return all;
}

}  // namespace leat::science
