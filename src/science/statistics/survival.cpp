#include "science/statistics/survival.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>

#include "science/statistics/special_functions.h"

namespace leat::science {

double SurvivalStep::standard_error() const {
  return survival > 0.0 ? survival * std::sqrt(greenwood) : 0.0;
}

std::vector<SurvivalStep> survival_kaplan_meier(std::vector<Followed> fish) {
  std::sort(fish.begin(), fish.end(), [](const Followed& a, const Followed& b) { return a.time < b.time; });
  std::vector<SurvivalStep> steps;
  double at_risk = static_cast<double>(fish.size()), survival = 1.0, greenwood = 0.0;
  for (std::size_t i = 0; i < fish.size();) {
    const double time = fish[i].time;
    double deaths = 0.0, gone = 0.0;
    for (; i < fish.size() && fish[i].time == time; ++i) {
      gone += 1.0;
      if (fish[i].died) deaths += 1.0;
    }
    if (deaths > 0.0) {
      survival *= 1.0 - deaths / at_risk;
      greenwood += at_risk > deaths ? deaths / (at_risk * (at_risk - deaths)) : std::numeric_limits<double>::infinity();
      steps.push_back({time, at_risk, deaths, survival, greenwood});
    }
    at_risk -= gone;
  }
  return steps;
}

std::vector<SurvivalStep> survival_of_counts(std::vector<CountedEvent> events) {
  std::sort(events.begin(), events.end(), [](const CountedEvent& a, const CountedEvent& b) { return a.time < b.time; });
  std::vector<SurvivalStep> steps;
  double at_risk = 0.0, survival = 1.0, greenwood = 0.0;
  for (std::size_t i = 0; i < events.size();) {
    CountedEvent all{events[i].time};
    for (; i < events.size() && events[i].time == all.time; ++i) {
      all.entered += events[i].entered;
      all.died += events[i].died;
      all.left += events[i].left;
    }
    const double deaths = std::min(all.died, at_risk);
    if (deaths > 0.0) {
      survival *= 1.0 - deaths / at_risk;
      greenwood += at_risk > deaths ? deaths / (at_risk * (at_risk - deaths)) : std::numeric_limits<double>::infinity();
      steps.push_back({all.time, at_risk, deaths, survival, greenwood});
    }
    at_risk = std::max(0.0, at_risk - deaths - all.left) + all.entered;
  }
  return steps;
}

SurvivalStep survival_at(const std::vector<SurvivalStep>& steps, double time) {
  SurvivalStep found{0.0, 0.0, 0.0, 1.0, 0.0};
  for (const SurvivalStep& step : steps)
    if (step.time <= time) found = step;
  return found;
}

Interval survival_interval_linear(const SurvivalStep& step, double level) {
  const double margin = normal_quantile(0.5 + 0.5 * level) * step.standard_error();
  return {step.survival - margin, step.survival + margin};
}

Interval survival_interval_loglog(const SurvivalStep& step, double level) {
  if (step.survival >= 1.0 || step.survival <= 0.0) return {step.survival, step.survival};
  const double z = normal_quantile(0.5 + 0.5 * level);
  const double spread = std::exp(z * std::sqrt(step.greenwood) / -std::log(step.survival));
  return {std::pow(step.survival, spread), std::pow(step.survival, 1.0 / spread)};
}

}  // namespace leat::science
