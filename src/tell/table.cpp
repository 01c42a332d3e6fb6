#include "tell/table.h"

#include <algorithm>

namespace leat::tell {
namespace {

bool leans_right(const std::string& cell) {
  return !cell.empty() && (std::isdigit(static_cast<unsigned char>(cell[0])) || cell[0] == '-' || cell[0] == '+');
}

std::size_t line_width = 1000;

std::string padded(const std::string& cell, std::size_t width, bool right) {
  const std::string blanks(width - std::min(width, width_of(cell)), ' ');
  return right ? blanks + cell : cell + blanks;
}

}  // namespace

std::size_t width_of(const std::string& text) {
  // Every byte but the continuation bytes of UTF-8.
  return static_cast<std::size_t>(
      std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

std::string Table::text() const {
  std::size_t columns = 0;
  for (const auto& row : rows_) columns = std::max(columns, row.size());
  std::vector<std::size_t> width(columns, 0);
  std::vector<bool> right(columns, false);
  for (std::size_t r = 0; r < rows_.size(); ++r)
    for (std::size_t c = 0; c < rows_[r].size(); ++c) {
      width[c] = std::max(width[c], width_of(rows_[r][c]));
      if (r > 0 && leans_right(rows_[r][c])) right[c] = true;
    }
  std::string out;
  for (const auto& row : rows_) {
    std::string line = " ";
    for (std::size_t c = 0; c < row.size(); ++c) line += ' ' + padded(row[c], width[c], right[c]) + ' ';
    while (!line.empty() && line.back() == ' ') line.pop_back();
    out += line + '\n';
  }
  return out;
}

void set_line_width(std::size_t columns) {
  line_width = std::max<std::size_t>(30, columns);
}

std::string wrapped(const std::string& text, std::size_t width, const std::string& indent) {
  width = std::min(width, line_width);
  const std::size_t first = std::min(text.find_first_not_of(' '), text.size());
  std::string out, line = text.substr(0, first);
  bool fresh = true;
  for (std::size_t start = first; start < text.size();) {
    const std::size_t end = std::min(text.find(' ', start), text.size());
    const std::string word = text.substr(start, end - start);
    if (!fresh && width_of(line) + 1 + width_of(word) > width) {
      out += line + '\n';
      line = indent;
      fresh = true;
    }
    line += fresh ? word : ' ' + word;
    fresh = false;
    start = end + 1;
  }
  return out + line + '\n';
}

}  // namespace leat::tell
