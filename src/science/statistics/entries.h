// Relations of two groups for the catalogue.
#pragma once

#include <vector>

#include "science/catalogue.h"

namespace leat::science {

std::vector<Entry> group_entries();

}  // namespace leat::science
