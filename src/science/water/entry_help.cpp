#include "science/water/entry_help.h"

#include <string>

#include "base/units/parse.h"
#include "science/gas/carbon_dioxide.h"
#include "science/water/ions.h"
#include "science/water/pressure.h"
#include "science/water/unit_conversion.h"

namespace leat::science::water_entry {
namespace {

constexpr Dimension kMolality{.mass = -1, .amount = 1};

std::string_view trim(std::string_view s) {
  while (!s.empty() && s.front() == ' ') s.remove_prefix(1);
  while (!s.empty() && s.back() == ' ') s.remove_suffix(1);
  return s;
}

/// Mass of a mole of what a reading is counted as, from "N", "NO3-N", "CaCO3", "TAN", "alkalinity as CaCO3".
std::optional<MolarMass<>> basis_mass(std::string_view words) {
  for (words = trim(words); !words.empty();) {
    const std::size_t space = words.rfind(' ');
    std::string_view last = words.substr(space == std::string_view::npos ? 0 : space + 1);
    if (last == "TAN" || last.ends_with("-N")) last = "N";
    if (last.ends_with("-P")) last = "P";
    if (const auto known = mass_per_mole_of_basis(last)) return known;
    if (space == std::string_view::npos) break;
    words = trim(words.substr(0, space));
  }
  return std::nullopt;
}

/// "mgN/L" as "mg/L" and "N"; "mg/L CaCO3" as "mg/L" and "CaCO3".
struct SplitUnit {
  std::string plain, basis;
};
SplitUnit split_basis(std::string_view unit) {
  const std::size_t slash = unit.find('/');
  if (slash == std::string_view::npos) return {std::string(unit), {}};
  const std::size_t mass = unit.starts_with("mg") || unit.starts_with("ug") || unit.starts_with("kg") ? 2 : 1;
  const std::size_t end = std::min(unit.find(' ', slash), unit.size());
  std::string basis(trim(unit.substr(mass, slash - mass)));
  if (basis.empty()) basis = std::string(trim(unit.substr(end)));
  return {std::string(unit.substr(0, mass)) + std::string(unit.substr(slash, end - slash)), basis};
}

std::optional<Concentration<>> in_moles(double number, const Unit& unit, std::string_view basis, MolarMass<> per_mole) {
  const double si = number * unit.scale;
  if (unit.dimension == dim::concentration) return Concentration<>(si);
  if (unit.dimension == kMolality) return Concentration<>(1000.0 * si);
  if (!(unit.dimension == dim::density)) return std::nullopt;
  return Density<>(si) / basis_mass(basis).value_or(per_mole);
}

std::optional<Concentration<>> amount_in(double number, std::string_view unit_text, MolarMass<> per_mole) {
  if (const auto unit = read_unit(unit_text); std::holds_alternative<Unit>(unit))
    return in_moles(number, std::get<Unit>(unit), std::get<Unit>(unit).basis, per_mole);
  const SplitUnit split = split_basis(unit_text);
  if (const auto unit = read_unit(split.plain); std::holds_alternative<Unit>(unit))
    return in_moles(number, std::get<Unit>(unit), split.basis, per_mole);
  if (const auto degree = conversion_factor(unit_text, "meq/L")) return Concentration<>(number * degree->si());
  return std::nullopt;
}

}  // namespace

const InputRow temperature_row{"temperature", "degC", 0, 40, "of the water"};

InputRow maybe(InputRow row) {
  row.optional = true;
  return row;
}

InputRow assume(InputRow row, double value) {
  row.assumed = value;
  return row;
}

std::vector<InputRow> rows(std::initializer_list<std::vector<InputRow>> groups) {
  std::vector<InputRow> all;
  for (const auto& group : groups) all.insert(all.end(), group.begin(), group.end());
  return all;
}

Temperature<> temperature_of(const Given& given) {
  return Temperature<>::from_celsius(given("temperature"));
}

std::vector<InputRow> pressure_rows() {
  return {maybe({"pressure", "kPa", 50, 110, "of the air at the place, not reduced to the sea; 101.325 if not given"}),
          maybe({"altitude", "m", -400, 5000, "above the sea, in place of the pressure"})};
}

Pressure<> pressure_of(const Given& given) {
  if (given.numbers.contains("altitude") && !given.numbers.contains("pressure"))
    return air_pressure_standard_atmosphere(Length<>(given("altitude")));
  return given.get("pressure", 101.325) * units::kilopascal;
}

std::vector<InputRow> carbon_dioxide_rows() {
  return rows({{{"carbon_dioxide_pressure", "", 0, 0, "of the gas, atm, or its share of dry air by volume, ppm"}},
               pressure_rows()});
}

Pressure<> gas_pressure_of(const Given& given) {
  if (!given.words.contains("carbon_dioxide_pressure")) return given("carbon_dioxide_pressure") * units::atmosphere;
  const auto read = read_measured(given.word("carbon_dioxide_pressure"), true);
  need(std::holds_alternative<Measured>(read), "carbon_dioxide_pressure");
  const Measured& m = std::get<Measured>(read);
  if (m.dimension == dim::pressure) return Pressure<>(m.si);
  need(m.dimension == dim::none, "carbon_dioxide_pressure");
  if (m.unit.empty()) return m.si * units::atmosphere;
  return carbon_dioxide_pressure(Number<>(m.si), temperature_of(given), pressure_of(given));
}

InputRow amount_row(std::string_view name, std::string_view meaning) {
  return {name, "", 0, 0, meaning};
}

std::optional<Concentration<>> read_amount(std::string_view text, MolarMass<> per_mole, std::string_view bare_unit) {
  text = trim(text);
  const std::size_t space = std::min(text.find(' '), text.size());
  const auto number = read_number(text.substr(0, space));
  if (!std::holds_alternative<double>(number)) return std::nullopt;
  const std::string_view unit = trim(text.substr(space));
  return amount_in(std::get<double>(number), unit.empty() ? bare_unit : unit, per_mole);
}

Concentration<> amount_of(const Given& given, std::string_view name, MolarMass<> per_mole, std::string_view bare_unit) {
  const auto amount = given.words.contains(name) ? read_amount(given.word(name), per_mole, bare_unit)
                                                 : amount_in(given(name), bare_unit, per_mole);
  need(amount.has_value(), name);
  return *amount;
}

Concentration<> amount_or_none(const Given& given, std::string_view name, MolarMass<> per_mole,
                               std::string_view bare_unit) {
  return given.has(name) ? amount_of(given, name, per_mole, bare_unit) : Concentration<>(0.0);
}

std::vector<InputRow> ionic_strength_rows() {
  return {maybe(amount_row("ionic_strength", "half the sum of concentration times charge squared, mol/kg")),
          maybe({"conductivity_25c", "uS/cm", 0, 5000, "at 25 degC, in place of the ionic strength"})};
}

Concentration<> ionic_strength_of(const Given& given, Concentration<> otherwise) {
  if (given.has("ionic_strength")) return amount_of(given, "ionic_strength", MolarMass<>(1.0), "mol/L");
  if (given.has("conductivity_25c"))
    return ionic_strength_from_conductivity(given("conductivity_25c") * microsiemens_per_centimetre);
  return otherwise;
}

void need(bool found, std::string_view name) {
  if (!found) throw std::out_of_range(std::string(name));
}

}  // namespace leat::science::water_entry
