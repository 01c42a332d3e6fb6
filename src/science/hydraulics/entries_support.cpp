#include "science/hydraulics/entries_support.h"

#include <cmath>
#include <deque>

#include "base/units/parse.h"

namespace leat::science::hydraulic_entries {

InputRow needed(std::string_view name, std::string_view unit, double low, double high, std::string_view meaning) {
  return {name, unit, low, high, meaning};
}
InputRow optional(std::string_view name, std::string_view unit, double low, double high, std::string_view meaning) {
  return {name, unit, low, high, meaning, std::nullopt, true};
}
InputRow taken(std::string_view name, std::string_view unit, double low, double high, std::string_view meaning,
               double otherwise) {
  return {name, unit, low, high, meaning, otherwise};
}
InputRow text(std::string_view name, std::string_view meaning) {
  return {name, "", 0.0, 0.0, meaning, std::nullopt, true};
}

Rows joined(std::initializer_list<Rows> parts) {
  Rows all;
  for (const Rows& part : parts)
    for (const InputRow& row : part) {
      bool there = false;
      for (const InputRow& other : all) there = there || other.name == row.name;
      if (!there) all.push_back(row);
    }
  return all;
}

std::string_view kept(std::string name) {
  static std::deque<std::string> names;
  return names.emplace_back(std::move(name));
}

InputRow gravity_row() {
  return taken("gravity", "m/s2", 9.7, 9.9, "acceleration of gravity", standard_gravity.si());
}
InputRow bore_row() {
  return needed("bore", "m", 1e-3, 10.0, "inside diameter");
}
InputRow flow_row() {
  return needed("flow", "m3/s", 0.0, 100.0, "flow");
}
InputRow length_row() {
  return needed("length", "m", 0.0, 1e5, "length of the pipe");
}

Rows viscosity_rows() {
  return {optional("kinematic_viscosity", "m2/s", 1e-7, 1e-3, "kinematic viscosity"),
          optional("dynamic_viscosity", "cP", 0.1, 1000.0, "dynamic viscosity, instead"),
          taken("density", "kg/m3", 500.0, 2000.0, "density, with the dynamic viscosity", 998.2)};
}
Rows velocity_rows() {
  return {optional("velocity", "m/s", 0.0, 20.0, "mean velocity"),
          optional("flow", "m3/s", 0.0, 100.0, "flow, instead, with the bore"),
          optional("bore", "m", 1e-3, 10.0, "inside diameter")};
}
Rows reynolds_rows() {
  return joined({{optional("reynolds", "-", 0.0, 1e9, "Reynolds number")}, velocity_rows(), viscosity_rows()});
}
Rows roughness_rows() {
  return {optional("relative_roughness", "-", 0.0, 0.05, "roughness over bore"),
          optional("roughness", "m", 0.0, 0.01, "roughness, instead, with the bore"),
          optional("bore", "m", 1e-3, 10.0, "inside diameter")};
}

Length<> length_of(const Given& given, std::string_view name) {
  return Length<>(given(name));
}
Flow<> flow_of(const Given& given, std::string_view name) {
  return Flow<>(given(name));
}
Number<> number_of(const Given& given, std::string_view name) {
  return Number<>(given(name));
}
Acceleration<> gravity_of(const Given& given) {
  return Acceleration<>(given("gravity"));
}
KinematicViscosity<> viscosity_of(const Given& given) {
  if (given.numbers.contains("dynamic_viscosity"))
    return KinematicViscosity<>(1e-3 * given("dynamic_viscosity") / given("density"));
  return KinematicViscosity<>(given("kinematic_viscosity"));
}
Velocity<> velocity_of(const Given& given) {
  if (given.numbers.contains("flow")) return pipe_velocity(flow_of(given), length_of(given, "bore"));
  return Velocity<>(given("velocity"));
}
Number<> reynolds_of(const Given& given) {
  if (given.numbers.contains("reynolds")) return number_of(given, "reynolds");
  return velocity_of(given) * length_of(given, "bore") / viscosity_of(given);
}
Number<> relative_roughness_of(const Given& given) {
  if (given.numbers.contains("roughness")) return length_of(given, "roughness") / length_of(given, "bore");
  return number_of(given, "relative_roughness");
}
Length<> roughness_of(const Given& given) {
  if (given.numbers.contains("relative_roughness")) return given("relative_roughness") * length_of(given, "bore");
  return length_of(given, "roughness");
}
PipeRun pipe_of(const Given& given) {
  return {length_of(given, "bore"), length_of(given, "length"), roughness_of(given),
          Number<>(given.get("minor_losses", 0.0))};
}

namespace {

/// "ft0.5" or "ft^0.5" as the root of the unit.
double symbol_scale(std::string_view symbol) {
  double power = 1.0;
  if (symbol.ends_with("0.5")) {
    power = 0.5;
    symbol.remove_suffix(3);
    if (symbol.ends_with("^")) symbol.remove_suffix(1);
  }
  const auto unit = read_unit(symbol);
  if (!std::holds_alternative<Unit>(unit)) throw std::out_of_range(std::string(symbol));
  return std::pow(std::get<Unit>(unit).scale, power);
}

/// "a/(b)^2", "a/b" or "a".
double odd_scale(std::string_view unit) {
  const std::size_t slash = unit.find('/');
  if (slash == std::string_view::npos) return symbol_scale(unit);
  std::string_view below = unit.substr(slash + 1);
  double power = 1.0;
  if (below.starts_with('(')) {
    power = below.ends_with(")^2") || below.ends_with(")2") ? 2.0 : 1.0;
    below = below.substr(1, below.find(')') - 1);
    const auto inner = read_unit(below);
    if (!std::holds_alternative<Unit>(inner)) throw std::out_of_range(std::string(below));
    return symbol_scale(unit.substr(0, slash)) / std::pow(std::get<Unit>(inner).scale, power);
  }
  return symbol_scale(unit.substr(0, slash)) / symbol_scale(below);
}

}  // namespace

double odd_unit_number(const Given& given, std::string_view name) {
  const std::string_view all = given.word(name);
  const std::size_t blank = all.find(' ');
  const auto number = read_number(all.substr(0, blank));
  if (!std::holds_alternative<double>(number)) throw std::out_of_range(std::string(name));
  const double scale = blank == std::string_view::npos ? 1.0 : odd_scale(all.substr(blank + 1));
  return std::get<double>(number) * scale;
}

}  // namespace leat::science::hydraulic_entries
