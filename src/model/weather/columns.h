// A table of weather as people keep it: columns found by their usual names, units from the heading, every wrong value
// with its place. The daily and the hourly reader share it.
#pragma once

#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/csv.h"
#include "base/units/parse.h"
#include "model/weather/headings.h"

namespace leat::model {

class Sheet {
  struct Column {
    int index = -1;
    Unit unit;
    std::string heading;  ///< as written, without its unit
  };
  /// A mistake that many rows share is told once, at its first place.
  struct Repeated {
    Problem problem;
    std::string read, wrong, cure;
    int more = 0;
  };

  std::string file_;
  std::span<const ColumnWord> words_;
  double period_s_;
  Problems& problems_;
  CsvTable table_;
  std::vector<Column> columns_;
  std::vector<std::string> unknown_;
  std::map<std::string, Repeated> repeated_;
  std::vector<std::string> assumptions_;
  bool broken_ = false;

  void take_heading(int index);
  bool take_unit(const ColumnWord& word, Column& column, std::string_view unit, const CsvField& field);
  void say_units();
  /// A problem at a cell, with nothing said yet.
  Problem at(const CsvRow& row, int word) const;

 public:
  /// `period` is what one row covers: a depth of rain or a sum of sun is divided by it where a rate is wanted.
  Sheet(std::string_view text, std::string_view file, std::span<const ColumnWord> words, double period_s,
        Problems& problems);

  /// Whether the table itself could not be read (told); its rows mean nothing then.
  bool broken() const { return broken_; }
  const std::vector<CsvRow>& rows() const { return table_.rows; }
  bool has(int word) const { return columns_[static_cast<std::size_t>(word)].index >= 0; }
  /// Says that a column which must be there is not.
  bool require(int word, std::string_view what);

  /// The trimmed text of a cell, "" where the row is short.
  std::string_view text(const CsvRow& row, int word) const;
  /// Whether a cell holds no value: "", "NA", "-".
  bool is_empty(const CsvRow& row, int word) const;
  /// The number of a cell in SI, or nothing where it is empty or wrong (told).
  std::optional<double> number(const CsvRow& row, int word);

  /// Adds a problem at a cell: `"5.0" is above ...; swap them`.
  void complain(const CsvRow& row, int word, std::string_view wrong, std::string_view cure);
  /// The same, once for all rows that share the mistake `key`.
  void complain_once(std::string key, const CsvRow& row, int word, std::string_view wrong, std::string_view cure);
  /// Adds a problem at a column's heading.
  void complain_of_column(int word, std::string said);
  /// Hands the shared mistakes over. Call it once, at the end.
  void finish();

  std::string_view heading(int word) const { return columns_[static_cast<std::size_t>(word)].heading; }
  /// What was taken for granted of the headings.
  const std::vector<std::string>& assumptions() const { return assumptions_; }
};

}  // namespace leat::model
