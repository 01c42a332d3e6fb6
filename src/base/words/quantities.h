// The quantities that a loop has: one row each. The row's name is at once slot, trajectory column, JSON field, record
// path and label key; a full path is kind.name.word, such as tank.nursery.dissolved_oxygen.
#pragma once

#include <span>
#include <string>
#include <string_view>

namespace leat::words {

/// How a quantity is held.
enum class Held { amount, energy, volume, mass, intensive };

struct QuantityRow {
  std::string_view name;
  Held held;
  std::string_view si_unit;     ///< of the state, or of the value where it is not a state
  std::string_view shown_unit;  ///< with its basis
  double shown_scale;           ///< shown = si * scale + shift
  double shown_shift;
  int places;        ///< decimals shown
  double nominal;    ///< typical size in SI per m3 of water (per unit where it is not dissolved); sets the tolerance
  double low, high;  ///< plausible range, SI
  std::string_view label;
  std::string_view meaning;
};

std::span<const QuantityRow> quantities();
/// The row of a name. Asking for one that is not there is a programmer's error and stops the program.
const QuantityRow& quantity_row(std::string_view name);
/// Whether the table has it.
bool has_quantity(std::string_view name);

/// SI to the unit that is shown.
double shown(const QuantityRow& row, double si);
/// "11.3 degC"
std::string shown_text(std::string_view name, double si);
/// The same without its unit.
std::string shown_number(std::string_view name, double si);

}  // namespace leat::words
