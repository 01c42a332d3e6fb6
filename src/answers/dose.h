// leat dose: how much of what, over how many days?
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "model/loop/loop.h"

namespace leat::answers {

struct DoseRequest {
  enum class For { base, acid, nitrite, iron, chlorine, chloramine, change } what = For::base;
  Volume<> water{};
  Temperature<> temperature{};
  // base and acid
  double pH = 7.0, target_pH = 7.0;
  std::optional<double> shaken_pH{};            ///< of a jar shaken with air
  std::optional<Concentration<>> alkalinity{};  ///< equivalents
  std::optional<Concentration<>> ammonia{};     ///< total
  MassRate<> feed{};
  double protein = 0.45, plants_take = 0.0;
  Concentration<> ionic_strength{}, phosphate{};
  std::string reagent = "KHCO3";
  // the rest
  Density<> reading{}, target{};  ///< nitrite ion, iron wanted, chlorine, or what a water change is to lower
  double ratio = 10.0;            ///< chloride over nitrite
  double share = 0.06;            ///< of iron in the product
  Density<> source{};             ///< of what a change is to lower, in the new water
  Volume<> new_water{};
};

/// One day of dosing.
struct DoseDay {
  int day = 1;
  Mass<> grams;
  int goes = 1;
  double pH_from = 0.0, pH_to = 0.0;
  double first_jump = 0.0;  ///< of pH, by the first go, before air has brought or taken any carbon dioxide
};

struct DoseAnswer {
  std::string verdict;
  std::string reagent;
  std::vector<DoseDay> days;
  std::optional<MassRate<>> standing;
  std::vector<std::string> lines;  ///< what was worked out, each with its number
  std::vector<std::string> cautions;
  std::vector<std::string> assumed{};  ///< what nobody said and was taken all the same
  // base and acid
  std::optional<Concentration<>> alkalinity_now, alkalinity_low, alkalinity_high, alkalinity_target, carbon_dioxide;
  Mass<> lift{};
  MassRate<> net_acid_as_caco3{};  ///< mass of CaCO3 a day
};

DoseAnswer dose(const DoseRequest& request);
/// Of base and acid.
DoseAnswer dose_acidity(const DoseRequest& request);

/// The most that pH may move in one go, and in a day without the standing dose (common practice).
inline constexpr double kMostInOneGo = 0.3, kMostInADay = 0.3;
/// Goes in a day at most: one an hour.
inline constexpr int kMostGoes = 24;
/// Carbon dioxide that harms fish; and more than any loop holds, so that pH or alkalinity was read wrong. mg/L (common
/// practice)
inline constexpr double kMuchCarbonDioxide = 20.0, kTooMuchCarbonDioxide = 80.0;
/// Un-ionised ammonia from which a base is stopped, mg/L as N (common practice).
inline constexpr double kStopAmmonia = 0.0125;

}  // namespace leat::answers
