// From the text of a loop.toml to its tables, with mistakes of writing explained in plain words.
#pragma once

#include <toml++/toml.h>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result/problem.h"

namespace leat::model {

/// Stands for a byte that is no UTF-8; what holds it has been told already.
inline constexpr std::string_view kUnreadable = "\uFFFD";

struct Tables {
  toml::table root;
  bool whole = true;  ///< false: lines that could not be read were left out
};

/// Parses the text. A line that cannot be read becomes a problem and is left out, so that later lines are read too.
Tables read_tables(std::string_view text, std::string_view file, Problems& problems);

/// A mistake of writing.
struct SyntaxMistake {
  int line = 0, column = 0;  ///< from 1, in letters
  std::string path, said;
  std::optional<std::string> instead;  ///< what may stand in its line so that reading can go on
};

/// Explains where and why the library could not go on, from the line itself and the library's words.
SyntaxMistake explain_syntax(const std::vector<std::string>& lines, int line, int column,
                             std::string_view library_says);

/// Why a heading cannot be read.
SyntaxMistake explain_heading(std::string_view line);

/// Why a `name = value` cannot be read. `section` is the heading above it.
SyntaxMistake explain_entry(std::string_view line, std::string_view section, std::string_view library_says);

// Letters of a line.
std::string_view trimmed(std::string_view text);
/// Column, from 1, of a byte of a line.
int column_at(std::string_view line, std::size_t byte);
/// Whether a name needs no quotes: letters a to z, digits, '_' and '-'.
bool is_bare(std::string_view name);

}  // namespace leat::model
