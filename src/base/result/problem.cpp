#include "base/result/problem.h"

#include <fmt/core.h>

#include <algorithm>
#include <numeric>

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

std::size_t slips(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t above = row[j];
      row[j] = std::min({above + 1, row[j - 1] + 1, diagonal + (a[i - 1] == b[j - 1] ? 0u : 1u)});
      diagonal = above;
    }
  }
  return row.back();
}

}  // namespace

std::string_view nearest_word(std::string_view word, const std::vector<std::string_view>& known) {
  std::string_view best;
  std::size_t fewest = std::max<std::size_t>(2, word.size() / 3) + 1;
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
