// What is known of each species of fish, as far as a source supports it.
#pragma once

#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "base/units/quantity.h"
#include "science/fish/feeding.h"
#include "science/fish/growth.h"
#include "science/table/datum.h"

namespace leat::science {

enum class Season { cold, warm, both };
enum class OxygenLaw { unsupported, liao, tilapia, allometric };

/// One species. An empty field is unsupported: refuse, or say that something was assumed.
struct Species {
  std::string_view name, scientific, notes;
  Season season = Season::warm;
  // temperatures
  std::optional<Temperature<>> tolerated_low, feed_stop_low, feed_full_low, best_low, best_high, growth_peak,
      feed_taper_high, feed_stop_high, lethal_low, lethal_high;
  std::optional<TemperatureDifference<>> max_daily_swing, max_transfer_step;
  std::optional<double> max_temper_kelvin_per_hour;
  // water
  std::optional<Density<>> oxygen_min, oxygen_target, oxygen_appetite_none, oxygen_appetite_full;
  std::optional<Density<>> ammonia_max;  ///< total ammonia, as N
  std::optional<Density<>> nitrite_max;  ///< as N; for trout the lowest of the limits by chloride
  std::optional<Density<>> stocking_simple, stocking_intensive;
  // feed and growth
  std::optional<Span> feed_protein, feed_lipid;  ///< shares of feed
  std::optional<Span> feed_energy_kj_per_g;      ///< digestible
  std::optional<Span> ration_percent_per_day;    ///< usual range; trout use their table
  std::optional<double> feed_per_gain;
  std::optional<ThermalGrowth<>> growth;  ///< per degree above `growth_temperatures->base`
  std::optional<GrowthTemperatures> growth_temperatures;
  std::optional<double> energy_cost_of_growth;                ///< energy eaten per energy gained, above maintenance
  std::vector<std::pair<double, double>> maintenance_ration;  ///< °C, % of body weight per day
  std::optional<double> body_nitrogen, body_phosphorus, digestible_nitrogen;  ///< kg/kg, kg/kg, share
  std::optional<double> condition;                                            ///< Fulton's K
  OxygenLaw oxygen_law = OxygenLaw::unsupported;

  std::optional<AppetiteTemperatures> appetite() const;
};

/// All rows, with source and provenance.
std::span<const Datum> species_data();
const std::vector<Species>& all_species();
/// By its name or another one in use ("trout"), in any case; nullptr if unknown.
const Species* find_species(std::string_view name);
std::vector<std::string_view> species_names();

}  // namespace leat::science
