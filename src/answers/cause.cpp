#include "answers/cause.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/words/letters.h"
#include "learn/of_fish.h"
#include "learn/present.h"
#include "model/flow/water_run.h"
#include "science/statistics/two_groups.h"

namespace leat::answers {
namespace {

using learn::Deed;
using learn::History;
using learn::kDay;
using learn::kHour;
using record::Moment;

/// Nitrogen in a fish, of its live mass (common practice: 2.7 %).
constexpr double kNitrogenOfFish = 0.027;
/// Spread of the masses of one batch where it was not said (common practice).
constexpr double kSpread = 0.2;

/// Deaths of fish, in the order of time.
std::vector<const Deed*> deaths_in(const History& history) {
  std::vector<const Deed*> deaths;
  for (const Deed* d : history.done("died"))
    if (d->count.value_or(0.0) > 0.0 && learn::is_death_of_fish(*d, history)) deaths.push_back(d);
  return deaths;
}

/// The deaths that belong together, half a day around the ones asked for: near a time, else the last at which several
/// died, else the last.
std::vector<const Deed*> deaths_asked(const History& history, const CauseRequest& r) {
  const Deed* about = nullptr;
  const auto all = deaths_in(history);
  for (const Deed* d : all) {
    if (!r.found) {
      if (!about || *d->count >= 2.0 || *about->count < 2.0) about = d;
    } else if (!about ||
               std::abs(static_cast<double>(d->at - *r.found)) < std::abs(static_cast<double>(about->at - *r.found))) {
      about = d;
    }
  }
  std::vector<const Deed*> together;
  for (const Deed* d : all)
    if (about && std::abs(static_cast<double>(d->at - about->at)) <= 12.0 * static_cast<double>(kHour))
      together.push_back(d);
  return together;
}

std::optional<Weighed> mass_of_dead(const std::vector<const Deed*>& deaths) {
  Weighed w;
  for (const Deed* d : deaths) {
    if (!d->grams_each) continue;
    w.mean += *d->grams_each * *d->count;
    w.count += *d->count;
  }
  if (w.count <= 0.0) return std::nullopt;
  w.mean /= w.count;
  return w;
}

/// Those alive that were weighed within a week after.
std::optional<Weighed> mass_of_alive(const History& history, Moment found) {
  for (const Deed* d : history.done("weighed"))
    if (d->grams_each && d->at >= found - kHour && d->at <= found + 7 * kDay)
      return Weighed{d->count.value_or(1.0), *d->grams_each, 0.0};
  return std::nullopt;
}

void take_masses(const History& history, const std::vector<const Deed*>& deaths, const CauseRequest& r,
                 CauseAnswer& a) {
  Toll& t = a.toll;
  t.dead_mass = r.dead ? r.dead : mass_of_dead(deaths);
  t.alive_mass = r.alive ? r.alive : mass_of_alive(history, a.found);
  if (!t.dead_mass || !t.alive_mass) {
    a.assumed.push_back(
        "nothing of who died first, as the dead and those alive were not both weighed: \"33 dead, 82 g each\", "
        "\"weighed 25 fish 66 g each\"");
    return;
  }
  for (auto* w : {&*t.dead_mass, &*t.alive_mass})
    if (w->deviation <= 0.0) {
      w->deviation = kSpread * w->mean;
      a.assumed.push_back(
          fmt::format("a spread of {:.0f} g about {:.0f} g, a fifth, as it was not said", w->deviation, w->mean));
    }
  if (t.dead_mass->count < 2.0 || t.alive_mass->count < 2.0) return;
  const science::Sample dead{t.dead_mass->count, t.dead_mass->mean, t.dead_mass->deviation},
      alive{t.alive_mass->count, t.alive_mass->mean, t.alive_mass->deviation};
  const auto difference = science::mean_difference_welch(dead, alive, 0.95);
  t.difference = difference.difference;
  t.t = difference.difference / difference.standard_error;
}

void take_toll(const model::Loop& loop, const History& history, const std::vector<const Deed*>& deaths,
               const CauseRequest& r, CauseAnswer& a) {
  a.found = deaths.front()->at;
  a.found_to = deaths.back()->at;
  for (const Deed* d : deaths) {
    a.deaths.push_back(d->entry);
    a.toll.dead += d->count.value_or(0.0);
  }
  // Fish that were there just before: the loop file's, less what died and plus what came since its chapter began.
  const History before = history.until(a.found - 1);
  learn::Present then = learn::present_of(before, loop.site.place.clock, a.found - 1);
  for (const model::FishGroup& g : learn::loop_at_present(loop, before, then).fish) a.toll.before += g.count;
  if (a.toll.before >= a.toll.dead && a.toll.before > 0.0)
    a.toll.survival = science::share_clopper_pearson(a.toll.before - a.toll.dead, a.toll.before, 0.95);
  else
    a.assumed.push_back("nothing of survival, as more died than the loop file and the record have");
  take_masses(history, deaths, r, a);
}

void take_warmth(Scene& s) {
  const auto readings = s.readings("temperature", 72.0);
  s.celsius = readings.empty() ? s.loop.water.temperature.celsius() : readings.back()->value();
}

Standing standing_of(const Cause& c) {
  const int score = c.score();
  const bool tested =
      std::any_of(c.evidence.begin(), c.evidence.end(), [](const Evidence& e) { return std::abs(e.weight) >= 2; });
  if (score >= 3) return Standing::fits;
  if (score >= 1) return tested ? Standing::part : Standing::open;
  return score <= -2 ? Standing::unlikely : Standing::open;
}

void say_what_now(const Scene& s, CauseAnswer& a) {
  if (a.toll.dead_mass) {
    const double grams = a.toll.dead * a.toll.dead_mass->mean, nitrogen = kNitrogenOfFish * grams;
    a.do_now.push_back(
        fmt::format("take the dead out today: {:.1f} kg hold {:.0f} g of nitrogen, up to {:.0f} mg/L in {:.0f} L",
                    1e-3 * grams, nitrogen, 1e3 * nitrogen / s.water_litres, s.water_litres));
  } else {
    a.do_now.push_back("take the dead out today and weigh them: what they hold goes into the water");
  }
  a.do_now.push_back(
      "air on, no feed, and a word in the record about gills, skin and colour of the water: that cannot be found out "
      "later");
  if (a.toll.before > 0.0 && a.toll.dead > 0.2 * a.toll.before)
    a.do_now.push_back("mark this date on every plot of a crop trial: fewer fish feed the beds less from here on");
}

}  // namespace

int Cause::score() const {
  return std::accumulate(evidence.begin(), evidence.end(), 0,
                         [](int sum, const Evidence& e) { return sum + e.weight; });
}

double Scene::hour_found() const {
  return clock().local(Instant{1e-3 * static_cast<double>(answer.found)}).hour;
}

std::vector<const learn::Reading*> Scene::readings(std::string_view what, double hours_before,
                                                   double hours_after) const {
  std::vector<const learn::Reading*> found;
  for (const learn::Reading* r : history.of(what)) {
    const double hours = static_cast<double>(r->at - answer.found) / static_cast<double>(kHour);
    if (hours >= -hours_before && hours <= hours_after && r->high < 1e8) found.push_back(r);
  }
  return found;
}

std::vector<const Deed*> Scene::deeds(std::string_view what, double hours_before) const {
  std::vector<const Deed*> found;
  for (const Deed* d : history.done(what)) {
    const double hours = static_cast<double>(answer.found - d->at) / static_cast<double>(kHour);
    if (hours >= 0.0 && hours <= hours_before) found.push_back(d);
  }
  return found;
}

std::vector<std::int64_t> Scene::said(std::initializer_list<std::string_view> any, double hours_before) const {
  std::vector<std::int64_t> found;
  const auto look = [&](std::int64_t entry, Moment at, const std::string& typed) {
    const std::string text = words::in_small_letters(typed);
    const double hours = static_cast<double>(answer.found - at) / static_cast<double>(kHour);
    if (hours > hours_before || hours < -24.0) return;
    if (std::any_of(any.begin(), any.end(), [&](std::string_view w) { return text.find(w) != std::string::npos; }))
      found.push_back(entry);
  };
  for (const record::Entry& e : history.remarks) look(e.number, e.from, e.said);
  for (const Deed& d : history.deeds) look(d.entry, d.at, d.said);
  return found;
}

CauseAnswer cause(const model::Loop& loop, const std::vector<record::Entry>& entries, const CauseRequest& request) {
  CauseAnswer a;
  a.loop_name = loop.name;
  const History history = learn::history_of(entries).until(request.now);
  const auto deaths = deaths_asked(history, request);
  if (deaths.empty()) {
    a.said =
        "no death of fish is in the record; note it first, such as: leat note \"33 dead, 82 g each\" --at \"06:40\"";
    return a;
  }
  take_toll(loop, history, deaths, request, a);
  if (request.found && std::abs(static_cast<double>(a.found - *request.found)) > 2.0 * static_cast<double>(kDay))
    a.assumed.push_back("the death nearest to the time that was said, as none was noted within two days of it");
  Scene scene{loop, history, request, a, 1e3 * model::water_in(loop, model::levels_at_rest(loop)).si(), 12.0};
  take_warmth(scene);
  for (const auto& of : {oxygen_ran_out, ammonia_poisoned, nitrite_poisoned, chlorine_poisoned, water_was_changed,
                         bloom_was_toxic, water_was_warm, carbon_dioxide_was_high, gas_was_in_excess, metal_was_in_it,
                         illness_took_them, animals_or_handling}) {
    Cause c = of(scene);
    c.standing = standing_of(c);
    std::stable_sort(c.evidence.begin(), c.evidence.end(),
                     [](const Evidence& x, const Evidence& y) { return x.weight > y.weight; });
    a.causes.push_back(std::move(c));
  }
  std::stable_sort(a.causes.begin(), a.causes.end(), [](const Cause& x, const Cause& y) {
    return x.standing != y.standing ? x.standing < y.standing : x.score() > y.score();
  });
  for (const Cause& c : a.causes)
    if (c.standing == Standing::open) a.excluded_not.push_back(c.name);
  say_what_now(scene, a);
  return a;
}

}  // namespace leat::answers
