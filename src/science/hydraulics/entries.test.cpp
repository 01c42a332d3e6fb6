#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <set>
#include <sstream>

#include "base/csv.h"
#include "base/units/parse.h"
#include "science/catalogue.h"

namespace leat::science {
namespace {

const std::set<std::string_view> kOddUnits{"", "m0.5/s", "ft0.5/s", "ft/(ft3/s)^2", "$/kWh", "$/y"};

bool readable(std::string_view unit) {
  return kOddUnits.contains(unit) || std::holds_alternative<Unit>(read_unit(unit));
}

const Entry* entry_of(std::string_view name) {
  const auto all = hydraulics_entries();
  const auto found = std::find_if(all.begin(), all.end(), [&](const Entry& e) { return e.name == name; });
  return found == all.end() ? nullptr : &*found;
}

TEST(HydraulicsEntries, StandOnceWithReadableUnitsAndASource) {
  std::set<std::string_view> names;
  for (const Entry& entry : hydraulics_entries()) {
    EXPECT_TRUE(names.insert(entry.name).second) << entry.name;
    EXPECT_FALSE(entry.source.empty()) << entry.name;
    std::set<std::string_view> inputs;
    for (const InputRow& input : entry.inputs) {
      EXPECT_TRUE(inputs.insert(input.name).second) << entry.name << ' ' << input.name;
      EXPECT_TRUE(readable(input.unit)) << entry.name << ' ' << input.unit;
      EXPECT_TRUE(input.unit.empty() || input.low < input.high) << entry.name << ' ' << input.name;
    }
    for (const OutputRow& output : entry.outputs)
      EXPECT_TRUE(readable(output.unit)) << entry.name << ' ' << output.unit;
  }
}

TEST(HydraulicsEntries, SayWhatIsMissing) {
  const Given nothing;
  for (const Entry& entry : hydraulics_entries()) {
    const bool asks = std::any_of(entry.inputs.begin(), entry.inputs.end(),
                                  [](const InputRow& r) { return !r.optional && !r.assumed && !r.unit.empty(); });
    if (!asks) continue;
    EXPECT_THROW(entry.outputs.front().evaluate(nothing), std::out_of_range) << entry.name;
  }
}

TEST(HydraulicsEntries, NamesOfTheTablesLeadToRowsThatExist) {
  std::ifstream in(std::string(LEAT_ROOT) + "/data/checks/names-hydraulics.csv");
  std::ostringstream text;
  text << in.rdbuf();
  Problems problems;
  const CsvTable table = read_csv(text.str(), "names-hydraulics.csv", problems);
  ASSERT_TRUE(problems.empty());
  ASSERT_GT(table.rows.size(), 50u);
  for (const CsvRow& row : table.rows) {
    const std::string &kind = row.fields[0].text, &relation = row.fields[1].text, &ours = row.fields[3].text;
    if (kind == "relation") {
      EXPECT_NE(entry_of(ours), nullptr) << ours;
      continue;
    }
    if (relation == "*") continue;
    const Entry* entry = entry_of(relation);
    ASSERT_NE(entry, nullptr) << relation;
    const auto named = [&](const auto& r) { return r.name == ours; };
    const bool there = kind == "input" ? std::any_of(entry->inputs.begin(), entry->inputs.end(), named)
                                       : std::any_of(entry->outputs.begin(), entry->outputs.end(), named);
    EXPECT_TRUE(there) << relation << ' ' << ours;
  }
}

}  // namespace
}  // namespace leat::science
