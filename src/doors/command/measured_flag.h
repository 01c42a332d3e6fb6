// A flag that takes a number with its unit.
#pragma once

#include <optional>
#include <string>

#include "base/result/problem.h"
#include "base/units/quantity.h"

namespace leat::doors {

/// The value in SI, or nothing if the flag is not given or wrong; a mistake names the flag.
std::optional<double> measured(const std::string& text, const char* flag, Dimension dimension, double low, double high,
                               const char* example, Problems& problems);

}  // namespace leat::doors
