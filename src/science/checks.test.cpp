// Every row of data/checks as a named test. A row whose relation is not in the catalogue is skipped and counted; the
// list of those stands in docs/science/not-implemented.md and is compared here.
#include "science/checks.h"

#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

namespace leat::science {
namespace {

std::string slurp(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream all;
  all << in.rdbuf();
  return all.str();
}

const std::vector<std::string> kSubjects{"hydraulics", "heat", "water", "fish-crops"};

struct Case {
  CheckRow row;
  std::string subject;
};

std::vector<Case> all_rows() {
  std::vector<Case> cases;
  for (const std::string& subject : kSubjects) {
    Problems problems;
    const std::string file = std::string(LEAT_ROOT) + "/data/checks/" + subject + ".csv";
    for (CheckRow& row : read_checks(slurp(file), file, problems)) cases.push_back({std::move(row), subject});
    if (!problems.empty()) throw std::runtime_error(problems.text());
  }
  return cases;
}

void PrintTo(const Case& c, std::ostream* out) {
  *out << c.row.relation;
}

/// Rows that this project believes wrong, each with its evidence (data/checks/disputed.csv). They are run all the same.
std::map<std::string, std::string> disputed_rows() {
  Problems problems;
  const std::string file = std::string(LEAT_ROOT) + "/data/checks/disputed.csv";
  std::map<std::string, std::string> evidence;
  for (const CsvRow& row : read_csv(slurp(file), file, problems).rows)
    evidence[row.fields.at(0).text] = row.fields.at(1).text;
  return evidence;
}

class Checks : public ::testing::TestWithParam<Case> {};

TEST_P(Checks, Row) {
  const Case& c = GetParam();
  const CheckResult result = run_check(c.row, known_names());
  static const std::map<std::string, std::string> disputed = disputed_rows();
  if (const auto found = disputed.find(c.row.id); found != disputed.end()) {
    ASSERT_EQ(result.outcome, Outcome::fail) << "the row passes, so it is not in dispute: take it off the list";
    GTEST_SKIP() << "disputed: " << found->second << "; " << result.said;
  }
  if (result.outcome == Outcome::not_implemented)
    GTEST_SKIP() << "not implemented: " << c.row.relation << ": " << result.said;
  EXPECT_EQ(result.outcome, Outcome::pass) << c.row.relation << " (" << c.row.inputs << "): " << result.said << "\n"
                                           << c.row.source << " [" << c.row.proof << "]";
}

std::string test_name(const ::testing::TestParamInfo<Case>& info) {
  std::string name = info.param.subject + "_" + info.param.row.id;
  for (char& c : name)
    if (!std::isalnum(static_cast<unsigned char>(c))) c = '_';
  return name;
}

INSTANTIATE_TEST_SUITE_P(Published, Checks, ::testing::ValuesIn(all_rows()), test_name);

TEST(CheckTables, HoldTheRowsTheyShould) {
  std::map<std::string, int> rows;
  for (const Case& c : all_rows()) ++rows[c.subject];
  EXPECT_EQ(rows["hydraulics"], 124);
  EXPECT_EQ(rows["heat"], 166);
  EXPECT_EQ(rows["water"], 262);
  EXPECT_EQ(rows["fish-crops"], 252);
}

}  // namespace
}  // namespace leat::science
