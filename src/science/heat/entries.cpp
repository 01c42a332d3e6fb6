#include "science/catalogue.h"
#include "science/heat/entry_help.h"

namespace leat::science {

std::span<const Entry> heat_entries() {
  static const std::vector<Entry> all = [] {
    std::vector<Entry> joined;
    using namespace heat_entry;
    for (auto* topic : {vapour_entries, sun_entries, radiation_entries, longwave_entries, evaporation_entries,
                        lake_entries, reference_et_entries, wall_entries, ground_entries, store_entries, swing_entries})
      for (Entry& entry : topic()) joined.push_back(std::move(entry));
    return joined;
  }();
  return all;
}

}  // namespace leat::science
