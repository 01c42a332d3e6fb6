#include <fmt/core.h>

#include <algorithm>

#include "doors/command/files.h"
#include "doors/command/refused.h"
#include "doors/command/verbs.h"
#include "tell/calc_json.h"
#include "tell/tell.h"

namespace leat::doors {
namespace {

int run_table(const std::string& path) {
  Problems problems;
  const auto text = read_file(path, problems);
  std::vector<answers::CheckedRow> rows;
  if (text) rows = answers::calc_checks(*text, path, problems);
  if (!problems.empty()) return refused(problems);
  fmt::print("{}", tell::checks_text(rows));
  return std::any_of(rows.begin(), rows.end(), [](const auto& r) { return r.result.outcome == science::Outcome::fail; })
             ? 1
             : 0;
}

}  // namespace

int verb_calc(const CalcFlags& flags) {
  if (flags.list) {
    fmt::print("{}", flags.json ? tell::relations_json() : tell::relations_text());
    return 0;
  }
  if (!flags.checks.empty()) return run_table(flags.checks);
  Problems problems;
  if (flags.words.empty())
    problems.add({"leat calc", 0, 0, "",
                  "wants a relation and its inputs, such as: leat calc unionised_ammonia_fraction temperature=\"14 "
                  "degC\" ph=8; --list shows all"});
  std::optional<answers::CalcAnswer> answer;
  if (!flags.words.empty())
    answer = answers::calc(flags.words[0], {flags.words.begin() + 1, flags.words.end()}, problems);
  if (!answer) return refused(problems);
  fmt::print("{}", flags.json ? tell::calc_json(*answer) : tell::calc_text(*answer));
  return 0;
}

}  // namespace leat::doors
