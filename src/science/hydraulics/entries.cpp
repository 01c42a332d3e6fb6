#include "science/hydraulics/entries_support.h"

namespace leat::science {

std::span<const Entry> hydraulics_entries() {
  using namespace hydraulic_entries;
  static const std::vector<Entry> all = [] {
    std::vector<Entry> entries;
    for (std::vector<Entry> part : {friction_entries(), pipe_entries(), minor_loss_entries(), pump_entries(),
                                    network_entries(), part_full_entries(), channel_entries(), outlet_entries()})
      for (Entry& entry : part) entries.push_back(std::move(entry));
    return entries;
  }();
  return all;
}

}  // namespace leat::science
