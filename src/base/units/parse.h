// Text with a unit, as people write it: "1000 L", "20 L/min", "12.5 degC", "5.5 MJ m-2 d-1", "0.5 mg/L as N".
#pragma once

#include <string>
#include <string_view>
#include <variant>

#include "base/units/quantity.h"

namespace leat {

/// A unit read from text: what one of it is in SI, where its zero lies, and its dimension.
struct Unit {
  Dimension dimension;
  double scale = 1.0;   ///< SI per unit
  double offset = 0.0;  ///< SI value of the unit's zero; not 0 only for degC and degF
  std::string basis;    ///< "N", "CaCO3" ... from "mg/L as N"; empty if none
};

/// A quantity read from text, in SI. `temperature_point` says that the unit was a scale (degC), not a difference.
struct Measured {
  double si = 0.0;
  Dimension dimension;
  bool temperature_point = false;
  std::string basis;
  std::string unit;  ///< the unit as it was written
};

/// What went wrong, in one clause that fits after 'tank.nursery.volume: "1000"': `has no unit`, `has an unknown unit
/// "Lt"`.
struct Unreadable {
  std::string wrong;
};

/// Reads a unit such as "m3/h", "W m-2 K-1", "mg/L as N", "%", "-". Symbols join by blank, '.', '*' or '/';
/// each may carry a whole power ("m2", "m^2", "m-2"). Every '/' divides by the one symbol after it.
std::variant<Unit, Unreadable> read_unit(std::string_view text);

/// Reads a number and its unit. A decimal comma, an infinite or not-a-number value, or a missing unit is refused with
/// words. A pure number needs the unit "" only if `allow_bare` is set.
std::variant<Measured, Unreadable> read_measured(std::string_view text, bool allow_bare = false);

/// Reads a plain number, with an optional sign: no blanks inside, no comma, never inf or nan.
std::variant<double, Unreadable> read_number(std::string_view text);

/// Writes a number with the fewest digits that read back as the same double.
std::string shortest(double number);

}  // namespace leat
