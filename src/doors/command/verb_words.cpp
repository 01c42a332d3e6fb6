// The vocabulary, printed: what a loop file may hold and what answers speak of.
#include <fmt/core.h>

#include "base/result/problem.h"
#include "base/words/keys.h"
#include "base/words/quantities.h"
#include "doors/command/verbs.h"
#include "tell/table.h"
#include "tell/tell.h"

namespace leat::doors {
namespace {

void print_kind(const words::Kind& kind) {
  fmt::print("\n[{}{}]  {}\n", kind.name, kind.single ? "" : ".NAME", kind.meaning);
  tell::Table table({"key", "as", "meaning"});
  for (const words::Key& key : kind.keys)
    table.add(
        {std::string(key.name), std::string(key.example),
         fmt::format("{}{}", key.meaning, key.form == words::Form::word ? fmt::format(": {}", key.choices) : "")});
  fmt::print("{}", table.text());
}

}  // namespace

int verb_words(const std::string& only, bool schema) {
  if (schema) {
    fmt::print("{}", tell::loop_schema());
    return 0;
  }
  if (!only.empty()) {
    const words::Kind* kind = words::find_kind(only);
    if (!kind) {
      std::vector<std::string_view> names;
      for (const words::Kind& k : words::kinds()) names.push_back(k.name);
      fmt::print(stderr, "leat words: \"{}\" is no part of a loop{}\n", only, did_you_mean(only, names));
      return 2;
    }
    print_kind(*kind);
    return 0;
  }
  fmt::print("A loop file holds these tables. Values carry their unit: \"1000 L\", \"25 mm\", \"12.5 degC\".\n");
  for (const words::Kind& kind : words::kinds()) print_kind(kind);
  fmt::print("\nAnswers speak of\n");
  tell::Table table({"word", "unit", "meaning"});
  for (const words::QuantityRow& row : words::quantities())
    table.add({std::string(row.name), std::string(row.shown_unit), std::string(row.meaning)});
  fmt::print("{}", table.text());
  return 0;
}

}  // namespace leat::doors
