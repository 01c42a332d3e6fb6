// The grower's mistakes, collected: all at once, each with where, what was read, what is wrong, and an example.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace leat {

/// One mistake, as it will be shown: `loop.toml:41:12 tank.nursery.volume: "1000" has no unit; write "1000 L" or "1
/// m3"`.
struct Problem {
  std::string file;
  int line = 0;      ///< from 1; 0 when the mistake has no place in the file (something is missing)
  int column = 0;    ///< from 1
  std::string path;  ///< dotted key path, or the column name of a table
  std::string said;  ///< the clause after the path, with the cure

  std::string text() const;
};

class Problems {
  std::vector<Problem> all_;

 public:
  void add(Problem problem) { all_.push_back(std::move(problem)); }
  bool empty() const { return all_.empty(); }
  std::size_t size() const { return all_.size(); }
  const std::vector<Problem>& all() const { return all_; }
  /// One line each, in the order of the file.
  std::string text() const;
};

/// The known word nearest to a misspelt one, or "": one slip in six letters, two in ten, three in more. A slip is a
/// letter left out, put in or changed, or two neighbours exchanged.
std::string_view nearest_word(std::string_view word, const std::vector<std::string_view>& known);

/// `; did you mean "bore"?` or "".
std::string did_you_mean(std::string_view word, const std::vector<std::string_view>& known);

}  // namespace leat
