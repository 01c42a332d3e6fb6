#include <stdexcept>

#include "science/crops/emergence.h"
#include "science/crops/evapotranspiration.h"
#include "science/crops/growth.h"
#include "science/crops/nutrition.h"
#include "science/fish/entries.h"
#include "science/fish/entry_input.h"

namespace leat::science {
namespace {

const InputRow kCrop = words("crop", "as in the table of crops");
const InputRow kSoil = input("temperature", "degC", 0, 35, "of the seed bed");

template <class T>
T supported(const std::optional<T>& value, std::string_view input) {
  if (!value) throw std::out_of_range(std::string(input));
  return *value;
}

/// Pairs as given, "5:15 10:7", or in a remark "T,d pairs=5:15 ..."; else those of the crop's table.
ThermalTimeFit fit_in(const Given& g) {
  std::string_view text = g.has("pairs") ? g.word("pairs") : std::string_view();
  if (const std::size_t at = remark(g).find("pairs="); text.empty() && at != std::string_view::npos)
    text = remark(g).substr(at + 6);
  const auto points = text.empty() ? crop_in(g).emergence_days : read_points(text);
  return supported(thermal_time_fit(points), "pairs");
}

CropCoefficients coefficients_in(const Given& g) {
  return supported(crop_in(g).coefficients, "crop");
}

/// By the stage's word, or by the share of the crop's time.
double coefficient(const Given& g) {
  const CropCoefficients kc = coefficients_in(g);
  if (g.has("progress")) return crop_coefficient(Number<>(g("progress")), kc).si();
  const std::string_view stage = g.word("stage");
  if (stage.starts_with("ini")) return kc.initial;
  if (stage.starts_with("mid")) return kc.middle;
  if (stage.starts_with("end") || stage.starts_with("late")) return kc.end;
  throw std::out_of_range("stage");
}

double mean_temperature(const Given& g) {
  const ThermalTime<> sum = number_in(g, "degree_days", "degC d") * degree_day;
  return g.get("base", 0.0) + (sum / days(g("time"))).si();
}

double expolinear(const Given& g) {
  const auto linear = g("linear") * gram_per_square_metre_day;
  const Frequency<> relative(g("relative") / units::day.si());
  return dry_mass_expolinear(linear, relative, days(g("time") - g("start"))).in(gram_per_square_metre);
}

double growth_now(const Given& g) {
  const auto crop = supported(crop_in(g).temperatures(), "crop");
  return crop_growth_rate(g("dry_mass") * gram_per_square_metre, celsius(g("temperature")), Flux<>(g("par")), crop)
      .in(gram_per_square_metre_day);
}

std::vector<Entry> seed_entries() {
  return {
      {"days_to_emergence",
       "Days from sowing to emergence",
       {kCrop, kSoil},
       {{"time", "d",
         [](const Given& g) {
           return supported(days_to_emergence(crop_in(g), celsius(g("temperature"))), "temperature").in(units::day);
         }}},
       "Harrington & Minges 1954"},
      {"normal_seedlings",
       "Share of seeds that give normal seedlings",
       {kCrop, kSoil},
       {{"share", "%",
         [](const Given& g) {
           return 100.0 * supported(normal_seedlings(crop_in(g), celsius(g("temperature"))), "temperature").si();
         }}},
       "Harrington & Minges 1954"},
      {"thermal_time_fit",
       "Base temperature and thermal time of emergence",
       {optional_words("crop", "whose table is fitted"), optional_words("pairs", "or temperature:days, blank between")},
       {{"base", "degC", [](const Given& g) { return fit_in(g).base.celsius(); }},
        {"thermal_time", "degC d", [](const Given& g) { return fit_in(g).sum.in(degree_day); }}},
       "least squares of 1/days on temperature"},
      {"mean_temperature_from_degree_days",
       "Mean temperature that gives a sum in a time",
       {words("degree_days", "sum, degC d"), input("time", "d", 1, 1000, "in which it came together"),
        optional_input("base", "degC", -5, 20, "from which degrees count; 0 unless given")},
       {{"temperature", "degC", mean_temperature}},
       "definition"},
  };
}

std::vector<Entry> stand_entries() {
  return {
      {"dry_mass_expolinear",
       "Dry mass of a crop at a time",
       {input("linear", "g/m2/d", 0.1, 60, "growth of the closed stand"),
        input("relative", "1/d", 0.01, 1, "relative growth rate of the open one"),
        input("start", "d", -1000, 1000, "time at which the two phases meet"), input("time", "d", -1000, 1000, "time")},
       {{"dry_mass", "g/m2", expolinear}},
       "Goudriaan & Monteith 1990"},
      {"crop_growth_rate",
       "Growth of a crop at a light and temperature",
       {kCrop, input("dry_mass", "g/m2", 0, 2000, "per ground area"),
        input("temperature", "degC", -5, 45, "of the air"),
        input("par", "W/m2", 0, 600, "light for growth on the bed")},
       {{"rate", "g/m2/d", growth_now}},
       "rate of Goudriaan & Monteith 1990"},
      {"plants_per_area",
       "Plants to a square metre at a spacing",
       {words("spacing", "as in: 20 x 25 cm")},
       {{"density", "1/m2",
         [](const Given& g) {
           const auto [along, across] = pair_in(g, "spacing", "x", "m");
           return plants_per_area(Length<>(along), Length<>(across)).si();
         }}},
       "definition"},
      {"par_from_daily_light",
       "Light for growth in energy from light in photons",
       {input("daily_light", "mol/m2/d", 0, 80, "photons on the bed"),
        assumed("photons_per_energy", "umol/J", 3, 6, 4.57, "of sunlight, 400 to 700 nm")},
       {{"par", "MJ/m2/d",
         [](const Given& g) {
           return par_from_photons(g("daily_light") * mole_per_square_metre_day,
                                   g("photons_per_energy") * micromole_per_joule)
                      .si() *
                  0.0864;
         }}},
       "McCree 1972"},
      {"global_from_daily_light",
       "Global radiation that gives a light for growth",
       {input("daily_light", "mol/m2/d", 0, 80, "photons on the bed"),
        assumed("photons_per_energy", "umol/J", 3, 6, 4.57, "of sunlight, 400 to 700 nm"),
        assumed("par_share", "-", 0.3, 0.6, par_share, "of global radiation")},
       {{"global", "MJ/m2/d",
         [](const Given& g) {
           return global_from_photons(g("daily_light") * mole_per_square_metre_day, g("par_share"),
                                      g("photons_per_energy") * micromole_per_joule)
                      .si() *
                  0.0864;
         }}},
       "McCree 1972"},
      {"crop_coefficient",
       "Crop coefficient by stage",
       {kCrop, optional_words("stage", "initial, mid or end"),
        optional_input("progress", "-", 0, 1, "or share of the crop's time")},
       {{"coefficient", "-", coefficient}},
       "Allen et al. 1998, FAO Irrigation and Drainage Paper 56, table 12"},
      {"crop_water_use",
       "Water used by a crop",
       {input("coefficient", "-", 0, 1.5, "crop coefficient"), input("reference", "mm/d", 0, 15, "ET0"),
        input("area", "m2", 0, 1e6, "planted")},
       {{"use", "L/d",
         [](const Given& g) {
           return crop_water_use(Number<>(g("coefficient")), g("reference") * millimetre_per_day, Area<>(g("area")))
               .in(units::litre / units::day);
         }}},
       "Allen et al. 1998, FAO Irrigation and Drainage Paper 56"},
  };
}

}  // namespace

std::vector<Entry> crop_growth_entries() {
  std::vector<Entry> all = seed_entries();
  for (Entry& entry : stand_entries()) all.push_back(std::move(entry));
  return all;
}

}  // namespace leat::science
