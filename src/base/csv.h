// Comma-separated text with positions (RFC 4180): quoted fields, doubled quotes, CRLF, a byte-order mark, blank lines.
#pragma once

#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/result/problem.h"

namespace leat {

struct CsvField {
  std::string text;
  int column = 1;  ///< character position in its line where the field starts, from 1
  bool quoted = false;
};
struct CsvRow {
  int line = 1;  ///< line in the file, from 1
  std::vector<CsvField> fields;
};
struct CsvTable {
  CsvRow header;
  std::vector<CsvRow> rows;
  char separator = ',';

  /// Position of a column by its name, or -1. Names compare without case and surrounding blanks.
  int column(std::string_view name) const;
};

/// Reads a table. The separator is ',', ';' or a tab, whichever the header holds most of. An unclosed quote, and a row
/// with more fields than the header, are problems with their line; a short row is kept as it is.
CsvTable read_csv(std::string_view text, std::string_view file, Problems& problems);

/// One field as it must be written: quoted when it holds a separator, a quote or a line end.
std::string csv_field(std::string_view text);

}  // namespace leat
