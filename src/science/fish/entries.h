// The lists that make up the entries of fish, crops and statistics.
#pragma once

#include <vector>

#include "science/catalogue.h"

namespace leat::science {

std::vector<Entry> growth_entries();
std::vector<Entry> energy_entries();
std::vector<Entry> feeding_entries();
std::vector<Entry> oxygen_entries();
std::vector<Entry> fish_waste_entries();
std::vector<Entry> stocking_entries();
std::vector<Entry> species_entries();
std::vector<Entry> crop_growth_entries();
std::vector<Entry> lettuce_entries();
std::vector<Entry> crop_nutrition_entries();
std::vector<Entry> statistics_entries();

}  // namespace leat::science
