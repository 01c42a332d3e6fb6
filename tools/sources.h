// Reads C++ sources as text, for the rules that HOUSE.md states: what includes what, how long files are, who prints.
#pragma once

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

namespace leat::tools {

struct Include {
  int line = 0;
  std::string path;
  bool quoted = false;  ///< "..." and not <...>
};

struct Source {
  std::string path;               ///< from the root: src/base/csv.h
  std::vector<std::string> code;  ///< its lines, with comments and the inside of strings blanked
  std::vector<Include> includes;

  bool is_header() const { return path.ends_with(".h"); }
  bool is_test() const { return path.ends_with(".test.cpp"); }
  std::string folder() const { return path.substr(0, path.rfind('/') + 1); }
};

/// A broken rule: where, what is there, what is wanted.
struct Fault {
  std::string file;
  int line = 0;
  std::string what, wanted;

  std::string text() const { return file + ":" + std::to_string(line) + " " + what + "; wanted: " + wanted + "\n"; }
};

inline std::string text_of(const std::vector<Fault>& faults) {
  std::string all;
  for (const Fault& fault : faults) all += fault.text();
  return all;
}

/// Blanks comments, texts and letters in quotes; line breaks stay where they are.
class Blanking {
  std::string text_;
  std::size_t at_ = 0;

  bool starts(std::string_view what) const { return std::string_view(text_).substr(at_).starts_with(what); }
  void blank_to(std::size_t end) {
    for (end = std::min(end, text_.size()); at_ < end; ++at_)
      if (text_[at_] != '\n') text_[at_] = ' ';
  }
  std::size_t after(std::string_view what) const {
    const std::size_t found = text_.find(what, at_ + 1);
    return found == std::string::npos ? text_.size() : found + what.size();
  }
  /// Where a text that starts here in quotes ends.
  std::size_t end_of_quotes() const {
    const char quote = text_[at_];
    for (std::size_t i = at_ + 1; i < text_.size() && text_[i] != '\n'; ++i) {
      if (text_[i] == '\\')
        ++i;
      else if (text_[i] == quote)
        return i + 1;
    }
    return text_.size();
  }
  bool follows_word() const { return at_ > 0 && std::isalnum(static_cast<unsigned char>(text_[at_ - 1])); }

 public:
  explicit Blanking(std::string text) : text_(std::move(text)) {}

  std::string run() {
    while (at_ < text_.size()) {
      if (starts("//"))
        blank_to(std::min(text_.find('\n', at_), text_.size()));
      else if (starts("/*"))
        blank_to(after("*/"));
      else if (starts("R\"") && !follows_word())
        blank_to(after(")" + text_.substr(at_ + 2, text_.find('(', at_) - at_ - 2) + "\""));
      else if (text_[at_] == '"' || (text_[at_] == '\'' && !follows_word()))  // 1'000 is a number
        blank_to(end_of_quotes());
      else
        ++at_;
    }
    return text_;
  }
};

inline std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

inline Source read_source(std::string path, const std::string& text) {
  Source source{std::move(path), lines_of(Blanking(text).run()), {}};
  const std::vector<std::string> written = lines_of(text);
  for (std::size_t i = 0; i < written.size(); ++i) {
    // The name of the file is blanked in `code`, the directive is not: so one inside a comment does not count.
    if (source.code[i].find("#include") == std::string::npos) continue;
    const std::size_t open = written[i].find_first_of("\"<"), close = written[i].find_last_of("\">");
    if (open == std::string::npos || close <= open) continue;
    source.includes.push_back(
        {static_cast<int>(i) + 1, written[i].substr(open + 1, close - open - 1), written[i][open] == '"'});
  }
  return source;
}

/// Every .h and .cpp below root/folder, in order of path.
inline std::vector<Source> read_tree(const std::string& root, const std::string& folder) {
  std::vector<Source> sources;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(root + "/" + folder)) {
    const std::string extension = entry.path().extension().string();
    if (!entry.is_regular_file() || (extension != ".h" && extension != ".cpp")) continue;
    std::ostringstream text;
    text << std::ifstream(entry.path()).rdbuf();
    sources.push_back(read_source(std::filesystem::relative(entry.path(), root).string(), text.str()));
  }
  std::sort(sources.begin(), sources.end(), [](const Source& a, const Source& b) { return a.path < b.path; });
  return sources;
}

}  // namespace leat::tools
