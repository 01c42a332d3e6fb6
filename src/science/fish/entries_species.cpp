#include <stdexcept>

#include "science/fish/entries.h"
#include "science/fish/entry_input.h"
#include "science/fish/observed.h"

namespace leat::science {
namespace {

const InputRow kSpecies = words("species", "as in the table of species");

template <class T>
T supported(const std::optional<T>& value, std::string_view input) {
  if (!value) throw std::out_of_range(std::string(input));
  return *value;
}

/// A figure of the table as it stands; the middle of a span.
double figure(const Given& g, std::string_view key) {
  return supported(read_span(species_figure(g, key)), "species").middle();
}

Entry figure_entry(std::string_view name, std::string_view meaning, std::string_view key, std::string_view unit) {
  return {name,
          meaning,
          {kSpecies},
          {{"value", unit, [key](const Given& g) { return figure(g, key); }}},
          "table of species, with a source for each"};
}

double excretion(const Given& g) {
  const bool fasting = g.has("state") && g.word("state").starts_with("fast");
  return figure(g, fasting ? "tan_fasting_g_per_kg_d" : "tan_fed_g_per_kg_d");
}

}  // namespace

std::vector<Entry> species_entries() {
  return {
      {"maintenance_ration",
       "Ration at which fish neither gain nor lose",
       {kSpecies, input("temperature", "degC", 5, 35, "of the water")},
       {{"ration", "% body weight/d",
         [](const Given& g) {
           return supported(maintenance_ration(species_in(g), celsius(g("temperature"))), "species")
               .in(percent_per_day);
         }}},
       "Goolish & Adelman 1984"},
      {"lethal_temperature_half",
       "Temperature at which half die within 14 days",
       {kSpecies, input("acclimated", "degC", 0, 30, "temperature they come from")},
       {{"temperature", "degC",
         [](const Given& g) {
           return supported(lethal_temperature_half(species_in(g), celsius(g("acclimated"))), "species").celsius();
         }}},
       "Huysman et al. 2020; Kaya 1978"},
      {"ammonia_excretion",
       "Ammonia nitrogen that fish give off",
       {kSpecies, optional_words("state", "fed or fasting; fed unless given")},
       {{"rate", "g N/kg/d", excretion}},
       "van Weerd et al. 1995"},
      figure_entry("best_growth_temperature", "Temperature of the best growth", "t_growth_peak_C", "degC"),
      figure_entry("best_intake_temperature", "Temperature of the largest appetite", "t_intake_max_C", "degC"),
      figure_entry("growth_ends_temperature", "Temperature at which growth ends in the heat", "t_zero_growth_high_C",
                   "degC"),
      figure_entry("ultimate_lethal_temperature", "Highest temperature that acclimation can reach", "t_uuilt_C",
                   "degC"),
      figure_entry("oxygen_minimum", "Oxygen not to fall below", "do_min_mgL", "mg/L"),
      figure_entry("ammonia_peak_time", "Hours from a meal to the peak of its ammonia", "tan_peak_h", "h"),
  };
}

}  // namespace leat::science
