#include "science/catalogue.h"

namespace leat::science {

std::vector<const Entry*> all_entries() {
  std::vector<const Entry*> all;
  for (const auto subject : {hydraulics_entries(), heat_entries(), water_entries(), life_entries()})
    for (const Entry& entry : subject) all.push_back(&entry);
  return all;
}

const Entry* find_entry(std::string_view name) {
  for (const Entry* entry : all_entries())
    if (entry->name == name) return entry;
  return nullptr;
}

}  // namespace leat::science
