// Keeps the runs that stand in the guides true: a fenced block whose first line is "$ leat ..." shows parts of what
// that command prints, with "..." for what is left out.
#pragma once

#include <algorithm>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "tools/sources.h"

namespace leat::tools {

/// What a line is found again by: its words up to the first digit, or all of it when it starts with one.
inline std::string_view anchor_of(std::string_view line) {
  std::string_view words = line.substr(0, std::min(line.find_first_of("0123456789"), line.size()));
  while (words.ends_with(' ')) words.remove_suffix(1);
  return words.size() < 3 ? line : words;
}

/// A page with every shown part replaced by what is printed now: as many lines, from the first that begins alike.
/// `print` runs a command. What cannot be found again is a fault.
class PageRefresh {
  using Lines = std::vector<std::string>;
  std::string file_;
  std::function<std::string(const std::string&)> print_;
  std::string out_;
  Lines printed_;
  std::size_t at_ = 0;  // in printed_

  static bool is_runnable(const std::string& line) {
    for (const char* verb : {"check ", "ahead ", "words ", "calc "})
      if (line.starts_with(std::string("$ leat ") + verb)) return true;
    return false;
  }

  /// The lines [from, to) of the page, which show one stretch of the output.
  void take_stretch(const Lines& page, std::size_t from, std::size_t to) {
    if (from == to) return;
    const std::string_view anchor = anchor_of(page[from]);
    std::size_t found = at_;
    while (found < printed_.size() && !printed_[found].starts_with(anchor)) ++found;
    if (found + (to - from) > printed_.size()) {
      faults.push_back({file_, static_cast<int>(from) + 1,
                        "shows \"" + page[from] + "\" and " + std::to_string(to - from - 1) + " lines more",
                        "a line that the command prints, and as many after it"});
      for (std::size_t i = from; i < to; ++i) out_ += page[i] + '\n';
      return;
    }
    for (std::size_t i = 0; i < to - from; ++i) out_ += printed_[found + i] + '\n';
    at_ = found + (to - from);
  }

  /// A block that starts at its command; returns the line that closes it.
  std::size_t take_block(const Lines& page, std::size_t at) {
    while (at < page.size() && page[at] != "```") {
      out_ += page[at] + '\n';
      const bool is_run = is_runnable(page[at]);
      if (is_run) printed_ = lines_of(print_(page[at].substr(2)));
      at_ = 0;
      for (++at; at < page.size() && page[at] != "```" && !page[at].starts_with("$ ");) {
        std::size_t end = at;
        while (end < page.size() && page[end] != "..." && page[end] != "```" && !page[end].starts_with("$ ")) ++end;
        if (is_run)
          take_stretch(page, at, end);
        else
          for (std::size_t i = at; i < end; ++i) out_ += page[i] + '\n';
        if (end < page.size() && page[end] == "...") out_ += page[end++] + '\n';
        at = end;
      }
    }
    return at;
  }

 public:
  std::vector<Fault> faults;
  int runs = 0;

  PageRefresh(std::string file, std::function<std::string(const std::string&)> print)
      : file_(std::move(file)), print_([this, print = std::move(print)](const std::string& command) {
          ++runs;
          return print(command);
        }) {}
  PageRefresh(const PageRefresh&) = delete;

  std::string page(const std::string& text) {
    const Lines page = lines_of(text);
    for (std::size_t at = 0; at < page.size();) {
      out_ += page[at] + '\n';
      const bool opens = page[at].starts_with("```");
      ++at;
      if (!opens) continue;
      if (at < page.size() && page[at].starts_with("$ leat ")) at = take_block(page, at);
      while (at < page.size() && page[at] != "```") out_ += page[at++] + '\n';
      if (at < page.size()) out_ += page[at++] + '\n';
    }
    return out_;
  }
};

}  // namespace leat::tools
