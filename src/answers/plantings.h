// What the record says of every plant: where and when it was put in, and what became of it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "record/places.h"

namespace leat::answers {

enum class Fate {
  standing,   ///< as far as the record says
  harvested,  ///< cut or lifted for good
  died,
  replaced  ///< died, or was taken out, and a substitute came into its place
};
std::string_view fate_word(Fate fate);

/// One plant in one place.
struct Plant {
  std::string bed, crop;
  record::Moment planted = 0;
  bool substitute = false;
  Fate fate = Fate::standing;
  std::optional<record::Moment> ended{};
  std::optional<double> grams{};  ///< at harvest
  bool alone = true;              ///< weighed by itself, not as one of a lot
  int chapter = 0;                ///< in which it was planted, from 0
  bool across_chapters = false;   ///< the loop was re-plumbed while it stood
  std::vector<std::int64_t> entries{};
};

/// Plants or leaves weighed while they stand on.
struct WeighedPlants {
  std::string bed, crop;
  record::Moment at = 0;
  double count = 1, grams_each = 0;
  std::int64_t entry = 0;
};

/// A harvest from plants that stand on, or whose number was not said.
struct Cut {
  std::string bed, crop;
  record::Moment at = 0;
  double grams = 0;
  std::int64_t entry = 0;
};

struct Plantings {
  std::vector<Plant> plants;
  std::vector<WeighedPlants> weighed;
  std::vector<Cut> cuts;
  std::vector<record::Moment> chapters;  ///< when the loop was re-plumbed: each begins the next chapter
  std::vector<std::string> taken;        ///< what was assumed, in sentences
};

/// From standing entries of a record, in any order.
Plantings plantings_in(const std::vector<record::Entry>& entries, const record::Context& context);

/// Grams of an amount; nothing when it is no mass.
std::optional<double> grams_of(const record::Amount& amount);

}  // namespace leat::answers
