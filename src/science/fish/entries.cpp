#include "science/fish/entries.h"

#include <iterator>

namespace leat::science {

std::span<const Entry> life_entries() {
  static const std::vector<Entry> all = [] {
    std::vector<Entry> joined;
    for (const auto part :
         {growth_entries, energy_entries, feeding_entries, oxygen_entries, fish_waste_entries, stocking_entries,
          species_entries, crop_growth_entries, lettuce_entries, crop_nutrition_entries, statistics_entries}) {
      std::vector<Entry> entries = part();
      joined.insert(joined.end(), std::make_move_iterator(entries.begin()), std::make_move_iterator(entries.end()));
    }
    return joined;
  }();
  return all;
}

}  // namespace leat::science
