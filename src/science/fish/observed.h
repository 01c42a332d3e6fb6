// Figures of a species that depend on something: maintenance ration by temperature, lethal temperature by acclimation.
#pragma once

#include <cmath>
#include <optional>
#include <utility>
#include <vector>

#include "base/units/quantity.h"
#include "science/fish/species.h"

namespace leat::science {

/// Value between tabulated points, straight in x; the ends hold beyond them. Nothing from an empty table.
std::optional<double> between_points(const std::vector<std::pair<double, double>>& points, double x);

/// Ration at which a species neither gains nor loses, by temperature; exponential between the temperatures seen.
///
/// source   common carp: Goolish & Adelman 1984
std::optional<Frequency<>> maintenance_ration(const Species& species, Temperature<> water);

/// Temperature at which half die within 14 d, by the temperature they come from.
///
/// source   rainbow trout: Huysman et al. 2020, Kaya 1978
std::optional<Temperature<>> lethal_temperature_half(const Species& species, Temperature<> acclimated);

}  // namespace leat::science
