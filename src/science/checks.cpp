#include "science/checks.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "base/units/parse.h"

namespace leat::science {
namespace {

std::string_view trim(std::string_view s) {
  while (!s.empty() && (s.front() == ' ' || s.front() == '\t')) s.remove_prefix(1);
  while (!s.empty() && (s.back() == ' ' || s.back() == '\t')) s.remove_suffix(1);
  return s;
}

struct NamedText {
  std::string name, text;
};

/// "Re=1e5; eD=1e-4" as pairs; what has no '=' is a remark and is left out.
std::vector<NamedText> split_inputs(std::string_view inputs) {
  std::vector<NamedText> pairs;
  while (!inputs.empty()) {
    const std::size_t end = inputs.find(';');
    const std::string_view part = trim(inputs.substr(0, end));
    if (const std::size_t equals = part.find('='); equals != std::string_view::npos)
      pairs.push_back({std::string(trim(part.substr(0, equals))), std::string(trim(part.substr(equals + 1)))});
    if (end == std::string_view::npos) break;
    inputs.remove_prefix(end + 1);
  }
  return pairs;
}

/// Units that the tables write with the substance inside ("mgN/L", "gCaCO3/gN"): the substance is the basis.
std::string without_substances(std::string_view unit) {
  std::string plain(unit);
  for (const std::string_view substance :
       {"TAN", "CaCO3", "HCO3", "P2O5", "K2O", "NH3", "NH4", "NO3", "NO2", "CO2", "O2", "Chl", "VSS", "COD"}) {
    for (std::size_t at; (at = plain.find(substance)) != std::string::npos;) plain.erase(at, substance.size());
  }
  for (const std::string_view mass : {"mgN", "gN", "mgP", "gP", "mgC", "gC", "kgN"}) {
    for (std::size_t at; (at = plain.find(mass)) != std::string::npos;) plain.erase(at + mass.size() - 1, 1);
  }
  while (!plain.empty() && plain.back() == ' ') plain.pop_back();
  return plain;
}

std::optional<Unit> unit_of(std::string_view text) {
  if (const auto as_written = read_unit(text); std::holds_alternative<Unit>(as_written))
    return std::get<Unit>(as_written);
  const auto stripped = read_unit(without_substances(text));
  if (std::holds_alternative<Unit>(stripped)) return std::get<Unit>(stripped);
  return std::nullopt;
}

/// A difference of temperature may be written in degC, a point may not be written as a difference.
double to_unit(double number, const Unit& from, const Unit& to) {
  return (number * from.scale + from.offset - to.offset) / to.scale;
}

struct Taken {
  Given given;
  std::string wrong;
};

void take_input(const Entry& entry, const std::string& name, const std::string& text, Taken& taken) {
  const auto row =
      std::find_if(entry.inputs.begin(), entry.inputs.end(), [&](const InputRow& r) { return r.name == name; });
  if (row == entry.inputs.end()) {
    taken.wrong = fmt::format("input \"{}\" is unknown to {}", name, entry.name);
    return;
  }
  taken.given.words.emplace(name, text);
  if (row->unit.empty()) return;
  const std::size_t space = text.find(' ');
  const auto number = read_number(std::string_view(text).substr(0, space));
  if (!std::holds_alternative<double>(number)) return;
  double value = std::get<double>(number);
  if (space != std::string::npos) {
    const auto theirs = unit_of(trim(std::string_view(text).substr(space)));
    const auto ours = unit_of(row->unit);
    // A unit we cannot read, or of another dimension, is a remark when ours is a pure number; otherwise it is a
    // mistake.
    if (theirs && ours && theirs->dimension == ours->dimension) {
      value = to_unit(value, *theirs, *ours);
    } else if (trim(std::string_view(text).substr(space)) != row->unit) {
      taken.wrong = fmt::format("input {}=\"{}\" cannot be put into {}", name, text, row->unit);
      return;
    }
  }
  taken.given.numbers.emplace(name, value);
}

Taken take_inputs(const Entry& entry, const CheckRow& row, const Names& names) {
  Taken taken;
  taken.given.words.emplace("source", row.source);                     // rows that differ only in whose law they mean
  if (!row.note.empty()) taken.given.words.emplace("note", row.note);  // or in "one-sided"
  for (const NamedText& pair : split_inputs(row.inputs))
    take_input(entry, names.input(std::string(entry.name), pair.name), pair.text, taken);
  for (const InputRow& input : entry.inputs)
    if (input.assumed && !taken.given.has(input.name)) taken.given.numbers.emplace(input.name, *input.assumed);
  return taken;
}

/// The wanted value in the unit of our output, as a factor and a shift.
std::optional<double> in_output_unit(double value, std::string_view theirs, std::string_view ours) {
  if (theirs == ours || ours.empty())
    return value;  // without a unit of its own, an output is in what its inputs ask for
  const auto from = unit_of(theirs), to = unit_of(ours);
  if (!from || !to || !(from->dimension == to->dimension)) return std::nullopt;
  return to_unit(value, *from, *to);
}

double number_or(const std::string& text, double otherwise) {
  const auto number = read_number(text);
  return std::holds_alternative<double>(number) ? std::get<double>(number) : otherwise;
}

CheckResult compare(const CheckRow& row, const Entry& entry, const OutputRow& output, const Given& given) {
  CheckResult result;
  const auto stated = read_number(row.value);
  if (!std::holds_alternative<double>(stated)) return {Outcome::unreadable, 0, 0, 0, "value is not a number"};
  const double value = std::get<double>(stated);
  const auto wanted = in_output_unit(value, row.unit, output.unit);
  if (!wanted) return {Outcome::unreadable, 0, 0, 0, fmt::format("\"{}\" is not a unit of {}", row.unit, output.name)};
  const double tolerance = std::max(number_or(row.tol_rel, 0.0) * std::abs(value), number_or(row.tol_abs, 0.0));
  const auto edge = in_output_unit(value + tolerance, row.unit, output.unit);
  result.wanted = *wanted;
  result.tolerance = std::abs(*edge - *wanted) * (1.0 + 1e-9);
  try {
    result.got = output.evaluate(given);
  } catch (const std::out_of_range& missing) {
    return {Outcome::not_implemented, 0, 0, 0, fmt::format("{} needs the input \"{}\"", entry.name, missing.what())};
  }
  result.outcome = std::abs(result.got - result.wanted) <= result.tolerance ? Outcome::pass : Outcome::fail;
  result.said = fmt::format("{} = {:.8g} {}, wanted {:.8g} +- {:.3g}", output.name, result.got, output.unit,
                            result.wanted, result.tolerance);
  return result;
}

/// Parts of an id between dashes that two ids share from the start.
std::size_t shared_parts(std::string_view a, std::string_view b) {
  std::size_t parts = 0;
  for (std::size_t i = 0; i <= std::min(a.size(), b.size()); ++i) {
    const bool end_a = i == a.size() || a[i] == '-', end_b = i == b.size() || b[i] == '-';
    if (end_a && end_b) ++parts;
    if (i == a.size() || i == b.size() || a[i] != b[i]) break;
  }
  return parts;
}

/// The earlier row whose inputs a note means: "as three-res-head" names it; "same 20 subjects" is the nearest of those
/// whose ids are most alike and which have inputs of their own.
const CheckRow* row_meant_by_note(std::span<const CheckRow> earlier, const CheckRow& row) {
  if (row.note.starts_with("as "))
    for (const CheckRow& other : earlier)
      if (row.note.substr(3, row.note.find_first_of(" ;,", 3) - 3) == other.id) return &other;
  if (!row.note.starts_with("same")) return nullptr;
  const CheckRow* best = nullptr;
  for (const CheckRow& other : earlier)
    if (!other.note.starts_with("same") && (!best || shared_parts(other.id, row.id) >= shared_parts(best->id, row.id)))
      best = &other;
  return best;
}

/// Adds the inputs that a row leaves to an earlier one.
void inherit_inputs(std::span<const CheckRow> earlier, CheckRow& row) {
  const CheckRow* meant = row_meant_by_note(earlier, row);
  if (!meant) return;
  const auto own = split_inputs(row.inputs);
  for (const NamedText& pair : split_inputs(meant->inputs))
    if (std::none_of(own.begin(), own.end(), [&](const NamedText& p) { return p.name == pair.name; }))
      row.inputs += "; " + pair.name + "=" + pair.text;
}

}  // namespace

void Names::read(std::string_view csv_text, std::string_view file, std::span<const Entry> subject, Problems& problems) {
  const CsvTable table = read_csv(csv_text, file, problems);
  for (const CsvRow& row : table.rows) {
    if (row.fields.size() < 4) {
      problems.add({std::string(file), row.line, 1, "", "needs kind,relation,theirs,ours"});
      continue;
    }
    const std::string &kind = row.fields[0].text, &where = row.fields[1].text, &theirs = row.fields[2].text;
    if (where != "*" || kind == "relation") {
      ours_[kind + '|' + where + '|' + theirs] = row.fields[3].text;
      continue;
    }
    for (const Entry& entry : subject)
      ours_.emplace(kind + '|' + std::string(entry.name) + '|' + theirs, row.fields[3].text);
  }
}

std::string Names::relation(const std::string& theirs) const {
  const auto found = ours_.find("relation|*|" + theirs);
  return found == ours_.end() ? theirs : found->second;
}

std::string Names::ours(std::string_view kind, const std::string& our_relation, const std::string& theirs) const {
  const auto found = ours_.find(std::string(kind) + '|' + our_relation + '|' + theirs);
  return found == ours_.end() ? theirs : found->second;
}

std::string Names::input(const std::string& our_relation, const std::string& theirs) const {
  return ours("input", our_relation, theirs);
}

std::string Names::output(const std::string& our_relation, const std::string& theirs) const {
  return ours("output", our_relation, theirs);
}

std::vector<CheckRow> read_checks(std::string_view csv_text, std::string_view file, Problems& problems) {
  const CsvTable table = read_csv(csv_text, file, problems);
  std::vector<CheckRow> rows;
  for (const CsvRow& row : table.rows) {
    const auto field = [&](std::string_view name) {
      const int column = table.column(name);
      return column < 0 || static_cast<std::size_t>(column) >= row.fields.size()
                 ? std::string()
                 : row.fields[static_cast<std::size_t>(column)].text;
    };
    rows.push_back({std::string(file), row.line, field("id"), field("relation"), field("inputs"), field("output"),
                    field("value"), field("unit"), field("tol_rel"), field("tol_abs"), field("source"), field("note"),
                    field("proof")});
    inherit_inputs(std::span<const CheckRow>(rows).first(rows.size() - 1), rows.back());
  }
  return rows;
}

namespace {

CheckResult run_on(const Entry& entry, const CheckRow& row, const Names& names, bool output_must_match) {
  const std::string wanted_output = names.output(std::string(entry.name), row.output);
  auto output = std::find_if(entry.outputs.begin(), entry.outputs.end(),
                             [&](const OutputRow& o) { return o.name == wanted_output; });
  if (output == entry.outputs.end() && entry.outputs.size() == 1 && !output_must_match) output = entry.outputs.begin();
  if (output == entry.outputs.end())
    return {Outcome::not_implemented, 0, 0, 0, fmt::format("{} has no output \"{}\"", entry.name, row.output)};
  const Taken taken = take_inputs(entry, row, names);
  if (!taken.wrong.empty()) return {Outcome::not_implemented, 0, 0, 0, taken.wrong};
  return compare(row, entry, *output, taken.given);
}

}  // namespace

CheckResult run_check(const CheckRow& row, const Names& names) {
  // Tables use the same name for different relations: the one whose output the row asks for by name goes first.
  std::vector<const Entry*> candidates;
  for (const Entry* entry : {find_entry(row.relation), find_entry(names.relation(row.relation))})
    if (entry && (candidates.empty() || candidates[0] != entry)) candidates.push_back(entry);
  if (candidates.empty()) return {Outcome::not_implemented, 0, 0, 0, fmt::format("no relation \"{}\"", row.relation)};
  CheckResult result;
  for (const bool must_match : {true, false})
    for (const Entry* entry : candidates) {
      result = run_on(*entry, row, names, must_match);
      if (result.outcome != Outcome::not_implemented) return result;
    }
  return result;
}

}  // namespace leat::science
