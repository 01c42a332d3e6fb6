#include "answers/calc.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "base/units/parse.h"
#include "science/water/substances.h"

namespace leat::answers {
namespace {

using science::Entry;
using science::Given;
using science::InputRow;

std::string plain_name(std::string_view name) {
  std::string plain(name);
  std::replace(plain.begin(), plain.end(), '-', '_');
  return plain;
}

std::vector<std::string_view> names_of(const Entry& entry) {
  std::vector<std::string_view> names;
  for (const InputRow& row : entry.inputs) names.push_back(row.name);
  return names;
}

/// "-" stands for a pure number and is not shown.
std::string_view bare(std::string_view unit) {
  return unit == "-" ? std::string_view() : unit;
}
std::string_view gap_before(std::string_view unit) {
  return bare(unit).empty() ? "" : " ";
}

std::string range_of(const InputRow& row) {
  return fmt::format("{:g} to {:g}{}{}", row.low, row.high, gap_before(row.unit), bare(row.unit));
}

/// One input as typed, put among the given ones.
class Reader {
  const Entry& entry_;
  Problems& problems_;
  CalcAnswer& answer_;

  void complain(const std::string& name, std::string said) {
    problems_.add({"leat calc", 0, 0, name, std::move(said)});
  }

  std::string example(const InputRow& row) const {
    return row.unit.empty() ? fmt::format("{}=\"...\"", row.name)
                            : fmt::format("{}=\"{:g} {}\"", row.name,
                                          std::clamp(10.0, row.low, std::max(row.low, row.high)), bare(row.unit));
  }

 public:
  Given given;

  Reader(const Entry& entry, Problems& problems, CalcAnswer& answer)
      : entry_(entry), problems_(problems), answer_(answer) {}

  void take(const std::string& text) {
    const std::size_t equals = text.find('=');
    if (equals == std::string::npos)
      return complain(text, fmt::format("is no name=value; write for example {}",
                                        entry_.inputs.empty() ? "" : example(entry_.inputs[0])));
    const std::string name = science::known_names().input(std::string(entry_.name), plain_name(text.substr(0, equals))),
                      value = text.substr(equals + 1);
    const auto row =
        std::find_if(entry_.inputs.begin(), entry_.inputs.end(), [&](const InputRow& r) { return r.name == name; });
    if (row == entry_.inputs.end()) {
      std::string all;
      for (const auto n : names_of(entry_)) all += (all.empty() ? "" : ", ") + std::string(n);
      return complain(name, fmt::format("is no input of {}{}; it takes {}", entry_.name,
                                        did_you_mean(name, names_of(entry_)), all));
    }
    if (given.has(name)) return complain(name, "is given twice; keep one");
    given.words.emplace(name, value);
    if (row->unit.empty()) {
      answer_.inputs.push_back({name, value, std::string(row->meaning), false, false, ""});
      return;
    }
    take_number(*row, name, value);
  }

  void take_number(const InputRow& row, const std::string& name, const std::string& value) {
    const auto read = read_measured(value, true);
    if (const auto* bad = std::get_if<Unreadable>(&read))
      return complain(name, fmt::format("\"{}\" {}; write for example {}", value, bad->wrong, example(row)));
    const Measured& m = std::get<Measured>(read);
    if (!m.basis.empty() && !science::mass_per_mole_of_basis(m.basis))
      return complain(name, fmt::format("\"{}\" is counted as {}, which is not known here; write for example {}", value,
                                        m.basis, example(row)));
    const auto unit = read_unit(row.unit);
    const Unit& ours = std::get<Unit>(unit);
    double number = 0.0;
    if (m.unit.empty()) {
      // A bare number is taken in the relation's own unit; for anything with a dimension that is a guess, so it is
      // refused.
      if (!(ours.dimension == dim::none))
        return complain(name, fmt::format("\"{}\" has no unit; write for example {}", value, example(row)));
      number = m.si / ours.scale * (ours.scale == 1.0 ? 1.0 : ours.scale);
    } else if (!(m.dimension == ours.dimension)) {
      return complain(
          name, fmt::format("\"{}\" is not a quantity in {}; write for example {}", value, row.unit, example(row)));
    } else {
      number = (m.si - ours.offset) / ours.scale;
    }
    given.numbers.emplace(name, number);
    const bool outside = number < row.low || number > row.high;
    answer_.inputs.push_back({name, fmt::format("{:.6g}{}{}", number, gap_before(row.unit), bare(row.unit)),
                              std::string(row.meaning), false, outside, range_of(row)});
  }

  void assume_the_rest() {
    for (const InputRow& row : entry_.inputs) {
      if (given.has(row.name)) continue;
      if (row.assumed) {
        given.numbers.emplace(row.name, *row.assumed);
        answer_.inputs.push_back({std::string(row.name),
                                  fmt::format("{:g}{}{}", *row.assumed, gap_before(row.unit), bare(row.unit)),
                                  std::string(row.meaning), true, false, range_of(row)});
      } else if (!row.optional) {
        complain(std::string(row.name),
                 fmt::format("is missing ({}); write for example {}", row.meaning, example(row)));
      }
    }
  }
};

}  // namespace

std::optional<CalcAnswer> calc(std::string_view relation, const std::vector<std::string>& inputs, Problems& problems) {
  const Entry* entry = science::find_entry(plain_name(relation));
  if (!entry) entry = science::find_entry(science::known_names().relation(plain_name(relation)));
  if (!entry) {
    std::vector<std::string_view> known;
    for (const Entry* e : science::all_entries()) known.push_back(e->name);
    problems.add(
        {"leat calc", 0, 0, std::string(relation),
         "is no relation known here" + did_you_mean(plain_name(relation), known) + "; leat calc --list shows all"});
    return std::nullopt;
  }
  CalcAnswer answer{std::string(entry->name), std::string(entry->meaning), std::string(entry->source), {}, {}};
  Reader reader(*entry, problems, answer);
  for (const std::string& text : inputs) reader.take(text);
  reader.assume_the_rest();
  if (!problems.empty()) return std::nullopt;
  for (const science::OutputRow& output : entry->outputs) {
    try {
      answer.outputs.push_back({std::string(output.name), std::string(output.unit), output.evaluate(reader.given)});
    } catch (const std::out_of_range& missing) {
      if (entry->outputs.size() == 1)
        problems.add({"leat calc", 0, 0, missing.what(), "is missing, or something in its place"});
    }
  }
  std::erase_if(answer.outputs, [](const CalcOutput& o) { return !std::isfinite(o.value); });
  if (problems.empty() && answer.outputs.empty())
    problems.add({"leat calc", 0, 0, std::string(entry->name), "gives no finite answer for these inputs"});
  if (!problems.empty()) return std::nullopt;
  return answer;
}

std::vector<CheckedRow> calc_checks(std::string_view csv_text, std::string_view file, Problems& problems) {
  std::vector<CheckedRow> checked;
  for (science::CheckRow& row : science::read_checks(csv_text, file, problems)) {
    science::CheckResult result = science::run_check(row, science::known_names());
    checked.push_back({std::move(row), std::move(result)});
  }
  return checked;
}

}  // namespace leat::answers
