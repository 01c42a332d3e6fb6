#include "answers/trial.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "answers/trial_stands.h"
#include "record/phrase_parts.h"

namespace leat::answers {
namespace {

/// Spread over mean of survivors within beds, pooled over the beds by their degrees of freedom.
void plan(Trial& trial, const TrialRequest& request) {
  double squares = 0.0, degrees = 0.0;
  for (const Stand& s : trial.stands) {
    if (s.survivors.size() < 2 || s.weighed_together) continue;
    const science::Sample sample = science::sample_of(s.survivors);
    if (sample.mean <= 0.0) continue;
    squares += std::pow(sample.deviation / sample.mean, 2) * (sample.n - 1.0);
    degrees += sample.n - 1.0;
  }
  if (degrees < 2.0 || squares <= 0.0) return;
  trial.variation = std::sqrt(squares / degrees);
  trial.plants_needed = science::plants_needed(*trial.variation, request.wanted, request.level, request.power);
  trial.plants_needed_normal =
      science::plants_needed_normal(*trial.variation, request.wanted, request.level, request.power);
}

void warn(Trial& trial, const Plantings& plantings) {
  const auto names = treatments_in(trial);
  if (names.size() < 2) trial.warnings.push_back("all beds had one treatment, so there is nothing to compare");
  std::string alone;
  for (const std::string& name : names) {
    std::set<std::string> beds;
    for (const Stand& s : trial.stands)
      if (s.treatment == name) beds.insert(s.bed);
    if (beds.size() == 1) alone += fmt::format("{}{} ({})", alone.empty() ? "" : ", ", name, *beds.begin());
  }
  if (names.size() > 1 && !alone.empty())
    trial.warnings.push_back(fmt::format(
        "everything of one treatment stands in one bed: {}. What the bed itself does (its wall, sun, inlet) cannot be "
        "told from the treatment, however many plants there are; swap positions in the next cycle, or add beds",
        alone));
  double cut = 0.0;
  for (const Stand& s : trial.stands) cut += s.cut_grams;
  if (cut > 0.0)
    trial.warnings.push_back(
        fmt::format("{:.0f} g were cut from plants that stood on, or from a number that was not noted; they are in the "
                    "grams a place "
                    "of the table, and in no comparison of plants",
                    cut));
  if (names.size() > 2)
    trial.warnings.push_back(
        fmt::format("{0} treatments are {1} comparisons, of which one may look like more than chance by chance alone; "
                    "take only a p "
                    "below {2:.3f} for it",
                    names.size(), names.size() * (names.size() - 1) / 2,
                    0.05 / static_cast<double>(names.size() * (names.size() - 1) / 2)));
  for (const Plant& p : plantings.plants)
    if (p.crop == trial.crop && p.chapter == trial.chapter && p.across_chapters) {
      trial.warnings.push_back("the loop was re-plumbed while these plants stood, so they grew in two loops");
      break;
    }
}

/// What may have changed the growth of all: fish lost, moved or added, other plumbing, power and pumps.
void mark_events(Trial& trial, const std::vector<record::Entry>& entries, const record::Context& context) {
  for (const record::Entry& e : entries) {
    if (e.from < trial.from || e.from > trial.to) continue;
    const bool fish = record::is_fish(context, e.subject) || (e.subject.empty() && e.where.starts_with("tank."));
    std::string what;
    if (e.kind == record::Kind::chapter && e.what != "begun")
      what = "re-plumbed" + (e.subject.empty() ? "" : ": " + e.subject);
    else if ((e.what == "died" || e.what == "moved" || e.what == "stocked" || e.what == "harvested") && fish &&
             e.count.value_or(0.0) > 0.0)
      what = fmt::format("{:.0f} fish {}", *e.count, e.what);
    else if (e.what == "power" || e.what == "pump")
      what = fmt::format("{} {}", e.what, e.subject);
    if (!what.empty()) trial.events.push_back({e.from, what, e.number});
  }
  std::sort(trial.events.begin(), trial.events.end(),
            [](const Happened& a, const Happened& b) { return std::tie(a.at, a.entry) < std::tie(b.at, b.entry); });
}

/// Every crop and chapter in which something was planted.
std::set<std::pair<int, std::string>> trials_in(const Plantings& plantings, const TrialRequest& request) {
  std::set<std::pair<int, std::string>> all;
  for (const Plant& p : plantings.plants)
    if (request.crop.empty() || p.crop == request.crop) all.insert({p.chapter, p.crop});
  return all;
}

}  // namespace

TrialAnswer trial(const std::vector<record::Entry>& entries, const record::Context& context,
                  const TrialRequest& request) {
  Plantings plantings = plantings_in(entries, context);
  TrialAnswer answer{{}, plantings.plants, {}, request, plantings.taken, plantings.chapters};
  for (const auto& [chapter, crop] : trials_in(plantings, request)) {
    Trial t;
    t.crop = crop;
    t.chapter = chapter;
    gather_stands(t, plantings, request);
    if (t.stands.empty()) continue;
    t.from = t.stands.front().planted;
    for (const Stand& s : t.stands) {
      t.from = std::min(t.from, s.planted);
      t.to = std::max(t.to, s.standing > 0 ? context.now : s.last);
    }
    compare_treatments(t, request.level);
    count_lived(t, plantings, request);
    measure_growth(t, plantings, request);
    plan(t, request);
    warn(t, plantings);
    mark_events(t, entries, context);
    answer.trials.push_back(std::move(t));
  }
  if (request.crop.empty()) {
    answer.fish = fish_lives(entries, context, request.fish, request.level);
    for (const FishLives& f : answer.fish) answer.taken.insert(answer.taken.end(), f.taken.begin(), f.taken.end());
  }
  return answer;
}

}  // namespace leat::answers
