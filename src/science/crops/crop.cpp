#include "science/crops/crop.h"

#include <algorithm>
#include <array>

namespace leat::science {
namespace {

DatumRows rows_of(std::string_view name) {
  return {crop_data(), name, DatumRows::Take::middle};
}

void read_temperatures(const DatumRows& rows, Crop& crop) {
  crop.base = rows.temperature("t_base_C");
  crop.best_low = rows.temperature("t_opt_low_C");
  crop.best_high = rows.temperature("t_opt_high_C");
  crop.best_growth = rows.temperature("t_best_growth_C");
  crop.stress_high = rows.temperature("t_stress_high_C");
  crop.fail = rows.temperature("t_fail_C");
  crop.frost_damage = rows.temperature("frost_damage_C");
  crop.root_low = rows.temperature("root_t_low_C");
  crop.root_high = rows.temperature("root_t_high_C");
}

void read_time_and_yield(const DatumRows& rows, Crop& crop) {
  crop.places_per_m2 = rows.span("density_per_m2");
  crop.days_to_harvest = rows.span("days_transplant_to_harvest");
  crop.yield_kg_m2 = rows.span("yield_kg_m2_per_harvest");
  crop.harvest_mass_g = rows.span("harvest_mass_g");
  if (const auto days = rows.number("degree_days_base0")) crop.thermal_time = *days * degree_day;
  crop.dry_share = rows.number("dry_matter_pct", 0.01);
  crop.pick_share = rows.number("pick_share");
  crop.pick_days = rows.span("pick_days");
  crop.picks = rows.number("picks");
  for (const int celsius : {0, 5, 10, 15, 20, 25, 30, 35})
    if (const auto days = rows.number("germ_days_" + std::to_string(celsius) + "C"))
      crop.emergence_days.emplace_back(celsius, *days);
  crop.normal_seedlings_percent = read_points(rows.text("normal_seedlings_pct"));
}

void read_water_and_light(const DatumRows& rows, Crop& crop) {
  const auto initial = rows.number("kc_ini"), middle = rows.number("kc_mid"), end = rows.number("kc_end");
  if (initial && middle && end) crop.coefficients = CropCoefficients{*initial, *middle, *end};
  crop.daily_light_mol = rows.number("dli_target_mol_m2_d");
  crop.extinction = rows.number("extinction_k");
  if (const auto oxygen = rows.number("root_do_min_mgL", 1e-3)) crop.root_oxygen_min = Density<>(*oxygen);
  crop.acidity_low = rows.number("ph_low");
  crop.acidity_high = rows.number("ph_high");
  crop.feed_ratio_g_m2_d = rows.span("feed_ratio_g_m2_d");
}

Crop read_crop(std::string_view name) {
  const DatumRows rows = rows_of(name);
  Crop crop;
  crop.name = name;
  crop.scientific = rows.text("scientific");
  crop.kind = rows.text("kind");
  crop.notes = rows.text("notes");
  crop.first_deficiency = rows.text("first_deficiency");
  read_temperatures(rows, crop);
  read_time_and_yield(rows, crop);
  read_water_and_light(rows, crop);
  return crop;
}

/// Thermal time that the middle of some days at the best temperature brings.
std::optional<ThermalTime<>> at_best(const Crop& crop, const Span& days) {
  if (!crop.base || !crop.best_low || !crop.best_high) return std::nullopt;
  const double best = 0.5 * (crop.best_low->celsius() + crop.best_high->celsius());
  return days.middle() * (best - crop.base->celsius()) * degree_day;
}

NutrientContents edible_contents(const DatumRows& rows) {
  const auto kg = [&](std::string_view key, double scale) { return rows.number(key, scale).value_or(0.0); };
  return {kg("n_g_kg", 1e-3),  kg("p_g_kg", 1e-3),  kg("k_g_kg", 1e-3),
          kg("ca_g_kg", 1e-3), kg("mg_g_kg", 1e-3), kg("fe_mg_kg", 1e-6)};
}

}  // namespace

std::optional<CropTemperatures> Crop::temperatures() const {
  if (!base || !best_low || !best_high || !fail) return std::nullopt;
  const Temperature<> top = best_growth && *best_growth > *best_high ? *best_growth : *best_high;
  return CropTemperatures{*base, *best_low, top, *fail};
}

std::optional<ThermalTime<>> Crop::thermal_time_to_harvest() const {
  if (thermal_time) return thermal_time;
  return days_to_harvest ? at_best(*this, *days_to_harvest) : std::nullopt;
}

std::optional<ThermalTime<>> Crop::thermal_time_to_pick() const {
  return pick_days && pick_share ? at_best(*this, *pick_days) : std::nullopt;
}

std::optional<NutrientContents> Crop::contents() const {
  const DatumRows rows = rows_of(name);
  NutrientContents c = edible_contents(rows);
  if (c.nitrogen == 0.0) return std::nullopt;
  if (fruiting()) {
    for (double* element : {&c.nitrogen, &c.phosphorus, &c.potassium, &c.calcium, &c.magnesium, &c.iron})
      *element *= 2.0;
    return c;
  }
  const auto take = [&](std::string_view key, double& element) {
    if (const auto removed = rows.number(key, 1e-3)) element = *removed;
  };
  c.nitrogen += 0.45e-3;
  take("removal_n_g_kg", c.nitrogen);
  take("removal_p_g_kg", c.phosphorus);
  take("removal_k_g_kg", c.potassium);
  take("removal_ca_g_kg", c.calcium);
  take("removal_mg_g_kg", c.magnesium);
  return c;
}

const std::vector<Crop>& all_crops() {
  static const std::vector<Crop> all = [] {
    std::vector<Crop> read;
    for (const std::string_view name : crop_names()) read.push_back(read_crop(name));
    return read;
  }();
  return all;
}

const Crop* find_crop(std::string_view name) {
  const std::string_view known = resolve_name(crop_data(), name);
  const auto& all = all_crops();
  const auto found = std::find_if(all.begin(), all.end(), [&](const Crop& c) { return c.name == known; });
  return found == all.end() ? nullptr : &*found;
}

std::vector<std::string_view> crop_names() {
  return datum_names(crop_data());
}

}  // namespace leat::science
