#include "base/result/problem.h"

#include <fmt/core.h>

#include <algorithm>

namespace leat {

std::string Problem::text() const {
  std::string place = file;
  if (line > 0) place += fmt::format(":{}", line);
  if (line > 0 && column > 0) place += fmt::format(":{}", column);
  return path.empty() ? fmt::format("{}: {}", place, said) : fmt::format("{} {}: {}", place, path, said);
}

std::string Problems::text() const {
  std::vector<const Problem*> ordered;
  for (const Problem& p : all_) ordered.push_back(&p);
  std::stable_sort(ordered.begin(), ordered.end(),
                   [](const Problem* a, const Problem* b) { return a->line < b->line; });
  std::string text;
  for (const Problem* p : ordered) text += p->text() + '\n';
  return text;
}

namespace {

/// Letters left out, put in, changed, or two neighbours exchanged (restricted Damerau-Levenshtein distance).
std::size_t slips(std::string_view a, std::string_view b) {
  const std::size_t width = b.size() + 1;
  std::vector<std::size_t> d((a.size() + 1) * width);
  const auto at = [&](std::size_t i, std::size_t j) -> std::size_t& { return d[i * width + j]; };
  for (std::size_t j = 0; j <= b.size(); ++j) at(0, j) = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    at(i, 0) = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      at(i, j) = std::min({at(i - 1, j) + 1, at(i, j - 1) + 1, at(i - 1, j - 1) + (a[i - 1] == b[j - 1] ? 0u : 1u)});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
        at(i, j) = std::min(at(i, j), at(i - 2, j - 2) + 1);
    }
  }
  return d.back();
}

}  // namespace

std::string_view nearest_word(std::string_view word, const std::vector<std::string_view>& known) {
  std::string_view best;
  if (word.size() > 60) return {};
  std::size_t fewest = (word.size() <= 6 ? 1u : word.size() <= 10 ? 2u : 3u) + 1;
  for (const std::string_view candidate : known) {
    const std::size_t n = slips(word, candidate);
    if (n < fewest && n < candidate.size()) {
      fewest = n;
      best = candidate;
    }
  }
  return best;
}

std::string did_you_mean(std::string_view word, const std::vector<std::string_view>& known) {
  const std::string_view near = nearest_word(word, known);
  return near.empty() ? std::string() : fmt::format(R"(; did you mean "{}"?)", near);
}

}  // namespace leat
