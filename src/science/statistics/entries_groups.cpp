#include <cmath>
#include <stdexcept>
#include <vector>

#include "science/fish/entry_input.h"
#include "science/statistics/counted_permutation.h"
#include "science/statistics/entries.h"
#include "science/statistics/through_origin.h"
#include "science/statistics/two_groups.h"

namespace leat::science {
namespace {

const InputRow kLevel = assumed("level", "-", 0.5, 0.9999, 0.95, "confidence");
const InputRow kFirst = words("first", "values of one group: 118 142 96");
const InputRow kSecond = words("second", "values of the other");

/// Numbers with blanks between.
std::vector<double> values_in(const Given& g, std::string_view name) {
  std::string_view text = g.word(name);
  std::vector<double> values;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find(' '), text.size());
    if (const auto read = read_number(text.substr(0, end)); std::holds_alternative<double>(read))
      values.push_back(std::get<double>(read));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  if (values.empty()) throw std::out_of_range(std::string(name));
  return values;
}

MeanDifference welch_in(const Given& g) {
  const auto first = values_in(g, "first"), second = values_in(g, "second");
  if (first.size() < 2) throw std::out_of_range("first");
  if (second.size() < 2) throw std::out_of_range("second");
  return mean_difference_welch(sample_of(first), sample_of(second), g("level"));
}

Rearranged dealt_in(const Given& g) {
  const auto dealt = permutation_test_exact(values_in(g, "first"), values_in(g, "second"));
  if (!dealt) throw std::out_of_range("first");
  return *dealt;
}

double needed_in(const Given& g, double (*of)(double, double, double, double)) {
  return of(g("variation"), g("difference"), g("level"), g("power"));
}

std::vector<InputRow> needed_inputs() {
  return {input("variation", "-", 0.001, 10, "standard deviation over mean"),
          input("difference", "-", 0.001, 10, "wanted, over the mean"), kLevel,
          assumed("power", "-", 0.5, 0.999, 0.80, "chance to find it")};
}

}  // namespace

std::vector<Entry> group_entries() {
  return {
      {"mean_difference_welch",
       "Difference of two means with spreads of their own",
       {kFirst, kSecond, kLevel},
       {{"difference", "-", [](const Given& g) { return welch_in(g).difference; }},
        {"lower", "-", [](const Given& g) { return welch_in(g).interval.low; }},
        {"upper", "-", [](const Given& g) { return welch_in(g).interval.high; }},
        {"p_value", "-", [](const Given& g) { return welch_in(g).p; }}},
       "Welch 1947"},
      {"permutation_test_exact",
       "In what share of all ways to deal the values two means are as far apart",
       {kFirst, kSecond},
       {{"p_value", "-", [](const Given& g) { return dealt_in(g).p; }},
        {"arrangements", "count", [](const Given& g) { return dealt_in(g).arrangements; }}},
       "exact permutation test; Pagano & Tritchler 1983"},
      {"shares_alike_fisher",
       "Two-sided p that two shares are alike",
       {input("count_1", "-", 0, 1e4, "how many"), input("of_1", "-", 1, 1e4, "out of"),
        input("count_2", "-", 0, 1e4, "how many of the others"), input("of_2", "-", 1, 1e4, "out of")},
       {{"p", "-",
         [](const Given& g) { return shares_alike_fisher(g("count_1"), g("of_1"), g("count_2"), g("of_2")); }}},
       "Fisher 1935"},
      {"plants_needed",
       "Plants in each of two groups that find a difference",
       needed_inputs(),
       {{"plants", "count", [](const Given& g) { return needed_in(g, plants_needed); }}},
       "Snedecor & Cochran 1967"},
      {"plants_needed_normal",
       "The same with normal quantiles, as tables for the field have it",
       needed_inputs(),
       {{"plants", "count", [](const Given& g) { return needed_in(g, plants_needed_normal); }}},
       "Snedecor & Cochran 1967"},
      {"time_constant_hours",
       "Time constant of a store from the share of the air's daily swing that it shows",
       {input("ratio", "-", 0.001, 0.999, "swing of the water over that of the air")},
       {{"hours", "h", [](const Given& g) { return time_constant_hours(g("ratio")); }}},
       "first-order lag under a sine"},
  };
}

}  // namespace leat::science
