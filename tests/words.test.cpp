// One word for one thing: description, state, JSON and docs are held to the same two tables. LEAT_WRITE=1 writes the
// reference page anew.
#include <fmt/core.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <nlohmann/json.hpp>

#include "answers/ahead.h"
#include "base/words/keys.h"
#include "base/words/quantities.h"
#include "base/words/verbs.h"
#include "tell/tell.h"
#include "tests/loop_file.h"

namespace leat {
namespace {

using words::Form;
using words::Key;
using words::Kind;

std::string heading(const Kind& kind) {
  return fmt::format("[{}{}]", kind.name, kind.single ? "" : ".main");
}

TEST(Words, EveryExampleOfAKeyIsAccepted) {
  for (const Kind& kind : words::kinds())
    for (const Key& key : kind.keys) {
      std::string text = fmt::format("{}\n{} = {}\n", heading(kind), key.name, key.example);
      if (key.form == Form::reference) {
        const std::string target(key.example.substr(1, key.example.size() - 2));
        if (target != fmt::format("{}.main", kind.name)) text += fmt::format("[{}]\n", target);
      }
      Problems problems;
      model::read_description(text, "loop.toml", problems);
      EXPECT_TRUE(problems.empty()) << text << problems.text();
    }
}

TEST(Words, EverySlotIsNamedByTheTable) {
  const model::Layout layout(tests::read_loop("examples/first-loop/loop.toml"));
  for (const model::Slot& slot : layout.slots) {
    if (slot.outside) continue;
    std::string word = slot.path.substr(slot.path.rfind('.') + 1);
    if (word.size() > 2 && word[word.size() - 2] == '_' && std::isdigit(static_cast<unsigned char>(word.back())))
      word.resize(word.size() - 2);
    EXPECT_TRUE(words::has_quantity(word)) << slot.path;
  }
}

TEST(Words, WhatIsDissolvedIsCalledTheSameInADescription) {
  for (const char* word : {"temperature", "pH", "alkalinity", "dissolved_oxygen", "ammonia", "nitrite", "nitrate"}) {
    EXPECT_TRUE(words::has_quantity(word)) << word;
    EXPECT_NE(words::find_key(*words::find_kind("water"), word), nullptr) << word;
    EXPECT_NE(words::find_key(*words::find_kind("source"), word), nullptr) << word;
  }
}

TEST(Words, EveryUnitInJsonBelongsToARow) {
  const model::Loop loop = tests::read_loop("examples/first-loop/loop.toml");
  const model::Weather weather = model::assemble_weather(loop.site.place, {}, {2026, 3, 1}, 1);
  for (const std::string& text :
       {tell::check_json(answers::check(loop)), tell::ahead_json(answers::ahead(loop, weather, {{2026, 3, 1}, 1}))}) {
    const auto j = nlohmann::json::parse(text);
    ASSERT_FALSE(j["units"].empty());
    for (const auto& [word, unit] : j["units"].items()) {
      ASSERT_TRUE(words::has_quantity(word)) << word;
      EXPECT_EQ(unit.get<std::string>(), words::quantity_row(word).shown_unit);
    }
    for (const auto& finding : j["findings"]) EXPECT_TRUE(j["units"].contains(finding["quantity"].get<std::string>()));
  }
}

TEST(Words, QuantitiesAreNamedOnce) {
  const auto rows = words::quantities();
  for (std::size_t i = 0; i < rows.size(); ++i)
    for (std::size_t k = 0; k < i; ++k) EXPECT_NE(rows[i].name, rows[k].name);
}

TEST(Docs, EveryVerbHasItsGuide) {
  for (const words::Verb& verb : words::kVerbs)
    EXPECT_TRUE(std::ifstream(fmt::format("{}/docs/guide/{}.md", LEAT_ROOT, verb.name)).good()) << verb.name;
}

std::string reference_page() {
  std::string page =
      "# The words of a loop file\n\nMade from the program's own table; `leat words` prints the same. A value with a "
      "unit is text: `\"1000 L\"`.\n"
      "Heights are above one mark of your choice. What is left out is assumed and said.\n";
  for (const Kind& kind : words::kinds()) {
    page += fmt::format("\n## `[{}{}]`: {}\n\n| key | example | meaning |\n|---|---|---|\n", kind.name,
                        kind.single ? "" : ".NAME", kind.meaning);
    for (const Key& key : kind.keys) {
      std::string meaning(key.meaning);
      if (key.form == Form::word) meaning += fmt::format(" (one of: {})", key.choices);
      if (!key.basis.empty() && key.choices != key.basis)
        meaning += fmt::format(" (counted as one of: {})", key.choices);
      page += fmt::format("| `{}` | `{}` | {} |\n", key.name, key.example, meaning);
    }
  }
  return page;
}

TEST(Docs, ReferencePageIsMadeFromTheTable) {
  const std::string path = std::string(LEAT_ROOT) + "/docs/reference/loop.md";
  if (std::getenv("LEAT_WRITE")) std::ofstream(path, std::ios::binary) << reference_page();
  EXPECT_EQ(tests::slurp(path), reference_page());
}

}  // namespace
}  // namespace leat
