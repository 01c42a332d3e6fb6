// The list of relations by name, so that one can be asked for from outside (checks, the command line) with named
// inputs that carry units. A relation itself is a plain typed function in its own header; its entry here only
// unwraps the inputs into the units it states, calls the function, and wraps the answer.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <span>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace leat::science {

/// One input of a relation as the outside sees it.
struct InputRow {
  std::string_view name;  ///< snake_case, ours
  std::string_view unit;  ///< unit the number is handed over in; "" when the input is a word
  double low, high;       ///< range in which the relation is supported (outside it still evaluates, with a caveat)
  std::string_view meaning;
  std::optional<double> assumed{};  ///< used, and said, when the input is not given
  bool optional = false;            ///< may be absent: one of several ways to state the same thing
};

/// The inputs of one evaluation, already converted to the units of the entry's rows.
class Given {
 public:
  std::map<std::string, double, std::less<>> numbers;
  std::map<std::string, std::string, std::less<>> words;

  bool has(std::string_view name) const { return numbers.contains(name) || words.contains(name); }
  /// The number of an input. Throws std::out_of_range if absent; `evaluate` below turns that into words.
  double operator()(std::string_view name) const {
    const auto found = numbers.find(name);
    if (found == numbers.end()) throw std::out_of_range(std::string(name));
    return found->second;
  }
  double get(std::string_view name, double otherwise) const {
    const auto found = numbers.find(name);
    return found == numbers.end() ? otherwise : found->second;
  }
  std::string_view word(std::string_view name) const {
    const auto found = words.find(name);
    if (found == words.end()) throw std::out_of_range(std::string(name));
    return found->second;
  }
};

/// One output of a relation.
struct OutputRow {
  std::string_view name;
  std::string_view unit;
  std::function<double(const Given&)> evaluate;
};

/// One relation.
struct Entry {
  std::string_view name;
  std::string_view meaning;
  std::vector<InputRow> inputs;
  std::vector<OutputRow> outputs;
  std::string_view source;
};

// One list per subject; each lives beside its relations (src/science/<subject>/entries.cpp).
std::span<const Entry> hydraulics_entries();
std::span<const Entry> heat_entries();
std::span<const Entry> water_entries();
std::span<const Entry> life_entries();

/// Every entry of every subject.
std::vector<const Entry*> all_entries();
/// The entry of that name, or nullptr.
const Entry* find_entry(std::string_view name);

}  // namespace leat::science
