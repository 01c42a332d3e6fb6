// The reference pages, written from the tables of words, so that page and program cannot differ.
#pragma once

#include <fmt/core.h>

#include <algorithm>
#include <cctype>
#include <string>
#include <vector>

#include "base/units/parse.h"
#include "base/words/keys.h"
#include "base/words/quantities.h"
#include "model/loop/wording.h"
#include "science/crops/crop.h"
#include "science/fish/species.h"
#include "science/hydraulics/minor_losses.h"

namespace leat::tools {

using words::Form;
using words::Key;
using words::Kind;

/// "`a`, `b` and `c`"
inline std::string coded(const std::vector<std::string_view>& list, std::string_view last_join = "and") {
  std::string text;
  for (std::size_t i = 0; i < list.size(); ++i)
    text += fmt::format("{}`{}`", i == 0 ? "" : i + 1 == list.size() ? fmt::format(" {} ", last_join) : ", ", list[i]);
  return text;
}

/// The unit of an example such as `"1000 L"`.
inline std::string unit_of(const Key& key) {
  if (key.form != Form::quantity && key.form != Form::temperature) return {};
  const auto read = read_measured(key.example.substr(1, key.example.size() - 2));
  return std::holds_alternative<Measured>(read) ? std::get<Measured>(read).unit : std::string();
}

inline std::string form_of(const Key& key) {
  switch (key.form) {
    case Form::quantity:
    case Form::temperature: {
      const std::string noun(model::noun_of(key.dimension));
      return noun.substr(noun.find(' ') + 1);
    }
    case Form::share:
      return "share";
    case Form::number:
      return "number";
    case Form::count:
      return "whole number";
    case Form::flag:
      return "`true` or `false`";
    case Form::word:
      return coded(words::split_words(key.choices), "or");
    case Form::text:
      return "text";
    case Form::reference:
      return "path of a " + coded(words::split_words(key.choices), "or");
    case Form::words:
      return "list of texts";
    case Form::times:
      return "list of times";
    case Form::curve:
      return "list of [flow, head]";
  }
  return {};
}

/// What lies within reason, in the unit of the example: "0.02 to 10".
inline std::string range_of(const Key& key) {
  if (key.form == Form::share) return "0 to 1";
  if (key.form == Form::count) return fmt::format("0 to {:.10g}", key.high);
  if (key.form == Form::number) return fmt::format("{:g} to {:g}", key.low, key.high);
  if (key.form == Form::temperature) return fmt::format("{:g} to {:g}", key.low, key.high);
  if (key.form != Form::quantity) return {};
  const auto unit = read_unit(unit_of(key));
  const double scale = std::holds_alternative<Unit>(unit) ? std::get<Unit>(unit).scale : 1.0;
  return fmt::format("{:.10g} to {:.10g}", key.low / scale, key.high / scale);
}

inline std::string row_of(const Key& key) {
  const auto ways = words::split_words(key.choices);
  const bool counted = key.form == Form::quantity && ways.size() > 1;
  return fmt::format("| `{}` | {} | {} | {} | `{}` | {}{} |\n", key.name, form_of(key), unit_of(key), range_of(key),
                     key.example, key.meaning, counted ? "; counted as " + coded(ways, "or") : "");
}

inline constexpr std::string_view kColumns =
    "| key | takes | unit | within | example | meaning |\n|---|---|---|---|---|---|\n";

/// Whether every kind of vessel has a key of that name.
inline bool is_shared_by_vessels(const Key& key) {
  for (const Kind& kind : words::kinds())
    if (kind.vessel && !words::find_key(kind, key.name)) return false;
  return true;
}

/// The keys that all vessels share, once.
inline std::string vessels_table() {
  std::string text = "\n## Every vessel\nThe keys of `tank`, `sump`, `raft_bed` and `gravel_bed` alike.\n\n";
  text += kColumns;
  for (const Key& key : words::find_kind("tank")->keys)
    if (is_shared_by_vessels(key)) text += row_of(key);
  return text;
}

inline std::string table_of(const Kind& kind) {
  std::string rows;
  for (const Key& key : kind.keys)
    if (!kind.vessel || !is_shared_by_vessels(key)) rows += row_of(key);
  std::string text = fmt::format("\n## `[{}{}]`\n{}{}{}.\n", kind.name, kind.single ? "" : ".NAME",
                                 static_cast<char>(std::toupper(kind.meaning[0])), kind.meaning.substr(1),
                                 !kind.vessel   ? ""
                                 : rows.empty() ? ": the keys of every vessel"
                                                : ": the keys of every vessel, and these");
  return rows.empty() ? text : text + "\n" + std::string(kColumns) + rows;
}

inline std::string fittings_table() {
  std::string text =
      "\n## Fittings\nWords for `fittings`, each with its loss factor K on the pipe's own bore. `\"3 x elbow\"` counts "
      "three.\n\n"
      "| word | K | meaning | source |\n|---|---|---|---|\n";
  for (const std::string_view name : science::fitting_names()) {
    const science::Fitting& fitting = *science::find_fitting(name);
    text += fmt::format("| `{}` | {:g} | {} | {} ({}) |\n", name, fitting.k, fitting.meaning, fitting.source,
                        fitting.provenance);
  }
  return text;
}

inline std::string living_lists() {
  std::vector<std::string_view> own, others;
  for (const std::string_view name : science::species_names()) {
    const science::Species& s = *science::find_species(name);
    (s.growth && s.growth_temperatures && s.appetite() ? own : others).push_back(name);
  }
  return fmt::format(
      "\n## Fish\nWith growth and appetite of their own: {}. Known by name, but run with the growth or "
      "the appetite of rainbow trout for want of numbers: {}.\n\n## Plants\n{}.\n",
      coded(own), coded(others), coded(science::crop_names()));
}

/// docs/reference/loop.md
inline std::string loop_page() {
  std::string text =
      "# Every table and key of a loop file\n\n"
      "Written from the program's own table of words; `leat words` prints the same. A table that needs a name stands "
      "as\n"
      "`[tank.nursery]`; the name is yours: letters, digits, `_` and `-`. A value is text in quotes with its unit, "
      "such as\n"
      "`\"1000 L\"`; shares, plain numbers, `true` and `false` stand without quotes. A share may be `0.4` or `\"40 "
      "%\"`. "
      "What\n"
      "lies outside \"within\" is refused as a slip. Any unit of the same kind is read: `\"25 mm\"`, `\"1 in\"`, `\"60 "
      "degF\"`.\n"
      "What you leave out is assumed where it can be, and the answer lists it with its reason (`--assumptions`).\n";
  bool told = false;
  for (const Kind& kind : words::kinds()) {
    if (kind.vessel && !told) text += vessels_table();
    told = told || kind.vessel;
    text += table_of(kind);
  }
  return text + fittings_table() + living_lists();
}

/// docs/reference/answers.md
inline std::string answers_page() {
  std::string text =
      "# The words that answers speak in\n\n"
      "Written from the program's own table of words. One word stands for one thing everywhere: in a path such as\n"
      "`tank.nursery.dissolved_oxygen`, in JSON, in the columns of a CSV.\n\n"
      "| word | unit | places | meaning |\n|---|---|---|---|\n";
  for (const words::QuantityRow& row : words::quantities())
    text += fmt::format("| `{}` | {} | {} | {} |\n", row.name, row.shown_unit, row.places, row.meaning);
  return text;
}

}  // namespace leat::tools
