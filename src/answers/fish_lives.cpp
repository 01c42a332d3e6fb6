#include "answers/fish_lives.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "answers/plantings.h"
#include "answers/windows.h"
#include "record/crops.h"
#include "record/phrase_parts.h"
#include "science/statistics/comparison.h"

namespace leat::answers {
namespace {

using record::Entry;

constexpr double kDay = 86'400'000.0;

/// Everything that happened to the fish of one tank, in order of time.
struct Tank {
  std::vector<science::CountedEvent> events;  ///< time in days since 1970
  bool stocked = false;
  record::Moment came = 0;  ///< when the last did
  std::vector<WeighedFish> weighed;
  record::Moment first = 0, last = 0;

  void add(record::Moment at, double entered, double died, double left) {
    if (events.empty() || at < first) first = at;
    last = std::max(last, at);
    if (entered > 0.0) came = std::max(came, at);
    events.push_back({static_cast<double>(at) / kDay, entered, died, left});
  }
};

bool of_fish(const Entry& e, const record::Context& context) {
  return record::is_fish(context, e.subject) || is_death_of_fish(e, context) ||
         (e.subject.empty() && e.where.find("bed.") == std::string::npos);
}

std::map<std::string, Tank> tanks_in(const std::vector<Entry>& entries, const record::Context& context) {
  std::map<std::string, Tank> tanks;
  for (const Entry& e : entries) {
    if (e.kind != record::Kind::deed || !of_fish(e, context)) continue;
    const double count = e.count.value_or(0.0);
    if (e.what == "died" && count > 0.0) {
      tanks[e.where].add(e.from, 0.0, count, 0.0);
    } else if (e.what == "stocked" && count > 0.0) {
      tanks[e.where].add(e.from, count, 0.0, 0.0);
      tanks[e.where].stocked = true;
    } else if ((e.what == "harvested" || e.what == "sold") && count > 0.0) {
      tanks[e.where.empty() ? record::usual_place(context) : e.where].add(e.from, 0.0, 0.0, count);
    } else if (e.what == "moved" && count > 0.0 && !e.towards.empty()) {
      tanks[e.where.empty() ? record::usual_place(context) : e.where].add(e.from, 0.0, 0.0, count);
      tanks[e.towards].add(e.from, count, 0.0, 0.0);
      tanks[e.towards].stocked = true;
    } else if (e.what == "weighed" && count > 0.0) {
      const auto grams = grams_of(e.amount);
      if (grams)
        tanks[e.where].weighed.push_back({e.from, e.amount.basis == "each" ? *grams : *grams / count, e.number});
    }
  }
  tanks.erase("");
  return tanks;
}

void count(FishLives& f, Tank& tank, const std::vector<FishAtStart>& at_start, record::Moment begun, double level) {
  const auto there = std::find_if(at_start.begin(), at_start.end(),
                                  [&](const FishAtStart& s) { return s.where == f.where && s.count > 0.0; });
  if (!tank.stocked && there != at_start.end()) {
    tank.add(tank.events.empty() ? begun : std::min(begun, tank.first), there->count, 0.0, 0.0);
    // Those of the loop file were there before anything else happened.
    tank.events.back().time -= 1e-6;
    f.taken.push_back(
        fmt::format("{}: {:.0f} fish from the loop file, since no stocking is noted", f.where, there->count));
  }
  bool late = false;
  for (const auto& e : tank.events) {
    f.entered += e.entered;
    f.died += e.died;
    f.left += e.left;
    late = late || (e.entered > 0.0 && e.time > static_cast<double>(tank.first) / kDay + 1.0);
  }
  f.from = tank.first;
  f.to = tank.last;
  for (auto& e : tank.events) e.time -= static_cast<double>(tank.first) / kDay;
  f.steps = science::survival_of_counts(tank.events);
  f.expected = science::count_poisson_exact(f.died, level);
  if (!late && f.left <= 0.0 && f.entered >= f.died && f.entered > 0.0)
    f.died_share = science::share_clopper_pearson(f.died, f.entered, level);
}

/// Degree-days from a first day to each weighing, by the mean of each day's min and max. Days without are taken as the
/// mean of the others; where they are more than half there is no sum.
std::vector<double> warmth(FishLives& f, const std::vector<Window>& windows) {
  const record::Moment from = f.weighed.front().at, to = f.weighed.back().at;
  std::map<int, std::pair<double, int>> days;
  double sum = 0.0;
  int known = 0;
  for (const Window& w : windows) {
    if (w.to <= from || w.from >= to || w.kind != WindowKind::whole_day) continue;
    const int day = static_cast<int>(static_cast<double>((w.from + w.to) / 2 - from) / kDay);
    auto& [total, n] = days[day];
    total += 0.5 * (w.low + w.high);
    sum += 0.5 * (w.low + w.high);
    ++n;
    ++known;
  }
  const int all = std::max(1, static_cast<int>(std::lround(static_cast<double>(to - from) / kDay)));
  f.days_without_warmth = all - static_cast<double>(days.size());
  if (known == 0 || static_cast<int>(days.size()) * 2 < all) return {};
  std::vector<double> until;
  for (const WeighedFish& w : f.weighed) {
    double degree_days = 0.0;
    for (int day = 0; day < static_cast<int>(std::lround(static_cast<double>(w.at - from) / kDay)); ++day) {
      const auto found = days.find(day);
      degree_days += found == days.end() ? sum / known : found->second.first / found->second.second;
    }
    until.push_back(degree_days);
  }
  return until;
}

void grow(FishLives& f, const std::vector<Entry>& entries, const record::Context& context, double level) {
  std::stable_sort(f.weighed.begin(), f.weighed.end(),
                   [](const WeighedFish& a, const WeighedFish& b) { return a.at < b.at; });
  if (f.weighed.size() < 2 || static_cast<double>(f.weighed.back().at - f.weighed.front().at) < kDay) return;
  const double days = static_cast<double>(f.weighed.back().at - f.weighed.front().at) / kDay;
  f.growth_a_day = std::log(f.weighed.back().grams / f.weighed.front().grams) / days;
  const auto until = warmth(f, windows_in(entries, context.clock, "temperature", f.where).windows);
  if (until.empty() || !(until.back() > 0.0)) return;
  std::vector<double> roots;
  for (const WeighedFish& w : f.weighed) roots.push_back(std::cbrt(w.grams));
  f.thermal = 1000.0 * (roots.back() - roots.front()) / until.back();
  if (const auto line = science::line_fit(until, roots)) {
    const science::Interval i = line->slope_interval(level);
    f.thermal = 1000.0 * line->slope;
    f.thermal_interval = science::Interval{1000.0 * i.low, 1000.0 * i.high};
  }
  if (f.days_without_warmth > 0.0)
    f.taken.push_back(
        fmt::format("{}: {:.0f} days between the weighings have no whole-day min and max; the mean of the "
                    "others stands for them",
                    f.where, f.days_without_warmth));
}

}  // namespace

bool is_death_of_fish(const Entry& e, const record::Context& context) {
  if (e.kind != record::Kind::deed || e.what != "died" || e.where.find("bed.") != std::string::npos) return false;
  return e.subject.empty() || record::is_fish(context, e.subject) || !record::is_crop(e.subject, context.crops);
}

std::vector<FishLives> fish_lives(const std::vector<Entry>& entries, const record::Context& context,
                                  const std::vector<FishAtStart>& at_start, double level) {
  if (entries.empty()) return {};
  record::Moment begun = entries.front().from;
  for (const Entry& e : entries) begun = std::min(begun, e.from);
  std::vector<FishLives> all;
  for (auto& [where, tank] : tanks_in(entries, context)) {
    FishLives f;
    f.where = where;
    f.weighed = tank.weighed;
    if (std::erase_if(f.weighed, [&](const WeighedFish& w) { return w.at < tank.came; }) > 0)
      f.taken.push_back(fmt::format("{}: growth only since {}, when others came", where,
                                    context.clock.local(Instant{static_cast<double>(tank.came) / 1000.0}).date.text()));
    count(f, tank, at_start, begun, level);
    grow(f, entries, context, level);
    all.push_back(std::move(f));
  }
  return all;
}

}  // namespace leat::answers
