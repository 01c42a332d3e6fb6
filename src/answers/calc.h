// leat calc: one relation of the trade, with its source; or a whole table of published values run again.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result/problem.h"
#include "science/checks.h"

namespace leat::answers {

struct CalcInput {
  std::string name, shown, meaning;
  bool assumed = false;
  bool out_of_range = false;
  std::string range;
};
struct CalcOutput {
  std::string name, unit;
  double value = 0.0;
};
struct CalcAnswer {
  std::string relation, meaning, source;
  std::vector<CalcInput> inputs;
  std::vector<CalcOutput> outputs;
};

/// Evaluates a relation with inputs written name="value unit". What is wrong with them is collected, all at once.
std::optional<CalcAnswer> calc(std::string_view relation, const std::vector<std::string>& inputs, Problems& problems);

/// One row of a table and how it went.
struct CheckedRow {
  science::CheckRow row;
  science::CheckResult result;
};
/// Runs every row of a table of published values.
std::vector<CheckedRow> calc_checks(std::string_view csv_text, std::string_view file, Problems& problems);

}  // namespace leat::answers
