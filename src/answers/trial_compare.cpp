// Two treatments against each other: by plants, by beds or by cycles, whichever the trial allows.
#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "answers/trial_stands.h"
#include "science/statistics/counted_permutation.h"

namespace leat::answers {
namespace {

std::vector<double> weights_of(const Stand& s, Basis basis) {
  std::vector<double> all = basis == Basis::places ? s.places_grams : s.survivors;
  if (basis == Basis::with_substitutes) all.insert(all.end(), s.substitutes.begin(), s.substitutes.end());
  return all;
}

/// The stands of one treatment that have weights.
struct Side {
  std::vector<double> plants;
  std::map<std::string, std::vector<double>> beds;  ///< means of their stands
  std::map<int, std::vector<double>> cycles;        ///< the same by cycle
};

Side side_of(const Trial& trial, const std::string& treatment, Basis basis) {
  Side side;
  for (const Stand& s : trial.stands) {
    if (s.treatment != treatment) continue;
    const auto here = weights_of(s, basis);
    if (here.empty()) continue;
    side.plants.insert(side.plants.end(), here.begin(), here.end());
    side.beds[s.bed].push_back(science::sample_of(here).mean);
    side.cycles[s.cycle].push_back(science::sample_of(here).mean);
  }
  return side;
}

std::vector<double> means_of(const std::map<std::string, std::vector<double>>& groups) {
  std::vector<double> means;
  for (const auto& [name, values] : groups) means.push_back(science::sample_of(values).mean);
  return means;
}

/// The difference within each cycle that has both treatments.
std::vector<double> differences_by_cycle(const Side& a, const Side& b) {
  std::vector<double> differences;
  for (const auto& [cycle, values] : a.cycles)
    if (const auto other = b.cycles.find(cycle); other != b.cycles.end())
      differences.push_back(science::sample_of(values).mean - science::sample_of(other->second).mean);
  return differences;
}

/// Plants in beds, cycles as blocks: column 1 is the first treatment, the further ones the cycles after the first.
void fit_mixed(Compared& c, const Trial& trial) {
  std::set<int> cycles;
  std::map<std::string, std::size_t> beds;
  for (const Stand& s : trial.stands)
    if ((s.treatment == c.first || s.treatment == c.second) && !weights_of(s, c.basis).empty()) {
      cycles.insert(s.cycle);
      beds.emplace(s.bed, beds.size());
    }
  std::vector<science::Grouped> plants;
  for (const Stand& s : trial.stands) {
    if (!beds.contains(s.bed) || (s.treatment != c.first && s.treatment != c.second)) continue;
    std::vector<double> fixed = {1.0, s.treatment == c.first ? 1.0 : 0.0};
    for (auto cycle = std::next(cycles.begin()); cycle != cycles.end(); ++cycle)
      fixed.push_back(*cycle == s.cycle ? 1.0 : 0.0);
    for (const double grams : weights_of(s, c.basis)) plants.push_back({grams, fixed, beds[s.bed]});
  }
  c.mixed = science::mixed_model(plants);
  c.mixed_cycles = static_cast<double>(cycles.size());
}

/// Means and intervals of paired differences, in the form of two means.
void compare_cycles(Compared& c, const std::vector<double>& differences, double level) {
  c.chance = science::sign_flip_test(differences);
  c.n = static_cast<double>(differences.size());
  const science::Sample s = science::sample_of(differences);
  if (s.n < 2 || s.deviation <= 0.0) return;
  const science::Interval interval = science::mean_interval(s, level);
  c.apart = science::MeanDifference{s.mean, s.deviation / std::sqrt(s.n), s.n - 1.0, interval, c.chance->p};
}

Compared compared(const Trial& trial, Basis basis, const std::string& first, const std::string& second, double level) {
  const Side a = side_of(trial, first, basis), b = side_of(trial, second, basis);
  Compared c;
  c.basis = basis;
  c.first = first;
  c.second = second;
  const auto differences = differences_by_cycle(a, b);
  const bool many_beds = a.beds.size() > 1 && b.beds.size() > 1;
  c.units = many_beds ? Units::beds : differences.size() > 1 ? Units::cycles : Units::plants;
  const auto x = many_beds ? means_of(a.beds) : a.plants, y = many_beds ? means_of(b.beds) : b.plants;
  c.a = science::sample_of(x);
  c.b = science::sample_of(y);
  if (x.empty() || y.empty()) return c;
  if (c.units == Units::cycles) {
    compare_cycles(c, differences, level);
    return c;
  }
  const bool spread = c.a.deviation > 0.0 || c.b.deviation > 0.0;
  if (x.size() > 1 && y.size() > 1 && spread) c.apart = science::mean_difference_welch(c.a, c.b, level);
  c.chance = science::permutation_test_exact(x, y);
  if (many_beds) fit_mixed(c, trial);
  return c;
}

}  // namespace

void compare_treatments(Trial& trial, double level) {
  const auto names = treatments_in(trial);
  const bool replaced =
      std::any_of(trial.stands.begin(), trial.stands.end(), [](const Stand& s) { return !s.substitutes.empty(); });
  for (std::size_t i = 0; i < names.size(); ++i)
    for (std::size_t j = i + 1; j < names.size(); ++j)
      for (const Basis basis : {Basis::survivors, Basis::places, Basis::with_substitutes}) {
        if (basis == Basis::with_substitutes && !replaced) continue;
        Compared c = compared(trial, basis, names[i], names[j], level);
        if (c.a.n > 0 && c.b.n > 0) trial.compared.push_back(std::move(c));
      }
}

}  // namespace leat::answers
