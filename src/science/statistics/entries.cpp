#include <cmath>
#include <stdexcept>
#include <vector>

#include "science/fish/entries.h"
#include "science/fish/entry_input.h"
#include "science/statistics/comparison.h"
#include "science/statistics/entries.h"
#include "science/statistics/intervals.h"
#include "science/statistics/special_functions.h"
#include "science/statistics/survival.h"

namespace leat::science {
namespace {

const InputRow kLevel = assumed("level", "-", 0.5, 0.9999, 0.95, "confidence");
const InputRow kTimes = words("times", "of each fish; a + behind a time: it left alive");
const InputRow kTime = input("time", "d", 0, 1e5, "at which survival is asked");

/// "24+ 3 11+ ...": times of death, and with a plus of leaving alive; remarks in brackets are left out.
std::vector<Followed> followed_in(const Given& g) {
  std::string_view text = g.word("times");
  text = text.substr(0, text.find('('));
  std::vector<Followed> fish;
  while (!text.empty()) {
    const std::size_t end = text.find_first_of(" ,");
    std::string_view word = text.substr(0, end);
    const bool alive = word.ends_with('+');
    if (alive) word.remove_suffix(1);
    if (const auto time = read_span(word)) fish.push_back({time->low, !alive});
    if (end == std::string_view::npos) break;
    text.remove_prefix(end + 1);
  }
  if (fish.empty()) throw std::out_of_range("times");
  return fish;
}

SurvivalStep step_in(const Given& g) {
  return survival_at(survival_kaplan_meier(followed_in(g)), g("time"));
}

OutputRow interval_output(std::string_view name, std::string_view unit, Interval (*of)(const Given&),
                          double Interval::*end) {
  return {name, unit, [of, end](const Given& g) { return of(g).*end; }};
}

Interval linear_in(const Given& g) {
  return survival_interval_linear(step_in(g), g("level"));
}
Interval loglog_in(const Given& g) {
  return survival_interval_loglog(step_in(g), g("level"));
}

/// Whether one side alone is to hold with the level: said by `sides`, or by a remark.
bool one_sided(const Given& g) {
  const std::string_view said = g.has("sides") ? g.word("sides") : remark(g);
  return said.find("one") != std::string_view::npos;
}

Interval share_in(const Given& g) {
  const double k = g("count"), n = g("of"), level = g("level");
  if (one_sided(g)) return {share_lower_limit(k, n, level), share_upper_limit(k, n, level)};
  return share_clopper_pearson(k, n, level);
}

Interval poisson_in(const Given& g) {
  return count_poisson_exact(g("deaths"), g("level"));
}

std::vector<Entry> survival_entries() {
  return {
      {"survival_kaplan_meier",
       "Share alive at a time when some left the record alive",
       {kTimes, kTime},
       {{"survival", "-", [](const Given& g) { return step_in(g).survival; }}},
       "Kaplan & Meier 1958"},
      {"survival_margin_greenwood",
       "Margin of that share, z standard errors",
       {kTimes, kTime, assumed("z", "-", 0, 10, 1.96, "normal quantile")},
       {{"margin", "-", [](const Given& g) { return g("z") * step_in(g).standard_error(); }}},
       "Greenwood 1926"},
      {"survival_interval_linear",
       "Interval of that share, S +- z SE",
       {kTimes, kTime, kLevel},
       {interval_output("lower", "-", linear_in, &Interval::low),
        interval_output("upper", "-", linear_in, &Interval::high)},
       "Greenwood 1926"},
      {"survival_interval_loglog",
       "Interval of that share that stays within 0 and 1",
       {kTimes, kTime, kLevel},
       {interval_output("lower", "-", loglog_in, &Interval::low),
        interval_output("upper", "-", loglog_in, &Interval::high)},
       "Kalbfleisch & Prentice 1980"},
      {"share_clopper_pearson",
       "Exact interval of a share",
       {input("count", "-", 0, 1e6, "how many"), input("of", "-", 1, 1e6, "out of"), kLevel,
        optional_words("sides", "two-sided unless one-sided is said")},
       {interval_output("lower", "-", share_in, &Interval::low),
        interval_output("upper", "-", share_in, &Interval::high)},
       "Clopper & Pearson 1934"},
      {"share_rule_of_three",
       "Upper limit of a share when nothing happened",
       {optional_input("count", "-", 0, 0, "none"), input("of", "-", 30, 1e6, "out of")},
       {{"upper", "-", [](const Given& g) { return share_rule_of_three(g("of")); }}},
       "rule of three"},
      {"count_poisson_exact",
       "Exact interval of the expected count",
       {input("deaths", "-", 0, 1e6, "counted"), kLevel},
       {interval_output("lower", "count", poisson_in, &Interval::low),
        interval_output("upper", "count", poisson_in, &Interval::high)},
       "Garwood 1936"},
  };
}

std::vector<Entry> trial_entries() {
  return {
      {"permutation_smallest_p",
       "Smallest p that so few beds can give",
       {words("beds", "as in: 2 vs 2")},
       {{"p", "-",
         [](const Given& g) {
           const auto [a, b] = pair_in(g, "beds", "vs", "");
           return permutation_smallest_p(static_cast<int>(std::lround(a)), static_cast<int>(std::lround(b)));
         }}},
       "exact permutation test"},
      {"effective_count",
       "Independent units that plants of beds are worth",
       {words("members", "plants in all"), optional_words("per_group", "plants per bed; all in one unless given"),
        input("within", "-", 0, 1, "intraclass correlation")},
       {{"units", "-",
         [](const Given& g) {
           const double n = plain_number(g, "members");
           return effective_count(n, plain_number(g, "per_group", n), g("within"));
         }}},
       "design effect; Hurlbert 1984"},
      {"effective_count_series",
       "Independent readings that a series is worth",
       {words("readings", "how many"), input("correlation", "-", -1, 1, "from one to the next")},
       {{"readings", "d",
         [](const Given& g) { return effective_count_series(plain_number(g, "readings"), g("correlation")); }}},
       "first-order autocorrelation, long series"},
      {"student_t_quantile",
       "Quantile of Student's t",
       {input("share", "-", 0, 1, "below it"), input("degrees", "-", 0.1, 1e6, "of freedom")},
       {{"t", "-", [](const Given& g) { return student_t_quantile(g("share"), g("degrees")); }}},
       "Student 1908"},
      {"mean_half_width",
       "Half of the width of the interval of a mean",
       {words("count", "values"), optional_input("mean", "g", -1e9, 1e9, "a remark"),
        input("deviation", "g", 0, 1e9, "standard deviation, n - 1"), kLevel},
       {{"half_width", "g",
         [](const Given& g) {
           return mean_half_width({plain_number(g, "count"), 0.0, g("deviation")}, g("level"));
         }}},
       "Student 1908"},
  };
}

}  // namespace

std::vector<Entry> statistics_entries() {
  std::vector<Entry> all = survival_entries();
  for (Entry& entry : trial_entries()) all.push_back(std::move(entry));
  for (Entry& entry : group_entries()) all.push_back(std::move(entry));
  return all;
}

}  // namespace leat::science
