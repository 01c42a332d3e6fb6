// How many plants lived and how they grew.
#include <algorithm>
#include <cmath>
#include <map>

#include "answers/trial_stands.h"

namespace leat::answers {
namespace {

constexpr double kDay = 86'400'000.0;

/// Whether a plant belongs to the trial, as an original.
bool is_in(const Trial& trial, const Plant& p, const TrialRequest& request) {
  const bool late = request.until && p.planted > *request.until, early = request.since && p.planted < *request.since;
  return p.crop == trial.crop && p.chapter == trial.chapter && !p.substitute && !late && !early;
}

/// Every weighing of a bed with the days since its stand was planted.
struct Point {
  double day, grams;
  std::int64_t entry;
};

const Stand* stand_at(const Trial& trial, const std::string& bed, record::Moment at) {
  const Stand* found = nullptr;
  for (const Stand& s : trial.stands)
    if (s.bed == bed && s.planted <= at && (!found || s.planted > found->planted)) found = &s;
  return found;
}

/// By bed and planting: the next stand of the same bed grows anew.
using Stood = std::pair<std::string, record::Moment>;

std::map<Stood, std::vector<Point>> points_of(const Trial& trial, const Plantings& plantings) {
  std::map<Stood, std::vector<Point>> points;
  for (const WeighedPlants& w : plantings.weighed)
    if (const Stand* s = w.crop == trial.crop ? stand_at(trial, w.bed, w.at) : nullptr)
      points[{s->bed, s->planted}].push_back({static_cast<double>(w.at - s->planted) / kDay, w.grams_each, w.entry});
  for (auto& [stood, all] : points)
    for (const Stand& s : trial.stands)
      if (s.bed == stood.first && s.planted == stood.second && !s.survivors.empty())
        all.push_back({static_cast<double>(s.last - s.planted) / kDay, science::sample_of(s.survivors).mean, 0});
  return points;
}

}  // namespace

void count_lived(Trial& trial, const Plantings& plantings, const TrialRequest& request) {
  for (const std::string& name : treatments_in(trial)) {
    Lived l{name};
    for (const Stand& s : trial.stands) {
      if (s.treatment != name) continue;
      l.alive += s.alive();
      l.places += s.places;
    }
    if (l.places <= 0) continue;
    l.interval = science::share_clopper_pearson(l.alive, l.places, request.level);
    std::vector<science::Followed> followed;
    for (const Plant& p : plantings.plants) {
      if (!is_in(trial, p, request) || treatment_of(p.bed, request) != name) continue;
      // By whole days: what died on the day of the harvest died among those that were cut then.
      const double days = std::round(static_cast<double>(p.ended.value_or(trial.to) - p.planted) / kDay);
      followed.push_back({days, p.fate == Fate::died || p.fate == Fate::replaced});
      l.last_day = std::max(l.last_day, days);
    }
    l.steps = science::survival_kaplan_meier(std::move(followed));
    trial.lived.push_back(std::move(l));
  }
  if (trial.lived.size() == 2)
    trial.alike_p = science::shares_alike_fisher(trial.lived[0].alive, trial.lived[0].places, trial.lived[1].alive,
                                                 trial.lived[1].places);
}

void measure_growth(Trial& trial, const Plantings& plantings, const TrialRequest& request) {
  for (auto& [stood, points] : points_of(trial, plantings)) {
    std::sort(points.begin(), points.end(), [](const Point& a, const Point& b) { return a.day < b.day; });
    Growth g{stood.first, stood.second};
    std::vector<double> logs;
    for (const Point& p : points) {
      if (p.grams <= 0.0) continue;
      g.days.push_back(p.day);
      g.grams.push_back(p.grams);
      logs.push_back(std::log(p.grams));
      if (p.entry > 0) g.entries.push_back(p.entry);
    }
    if (g.days.size() < 2 || g.days.back() <= g.days.front()) continue;
    g.a_day = (logs.back() - logs.front()) / (g.days.back() - g.days.front());
    if (const auto line = science::line_fit(g.days, logs)) {
      g.a_day = line->slope;
      g.interval = line->slope_interval(request.level);
    }
    trial.growth.push_back(std::move(g));
  }
}

}  // namespace leat::answers
