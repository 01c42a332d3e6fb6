// What is known of each crop, as far as a source supports it.
#pragma once

#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "base/units/quantity.h"
#include "science/crops/evapotranspiration.h"
#include "science/crops/growth.h"
#include "science/crops/uptake.h"
#include "science/fish/growth.h"
#include "science/table/datum.h"

namespace leat::science {

/// One crop. An empty field is unsupported.
struct Crop {
  std::string_view name, scientific, kind, notes, first_deficiency;
  // temperatures
  std::optional<Temperature<>> base, best_low, best_high;  ///< best for quality, against bolting
  std::optional<Temperature<>> best_growth;                ///< best for mass, where that differs
  std::optional<Temperature<>> stress_high, fail, frost_damage, root_low, root_high;
  // time and yield
  std::optional<Span> places_per_m2, days_to_harvest, yield_kg_m2, harvest_mass_g;
  std::optional<ThermalTime<>> thermal_time;  ///< as a source gives it, above 0 °C
  std::optional<double> pick_share, picks;    ///< of what stands, when it is picked and grows on; how often
  std::optional<Span> pick_days;              ///< from one picking to the next, at the best temperature
  std::optional<double> dry_share;
  std::vector<std::pair<double, double>> emergence_days;            ///< °C, days from sowing
  std::vector<std::pair<double, double>> normal_seedlings_percent;  ///< °C, % of seeds
  // water and light
  std::optional<CropCoefficients> coefficients;
  std::optional<double> daily_light_mol, extinction;
  std::optional<Density<>> root_oxygen_min;
  std::optional<double> acidity_low, acidity_high;
  std::optional<Span> feed_ratio_g_m2_d;  ///< for feed of 32 % protein

  bool fruiting() const { return kind.starts_with("fruiting"); }
  /// Temperatures for growth, where base, best and fail are all known. The best range reaches up to what is best for
  /// mass.
  std::optional<CropTemperatures> temperatures() const;
  /// Thermal time from transplanting to harvest: as given, or the middle of the days at best times (best - base).
  std::optional<ThermalTime<>> thermal_time_to_harvest() const;
  /// Thermal time from one picking to the next: the middle of the days at best times (best - base). None: the crop is
  /// cut whole.
  std::optional<ThermalTime<>> thermal_time_to_pick() const;
  /// What the whole crop removes per fresh mass: measured removal where there is one; else the edible part, with 0.45
  /// g/kg for the nitrate that protein misses in leaves, and twice the fruit for the leaves and stems of fruit crops.
  std::optional<NutrientContents> contents() const;
};

/// All rows, with source and provenance.
std::span<const Datum> crop_data();
const std::vector<Crop>& all_crops();
/// By its name or another one in use ("chard"), in any case; nullptr if unknown.
const Crop* find_crop(std::string_view name);
std::vector<std::string_view> crop_names();

}  // namespace leat::science
