// One word for one thing: what a loop file may hold, what the state holds, what answers say.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <set>
#include <sstream>

#include "answers/ahead.h"
#include "answers/check.h"
#include "base/words/keys.h"
#include "base/words/quantities.h"
#include "model/books/layout.h"
#include "model/loop/references.h"
#include "science/water/substances.h"
#include "tell/tell.h"
#include "tests/loop_file.h"

namespace leat {
namespace {

using words::Form;
using words::Key;
using words::Kind;

/// Reads a description in which one key of one kind stands, with whatever it refers to. Returns the value as it was
/// taken, or what was wrong with it.
std::variant<model::Said, std::string> read(const Kind& kind, const Key& key, std::string_view value) {
  const std::string path = kind.single ? std::string(kind.name) : std::string(kind.name) + ".example";
  std::string text = "[" + path + "]\n" + std::string(key.name) + " = " + std::string(value) + "\n";
  if (key.form == Form::reference) text += "[" + std::string(value.substr(1, value.size() - 2)) + "]\n";
  Problems problems;
  // What a plan says is no loop by itself.
  const model::Description read = kind.name == "plan" ? model::read_parts(text, "example.toml", problems)
                                                      : model::read_description(text, "example.toml", problems);
  const model::Component* component = read.find(path);
  const model::Said* said = component ? component->find(key.name) : nullptr;
  if (!problems.empty() || !said) return text + problems.text();
  return *said;
}

template <class F>
void for_every_key(F look) {
  ASSERT_GT(words::kinds().size(), 10u);
  for (const Kind& kind : words::kinds())
    for (const Key& key : kind.keys) {
      SCOPED_TRACE(std::string(kind.name) + "." + std::string(key.name));
      look(kind, key);
    }
}

TEST(Keys, EveryExampleIsTakenAndLiesWithinItsRange) {
  for_every_key([](const Kind& kind, const Key& key) {
    const auto said = read(kind, key, key.example);
    ASSERT_TRUE(std::holds_alternative<model::Said>(said)) << std::get<std::string>(said);
    if (key.form != Form::quantity && key.form != Form::number && key.form != Form::share) return;
    EXPECT_GE(std::get<model::Said>(said).number, key.low);
    EXPECT_LE(std::get<model::Said>(said).number, key.high);
  });
}

TEST(Keys, EveryChoiceIsTaken) {
  for_every_key([](const Kind& kind, const Key& key) {
    if (key.form != Form::word) return;
    for (const std::string_view choice : words::split_words(key.choices)) {
      const auto said = read(kind, key, "\"" + std::string(choice) + "\"");
      EXPECT_TRUE(std::holds_alternative<model::Said>(said)) << std::get<std::string>(said);
    }
  });
}

/// "0.2 mg/L as NH3" must be taken where NH3 is a way to count, and known where it becomes moles.
TEST(Keys, EveryWayToCountIsTakenAndKnownToTheScience) {
  int counted = 0;
  for_every_key([&](const Kind& kind, const Key& key) {
    if (key.form != Form::quantity || key.basis.empty()) return;
    const auto ways = words::split_words(key.choices);
    EXPECT_NE(std::find(ways.begin(), ways.end(), key.basis), ways.end()) << "its own basis is no way to count it";
    for (const std::string_view way : ways) {
      EXPECT_TRUE(science::mass_per_mole_of_basis(way)) << way;
      const std::string amount(key.example.substr(0, key.example.find_first_of(" \"", 1)));
      const auto said = read(kind, key, amount + " mg/L as " + std::string(way) + "\"");
      EXPECT_TRUE(std::holds_alternative<model::Said>(said)) << std::get<std::string>(said);
      ++counted;
    }
  });
  EXPECT_GT(counted, 8);
}

TEST(Keys, ReferencesNameKinds) {
  for_every_key([](const Kind&, const Key& key) {
    if (key.form != Form::reference) return;
    for (const std::string_view kind : words::split_words(key.choices)) EXPECT_TRUE(words::find_kind(kind)) << kind;
  });
}

TEST(Keys, WhatAWaterHoldsIsAQuantity) {
  for (const Key& key : words::find_kind("water")->keys) {
    EXPECT_TRUE(words::has_quantity(key.name)) << key.name;
    EXPECT_TRUE(words::find_key(*words::find_kind("source"), key.name)) << key.name;
  }
  for (const char* word : {"temperature", "pH", "alkalinity", "dissolved_oxygen", "ammonia", "nitrite", "nitrate"})
    EXPECT_TRUE(words::find_key(*words::find_kind("water"), word)) << word;
}

/// "nitrate_high" limits the nitrate.
TEST(Keys, LimitsAreNamedAfterTheQuantityTheyLimit) {
  for (const Key& key : words::find_kind("limits")->keys) {
    std::string_view name = key.name;
    for (const std::string_view end : {"_high", "_low"})
      if (name.ends_with(end)) name.remove_suffix(end.size());
    EXPECT_TRUE(words::has_quantity(name)) << "limits." << key.name << ": no quantity is called " << name;
  }
}

/// Accounts of the outside that are counted in a ledger and in no body of water.
constexpr std::string_view kAccounts[] = {"carbon", "sulphur"};

/// tank.nursery.nitrate -> nitrate; fish.trout.gut_feed_2 -> gut_feed
std::string last_word(const std::string& path) {
  std::string word = path.substr(path.rfind('.') + 1);
  while (!word.empty() && std::isdigit(static_cast<unsigned char>(word.back()))) word.pop_back();
  if (word.ends_with('_')) word.pop_back();
  return word;
}

TEST(Slots, EveryLastWordIsAQuantity) {
  // One vessel clad in thick timber, as the equations would ask for it: all kinds of slots are there.
  const model::Loop loop = tests::read_loop("examples/first-loop/loop.toml");
  const model::Layout layout(
      loop, std::vector<model::HeatStores>(loop.vessels.size(), {{1e5, 1e5}, std::vector<double>(10, 1e6)}));
  std::set<std::string> accounts_met, seen;
  for (const model::Slot& slot : layout.slots) {
    const std::string word = last_word(slot.path);
    const bool is_account = std::find(std::begin(kAccounts), std::end(kAccounts), word) != std::end(kAccounts);
    EXPECT_TRUE(words::has_quantity(word) || (slot.outside && is_account)) << slot.path;
    if (is_account) accounts_met.insert(word);
    EXPECT_TRUE(seen.insert(slot.path).second) << slot.path << " is there twice";
  }
  EXPECT_EQ(accounts_met.size(), std::size(kAccounts)) << "an account is listed that no slot has";
}

/// tank.nursery.wall_thickness is a key of a tank; source.top_up one of a kind that was not described at all.
TEST(Assumptions, AreNamedByKeys) {
  for (const char* file : {"examples/first-loop/loop.toml", "examples/smallest/loop.toml"}) {
    const auto assumptions = tests::read_loop(file).assumptions;
    ASSERT_GT(assumptions.size(), 20u);
    for (const model::Assumption& a : assumptions) {
      const Kind* kind = words::find_kind(a.path.substr(0, a.path.find('.')));
      ASSERT_TRUE(kind) << file << ": " << a.path;
      const std::string word = a.path.substr(a.path.rfind('.') + 1);
      // A part that was added for want of any is named by the part it leads to.
      EXPECT_TRUE(words::find_key(*kind, word) || words::find_kind(word)) << file << ": " << a.path;
    }
  }
}

using nlohmann::json;

constexpr CivilDate kFirst{2015, 3, 10};

answers::AheadAnswer ahead_of_example(int days) {
  const model::Loop loop = tests::read_loop("examples/first-loop/loop.toml");
  return answers::ahead(loop, model::assemble_weather(loop.site.place, {}, kFirst, days), {kFirst, days});
}

std::vector<json> json_answers() {
  return {json::parse(tell::check_json(answers::check(tests::read_loop("examples/first-loop/loop.toml")))),
          json::parse(tell::ahead_json(ahead_of_example(2)))};
}

TEST(Json, UnitsAreThoseOfTheQuantities) {
  for (const json& answer : json_answers()) {
    ASSERT_GT(answer.at("units").size(), 5u);
    for (const auto& [word, unit] : answer.at("units").items()) {
      ASSERT_TRUE(words::has_quantity(word)) << word;
      EXPECT_EQ(unit.get<std::string>(), words::quantity_row(word).shown_unit) << word;
    }
    ASSERT_FALSE(answer.at("findings").empty());
    for (const json& finding : answer.at("findings"))
      EXPECT_TRUE(answer.at("units").contains(finding.at("quantity").get<std::string>())) << finding.dump();
  }
}

/// Fields that hold a number and are no quantity: counts, hours, what a finding compares, totals of the books.
constexpr std::string_view kPlainNumbers[] = {"value",         "limit",
                                              "low",           "high",
                                              "hour",          "share_of_saturation",
                                              "count",         "states",
                                              "steps",         "closure",
                                              "held_at_start", "held_at_end",
                                              "members",       "members_stopped",
                                              "seed",          "rank_correlation",
                                              "uncertainty",   "rank_correlation_low",
                                              "seconds_about", "rank_correlation_high",
                                              "seconds_budget"};
/// A quantity at another moment than the running one.
constexpr std::string_view kMoments[] = {"level_at_rest", "freeboard_at_rest", "drain_back", "level_lowest"};

/// A quantity of one part of something: "share_running", "water_held_up".
bool is_part_of_a_quantity(std::string_view field) {
  return field.starts_with("share_") || field.starts_with("water_");
}

bool is_known_field(std::string_view field) {
  const auto is_in = [&](const auto& list) {
    return std::find(std::begin(list), std::end(list), field) != std::end(list);
  };
  return words::has_quantity(field) || is_in(kPlainNumbers) || is_in(kMoments) || is_part_of_a_quantity(field);
}

void look_at_fields(const json& part, const std::string& path, const json& units) {
  for (const auto& [field, value] : part.items()) {
    const std::string here = path + "." + field;
    if (field == "into_the_loop" || field == "kept") continue;  // their fields are accounts
    const bool list = value.is_array() && !value.empty() && value[0].is_number();
    if (value.is_number() || list) {
      EXPECT_TRUE(is_known_field(field)) << here;
      EXPECT_TRUE(!words::has_quantity(field) || units.contains(field)) << here << " has no unit";
    } else if (value.is_object()) {
      look_at_fields(value, here, units);
    } else if (value.is_array()) {
      for (const json& item : value)
        if (item.is_object()) look_at_fields(item, here, units);
    }
  }
}

TEST(Json, EveryNumberStandsUnderAKnownWord) {
  for (const json& answer : json_answers())
    look_at_fields(answer, answer.at("verb").get<std::string>(), answer.at("units"));
}

/// "mg/L as CaCO3" -> "mg_L_CaCO3"
std::string as_in_a_column(std::string unit) {
  if (const std::size_t at = unit.find(" as "); at != std::string::npos) unit.replace(at, 4, "_");
  for (char& c : unit)
    if (c == '/' || c == ' ') c = '_';
  return unit;
}

/// The longest word of the vocabulary that a column starts with.
std::string_view word_of_column(const std::string& column) {
  std::string_view word;
  for (const words::QuantityRow& row : words::quantities())
    if (column.starts_with(row.name) && row.name.size() > word.size()) word = row.name;
  return word;
}

TEST(Csv, ColumnsAreWordsWithTheirUnits) {
  const std::string csv = tell::ahead_csv(ahead_of_example(1));
  std::istringstream header(csv.substr(0, csv.find('\n')));
  int quantities = 0;
  for (std::string column; std::getline(header, column, ',');) {
    if (column == "vessel" || column == "date") continue;
    const std::string_view word = word_of_column(column);
    ASSERT_FALSE(word.empty()) << column;
    std::string_view rest = std::string_view(column).substr(word.size());
    if (rest.ends_with("_hour")) continue;
    for (const std::string_view which : {"_low", "_high"})
      if (rest.starts_with(which)) rest.remove_prefix(which.size());
    const std::string unit = as_in_a_column(std::string(words::quantity_row(word).shown_unit));
    EXPECT_EQ(std::string(rest), unit.empty() ? "" : "_" + unit) << column;
    ++quantities;
  }
  EXPECT_GT(quantities, 8);
}

TEST(Quantities, AreNamedOnce) {
  std::set<std::string_view> seen;
  for (const words::QuantityRow& row : words::quantities()) EXPECT_TRUE(seen.insert(row.name).second) << row.name;
}

/// Shown units that are no unit to write: phrases, and the pH, which has none.
constexpr std::string_view kPhrases[] = {"", "per hour", "degree-days"};

/// What is shown can be read back as the same amount, wherever the unit is one that a grower may write.
TEST(Quantities, ShownUnitsReadBackToTheState) {
  int read_back = 0;
  for (const words::QuantityRow& row : words::quantities()) {
    if (std::find(std::begin(kPhrases), std::end(kPhrases), row.shown_unit) != std::end(kPhrases)) continue;
    const auto read = read_measured("1 " + std::string(row.shown_unit));
    if (const auto* bad = std::get_if<Unreadable>(&read)) {
      ADD_FAILURE() << row.name << ": " << row.shown_unit << " " << bad->wrong;
      continue;
    }
    const Measured& one = std::get<Measured>(read);
    double si = one.si;
    if (!one.basis.empty()) si /= science::mass_per_mole_of_basis(one.basis)->si();
    if (row.name == "dissolved_oxygen") si /= science::molar_mass::oxygen.si();
    if (row.name == "nitrogen_gas") si /= science::molar_mass::nitrogen_gas.si();
    if (row.name == "carbon_dioxide") si /= science::molar_mass::carbon_dioxide.si();
    if (row.name == "nitrogen") si /= science::molar_mass::nitrogen.si();
    // What a water holds may be written without saying as what: it is then counted as its own element.
    const Key* in_water = words::find_key(*words::find_kind("water"), row.name);
    if (one.basis.empty() && in_water && row.name != "dissolved_oxygen" && !in_water->basis.empty())
      si /= science::mass_per_mole_of_basis(in_water->basis)->si();
    EXPECT_NEAR(words::shown(row, si), 1.0, 1e-12) << row.name << ": one " << row.shown_unit << " is not shown as one";
    ++read_back;
  }
  EXPECT_GT(read_back, 20);
}

/// A word that a description and an answer share must mean the same kind of thing in both.
TEST(Quantities, AKeyOfTheSameNameIsMeasuredAlike) {
  int shared = 0;
  for_every_key([&](const Kind&, const Key& key) {
    if (!words::has_quantity(key.name) || (key.form != Form::quantity && key.form != Form::temperature)) return;
    const words::QuantityRow& row = words::quantity_row(key.name);
    const auto unit = read_unit(row.shown_unit);
    ASSERT_TRUE(std::holds_alternative<Unit>(unit)) << row.shown_unit;
    EXPECT_TRUE(std::get<Unit>(unit).dimension == key.dimension)
        << "in answers it is in " << row.shown_unit << ", the key's example is " << key.example;
    ++shared;
  });
  EXPECT_GT(shared, 10);
}

}  // namespace
}  // namespace leat
