#include "tell/record_search.h"

#include <algorithm>
#include <sstream>

#include "tell/record_text.h"

namespace leat::tell {
namespace {

std::string in_small(std::string text) {
  for (char& c : text)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return text;
}

/// Each word with what may stand for it.
std::vector<std::vector<std::string>> wanted(const std::string& words) {
  std::vector<std::vector<std::string>> all;
  std::istringstream in(in_small(words));
  for (std::string word; in >> word;) {
    std::istringstream alternatives(word);
    std::vector<std::string> either;
    for (std::string one; std::getline(alternatives, one, '|');) {
      std::replace(one.begin(), one.end(), '_', ' ');
      if (!one.empty()) either.push_back(one);
    }
    if (!either.empty()) all.push_back(std::move(either));
  }
  return all;
}

}  // namespace

std::vector<record::Entry> entries_that_hold(std::vector<record::Entry> entries, const std::string& words,
                                             const Clock& clock) {
  const auto all = wanted(words);
  std::erase_if(entries, [&](const record::Entry& e) {
    std::string text = in_small(entry_line(e, clock) + '\n' + e.said + '\n' + e.why);
    std::replace(text.begin(), text.end(), '_', ' ');
    const auto holds = [&](const std::string& one) { return text.find(one) != std::string::npos; };
    return !std::all_of(all.begin(), all.end(),
                        [&](const auto& either) { return std::any_of(either.begin(), either.end(), holds); });
  });
  return entries;
}

}  // namespace leat::tell
