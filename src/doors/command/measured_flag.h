// A flag that takes a number with its unit.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result/problem.h"
#include "base/units/quantity.h"

namespace leat::doors {

/// The value in SI, or nothing if the flag is not given or wrong; a mistake names the flag.
std::optional<double> measured(const std::string& text, const char* flag, Dimension dimension, double low, double high,
                               const char* example, Problems& problems);

/// A mass in a volume of something that may be counted in several ways, "0.5 mg/L as NO2": in kg/m3, counted as the
/// first of `ways`, which is also meant where nothing is said. KH may be in degrees, "7 dKH", or in "meq/L".
std::optional<double> counted(const std::string& text, const char* flag, const std::vector<std::string_view>& ways,
                              double low, double high, const char* example, Problems& problems);

}  // namespace leat::doors
