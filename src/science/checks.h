// Runs tables of published values through the catalogue of relations.
#pragma once

#include <map>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/csv.h"
#include "science/catalogue.h"

namespace leat::science {

/// One row of a check table, as it stands in the file.
struct CheckRow {
  std::string file;
  int line = 0;
  std::string id, relation, inputs, output, value, unit, tol_rel, tol_abs, source, note, proof;
};

enum class Outcome { pass, fail, not_implemented, unreadable };

struct CheckResult {
  Outcome outcome = Outcome::not_implemented;
  double wanted = 0.0, got = 0.0, tolerance = 0.0;
  std::string said;  ///< why not, or what the difference is
};

/// Other tables' words for ours: lines `kind,relation,theirs,ours`.
class Names {
  std::map<std::string, std::string> ours_;
  std::string ours(std::string_view kind, const std::string& our_relation, const std::string& theirs) const;

 public:
  /// A '*' for the relation means each of `subject`, so that the tables' words of one subject do not reach another.
  void read(std::string_view csv_text, std::string_view file, std::span<const Entry> subject, Problems& problems);
  std::string relation(const std::string& theirs) const;
  std::string input(const std::string& our_relation, const std::string& theirs) const;
  std::string output(const std::string& our_relation, const std::string& theirs) const;
};

/// The mappings of data/checks/names-*.csv, which are part of the program.
const Names& known_names();

/// The rows of a table with the columns id, relation, inputs, output, value, unit, tol_rel, tol_abs, source, proof.
std::vector<CheckRow> read_checks(std::string_view csv_text, std::string_view file, Problems& problems);

/// Evaluates one row. A row passes when |got - wanted| <= max(tol_rel |wanted|, tol_abs).
CheckResult run_check(const CheckRow& row, const Names& names);

}  // namespace leat::science
