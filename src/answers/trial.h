// leat trial: what the plantings say. Survivors and places, what is left out and why, and what chance alone may do.
#pragma once

#include "answers/fish_lives.h"
#include "answers/plantings.h"
#include "science/statistics/comparison.h"
#include "science/statistics/mixed_model.h"
#include "science/statistics/survival.h"
#include "science/statistics/two_groups.h"

namespace leat::answers {

/// Beds that were treated alike, under one name.
struct Treatment {
  std::string name;
  std::vector<std::string> beds;  ///< paths
};

struct TrialRequest {
  std::string crop{};                   ///< only this one
  std::vector<Treatment> treatments{};  ///< empty: the kind of the bed
  double wanted = 0.15;                 ///< difference that matters, share of the mean
  double power = 0.80, level = 0.95;
  std::vector<FishAtStart> fish{};                 ///< of the loop file, where the record has no stocking
  std::optional<record::Moment> since{}, until{};  ///< plantings within
};

/// Plants of one crop in one bed that were put in within a week.
struct Stand {
  std::string bed, treatment;
  int cycle = 0;                         ///< stands of other beds that were planted in the same week
  record::Moment planted = 0, last = 0;  ///< first planting, and the last thing that happened to one of them
  double places = 0, died = 0, replaced = 0, standing = 0;
  std::vector<double> survivors;     ///< grams of each original that was harvested and weighed
  std::vector<double> places_grams;  ///< the same, with 0 where an original died or was replaced
  std::vector<double> substitutes;   ///< grams, left out
  double cut_grams = 0;              ///< taken from plants that stood on
  bool weighed_together = false;     ///< some weights are means of a lot

  double alive() const { return places - died - replaced; }
};

/// Something that is not in the means, and why.
struct Exclusion {
  std::string bed, what, reason;
  double count = 0;
  std::vector<double> grams;
  std::vector<std::int64_t> entries;
};

/// Which weights a comparison is of.
enum class Basis {
  survivors,        ///< originals that lived
  places,           ///< every planted place, 0 where the original was lost
  with_substitutes  ///< survivors and substitutes as if they were alike: shown so that the exclusion can be judged
};

/// What is dealt out anew to see what chance does.
enum class Units {
  plants,  ///< one bed each: what plants say, not what beds do
  beds,    ///< each bed one value, the mean of its stands
  cycles   ///< one bed each, several cycles: the difference of each cycle
};

/// Two treatments on one basis.
struct Compared {
  Basis basis = Basis::survivors;
  Units units = Units::plants;
  std::string first, second;
  science::Sample a, b;  ///< of plants, or of the units
  double n = 0;          ///< cycles, when these are the units
  std::optional<science::MeanDifference> apart;
  std::optional<science::Rearranged> chance;
  std::optional<science::MixedFit> mixed;  ///< with several beds: column 1 is the first less the second
  double mixed_cycles = 1;

  double difference() const { return units == Units::cycles && chance ? chance->difference : a.mean - b.mean; }
};

/// How many originals lived, of how many.
struct Lived {
  std::string treatment;
  double alive = 0, places = 0;
  science::Interval interval{};
  std::vector<science::SurvivalStep> steps{};  ///< by days from planting; harvested plants leave alive
  double last_day = 0;                         ///< of the last one that was followed
};

/// How fast the plants of one stand grew, by weighings and the harvest: straight on the logarithm.
struct Growth {
  std::string bed;
  record::Moment planted = 0;
  std::vector<double> days{}, grams{};          ///< since planting; mean of a plant
  double a_day = 0;                             ///< share a day
  std::optional<science::Interval> interval{};  ///< from three times on
  std::vector<std::int64_t> entries{};
};

struct Happened {
  record::Moment at = 0;
  std::string what;
  std::int64_t entry = 0;
};

/// One crop within one chapter of the plumbing.
struct Trial {
  std::string crop;
  int chapter = 0;
  record::Moment from = 0, to = 0;
  std::vector<Stand> stands;
  std::vector<Exclusion> excluded;
  std::vector<Compared> compared;
  std::vector<Lived> lived;
  std::vector<Growth> growth;
  std::optional<double> alike_p;      ///< that as many lived, of two treatments; Fisher
  std::vector<std::string> warnings;  ///< sentences
  std::vector<Happened> events;
  std::optional<double> variation;      ///< spread over mean within a bed, pooled
  std::optional<double> plants_needed;  ///< a bed, for the wanted difference
  std::optional<double> plants_needed_normal;
};

struct TrialAnswer {
  std::vector<Trial> trials;
  std::vector<Plant> plants;    ///< every one, also of crops that were not asked for
  std::vector<FishLives> fish;  ///< a tank each; not when one crop was asked for
  TrialRequest request;
  std::vector<std::string> taken;
  std::vector<record::Moment> chapters;
};

TrialAnswer trial(const std::vector<record::Entry>& entries, const record::Context& context,
                  const TrialRequest& request);

}  // namespace leat::answers
