#include "science/catalogue.h"
#include "science/water/entry_help.h"

namespace leat::science {

std::span<const Entry> water_entries() {
  static const std::vector<Entry> all = [] {
    std::vector<Entry> joined;
    using namespace water_entry;
    for (auto* topic : {property_entries, ion_entries, conversion_entries, dosing_entries, saturation_entries,
                        transfer_entries, aeration_entries, constant_entries, acidity_entries, calcite_entries,
                        ammonia_entries, nitrification_entries, stoichiometry_entries, algae_entries})
      for (Entry& entry : topic()) joined.push_back(std::move(entry));
    return joined;
  }();
  return all;
}

}  // namespace leat::science
