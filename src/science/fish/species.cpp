#include "science/fish/species.h"

#include <algorithm>

namespace leat::science {
namespace {

/// The cautious end of a span is its low one.
DatumRows rows_of(std::string_view name) {
  return {species_data(), name, DatumRows::Take::low};
}

std::optional<TemperatureDifference<>> difference(const DatumRows& rows, std::string_view key) {
  const auto read = rows.number(key);
  return read ? std::optional(TemperatureDifference<>(*read)) : std::nullopt;
}

/// `scale` takes the number to kg/m3: 1e-3 for mg/L.
std::optional<Density<>> density(const DatumRows& rows, std::string_view key, double scale = 1e-3) {
  const auto read = rows.number(key, scale);
  return read ? std::optional(Density<>(*read)) : std::nullopt;
}

Season season_of(std::string_view word) {
  return word == "cold" ? Season::cold : word == "both" ? Season::both : Season::warm;
}

OxygenLaw oxygen_law_of(const DatumRows& rows) {
  const std::string_view law = rows.text("o2_model");
  if (law.starts_with("Liao")) return OxygenLaw::liao;
  if (law.starts_with("FR=")) return OxygenLaw::tilapia;
  if (law.starts_with("allometric")) return OxygenLaw::allometric;
  return OxygenLaw::unsupported;
}

void read_temperatures(const DatumRows& rows, Species& s) {
  s.tolerated_low = rows.temperature("t_tolerated_low_C");
  s.feed_stop_low = rows.temperature("t_feed_stop_low_C");
  s.feed_full_low = rows.temperature("t_feed_full_low_C");
  s.best_low = rows.temperature("t_opt_low_C");
  s.best_high = rows.temperature("t_opt_high_C");
  s.growth_peak = rows.temperature("t_growth_peak_C");
  s.feed_taper_high = rows.temperature("t_feed_taper_high_C");
  s.feed_stop_high = rows.temperature("t_feed_stop_high_C");
  s.lethal_low = rows.temperature("t_lethal_low_C");
  s.lethal_high = rows.temperature("t_lethal_high_C");
  s.max_daily_swing = difference(rows, "max_daily_swing_C");
  s.max_transfer_step = difference(rows, "max_transfer_step_C");
  s.max_temper_kelvin_per_hour = rows.number("max_temper_rate_C_per_h");
}

void read_water(const DatumRows& rows, Species& s) {
  s.oxygen_min = density(rows, "do_min_mgL");
  s.oxygen_target = density(rows, "do_target_mgL");
  s.oxygen_appetite_none = density(rows, "do_appetite_none_mgL");
  s.oxygen_appetite_full = density(rows, "do_appetite_full_mgL");
  s.ammonia_max = density(rows, "tan_max_mgL");
  s.nitrite_max = density(rows, "no2n_max_mgL");
  s.stocking_simple = density(rows, "density_max_kg_m3_lowtech", 1.0);
  s.stocking_intensive = density(rows, "density_max_kg_m3_intensive", 1.0);
}

void read_growth(const DatumRows& rows, Species& s) {
  const auto printed = rows.number("tgc_x1000"), exponent = rows.number("tgc_exponent");
  if (printed && exponent) s.growth = ThermalGrowth<>::from_thousandfold(*printed, *exponent);
  const auto low = rows.temperature("growth_plateau_low_C"), high = rows.temperature("growth_plateau_high_C");
  const auto zero = rows.temperature("growth_zero_C"), base = rows.temperature("growth_base_C");
  if (low && high && zero && base) s.growth_temperatures = GrowthTemperatures{*low, *high, *zero, *base};
  const auto efficiency = rows.number("k_de_growth");
  if (efficiency) s.energy_cost_of_growth = 1.0 / *efficiency;
  s.maintenance_ration = read_points(rows.text("maint_ration_pct_bw_d"));
}

void read_feed(const DatumRows& rows, Species& s) {
  s.feed_protein = rows.span("feed_protein_pct", 0.01);
  s.feed_lipid = rows.span("feed_lipid_pct", 0.01);
  s.feed_energy_kj_per_g = rows.span("feed_de_kJ_per_g");
  s.ration_percent_per_day = rows.span("ration_typical_pct_bw_d");
  s.feed_per_gain = rows.number("fcr_typical");
  s.body_nitrogen = rows.number("body_n_g_per_kg", 1e-3);
  s.body_phosphorus = rows.number("body_p_g_per_kg", 1e-3);
  s.digestible_nitrogen = rows.number("digestible_n");
  s.condition = rows.number("fulton_k");
}

Species read_species(std::string_view name) {
  const DatumRows rows = rows_of(name);
  Species s;
  s.name = name;
  s.scientific = rows.text("scientific");
  s.notes = rows.text("notes");
  s.season = season_of(rows.text("season"));
  s.oxygen_law = oxygen_law_of(rows);
  read_temperatures(rows, s);
  read_water(rows, s);
  read_feed(rows, s);
  read_growth(rows, s);
  return s;
}

}  // namespace

std::optional<AppetiteTemperatures> Species::appetite() const {
  if (!feed_stop_low || !feed_full_low || !feed_taper_high || !feed_stop_high) return std::nullopt;
  return AppetiteTemperatures{*feed_stop_low, *feed_full_low, *feed_taper_high, *feed_stop_high};
}

const std::vector<Species>& all_species() {
  static const std::vector<Species> all = [] {
    std::vector<Species> read;
    for (const std::string_view name : species_names()) read.push_back(read_species(name));
    return read;
  }();
  return all;
}

const Species* find_species(std::string_view name) {
  const std::string_view known = resolve_name(species_data(), name);
  const auto& all = all_species();
  const auto found = std::find_if(all.begin(), all.end(), [&](const Species& s) { return s.name == known; });
  return found == all.end() ? nullptr : &*found;
}

std::vector<std::string_view> species_names() {
  return datum_names(species_data());
}

}  // namespace leat::science
