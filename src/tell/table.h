// Columns of text that line up.
#pragma once

#include <string>
#include <vector>

namespace leat::tell {

/// Rows under a heading; numbers (and what starts like one) lean right, words left. A column's width counts characters,
/// not bytes.
class Table {
  std::vector<std::vector<std::string>> rows_;

 public:
  explicit Table(std::vector<std::string> heading) { rows_.push_back(std::move(heading)); }
  void add(std::vector<std::string> row) { rows_.push_back(std::move(row)); }
  bool empty() const { return rows_.size() == 1; }
  std::string text() const;
};

/// Characters that a text takes on the screen, for the alphabets used here.
std::size_t width_of(const std::string& text);

/// Lines are broken at this width even where the text has more room: that of a narrow terminal. At least 30.
void set_line_width(std::size_t columns);

/// Breaks a sentence into lines of at most `width`, each after the first indented.
std::string wrapped(const std::string& text, std::size_t width, const std::string& indent);

}  // namespace leat::tell
