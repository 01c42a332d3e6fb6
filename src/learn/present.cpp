#include "learn/present.h"

#include "learn/of_fish.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace leat::learn {
namespace {

using model::FishGroup;
using model::Loop;

struct Kind {
  std::string_view what;
  Moment good_for;
  std::string_view key, unit;
  int places;
};
/// Water warms and breathes within hours, its nitrogen and hardness move within days (common practice).
constexpr std::array kKinds = {Kind{"temperature", 36 * kHour, "temperature", "degC", 1},
                               Kind{"dissolved_oxygen", 12 * kHour, "dissolved_oxygen", "mg/L", 1},
                               Kind{"pH", 7 * kDay, "pH", "", 1},
                               Kind{"ammonia", 7 * kDay, "ammonia", "mg/L as N", 2},
                               Kind{"nitrite", 7 * kDay, "nitrite", "mg/L as N", 2},
                               Kind{"nitrate", 21 * kDay, "nitrate", "mg/L as N", 0},
                               Kind{"alkalinity", 14 * kDay, "alkalinity", "mg/L as CaCO3", 0}};

const Kind* kind_named(std::string_view what) {
  const auto found = std::find_if(kKinds.begin(), kKinds.end(), [&](const Kind& k) { return k.what == what; });
  return found == kKinds.end() ? nullptr : &*found;
}

std::string number(double value, const Kind& k) {
  return fmt::format("{:.{}f}{}{}", value, k.places, k.unit.empty() ? "" : " ", k.unit);
}

/// A reading without an upper end, "over 8", is no middle.
bool has_a_middle(const Reading& r) {
  return r.high < 1e8;
}

void take_readings(const History& history, Present& p) {
  for (const Kind& k : kKinds) {
    const auto all = history.of(k.what);
    if (all.empty()) continue;
    const Reading& r = *all.back();
    Taken t{"water." + std::string(k.key), number(r.value(), k), "", r.entry, true};
    const Moment age = p.now - r.at;
    t.used = age <= k.good_for && has_a_middle(r);
    t.reason = fmt::format("read {}, entry {}", age_words(age), r.entry);
    if (!has_a_middle(r))
      t.reason += "; it has no upper end, so it is not taken";
    else if (!t.used)
      t.reason += "; too old to stand for now";
    else if (r.high - r.low > 1e-9)
      t.reason += fmt::format("; the middle of {} to {}", number(r.low, k), number(r.high, k));
    if (!r.basis_said) t.reason += "; as N or as the ion was not said";
    if (t.used) p.readings.push_back(r);
    p.taken.push_back(std::move(t));
  }
}

/// The middle of the last min and max, for when nobody read what the water has now.
void take_min_and_max(const History& history, Present& p) {
  const Reading *low = nullptr, *high = nullptr;
  for (const Reading& r : history.readings)
    if (r.what == "temperature" && !r.extreme.empty()) (r.extreme == "min" ? low : high) = &r;
  const auto now = history.of("temperature");
  if (!low || !high || low->at != high->at || low->where != high->where || low->value() > high->value()) return;
  const Moment age = p.now - low->at;
  if (age > kKinds[0].good_for || (!now.empty() && low->at - now.back()->at <= 12 * kHour)) return;
  Reading r = *high;
  r.extreme.clear();
  r.low = low->value();
  r.high = high->value();
  std::erase_if(p.readings, [](const Reading& other) { return other.what == "temperature"; });
  std::erase_if(p.taken, [](const Taken& t) { return t.path == "water.temperature"; });
  p.readings.push_back(r);
  p.taken.insert(p.taken.begin(),
                 {"water.temperature", number(r.value(), kKinds[0]),
                  fmt::format("min and max read {}, entries {} and {}; the middle of {} to {}", age_words(age),
                              low->entry, high->entry, number(r.low, kKinds[0]), number(r.high, kKinds[0])),
                  high->entry, true});
}

Concentration<> moles(double mg_per_litre, double grams_per_mole) {
  return Concentration<>(mg_per_litre / grams_per_mole);
}

void set_water(const Present& p, model::WaterQuality& water) {
  if (const Reading* t = p.of("temperature")) {
    water.temperature = Temperature<>::from_celsius(t->value());
    water.temperature_said = true;
  }
  if (const Reading* pH = p.of("pH")) water.pH = pH->value();
  if (const Reading* r = p.of("dissolved_oxygen")) water.dissolved_oxygen = moles(r->value(), 31.998);
  if (const Reading* r = p.of("ammonia")) water.ammonia = moles(r->value(), 14.007);
  if (const Reading* r = p.of("nitrite")) water.nitrite = moles(r->value(), 14.007);
  if (const Reading* r = p.of("nitrate")) water.nitrate = moles(r->value(), 14.007);
  if (const Reading* r = p.of("alkalinity")) water.alkalinity = moles(r->value(), 50.04);
}

/// The fish of a group in the loop file of the last chapter, to see whether the file was changed since.
std::optional<double> count_in(const Chapter& chapter, const std::string& path) {
  Problems mistakes;
  const Loop loop = model::make_loop(model::read_description(chapter.description, "chapter", mistakes), mistakes);
  if (!mistakes.empty()) return std::nullopt;
  for (const FishGroup& g : loop.fish)
    if (g.path == path) return g.count;
  return std::nullopt;
}

struct FishDeeds {
  double died = 0.0, came = 0.0, left = 0.0;
  const Deed* weighed = nullptr;
  // Since they were weighed.
  double feed = 0.0, came_later = 0.0, grams_later = 0.0;
};

FishDeeds deeds_of(const std::string& tank, bool alone, const History& history, Moment since) {
  FishDeeds f;
  for (const Deed& d : history.deeds) {
    const bool here = d.where == tank || (alone && !d.where.starts_with("raft") && !d.where.starts_with("gravel"));
    const double count = d.count.value_or(0.0);
    if (d.what == "weighed" && here && d.grams_each) {
      f.weighed = &d;
      f.feed = f.came_later = f.grams_later = 0.0;
    }
    if (d.what == "fed" && here) f.feed += d.grams.value_or(0.0);
    if (d.what == "stocked" && here && d.grams_each) {
      f.came_later += count;
      f.grams_later += count * *d.grams_each;
    }
    if (d.at < since) continue;
    if (here && is_death_of_fish(d, history)) f.died += count;
    if (here && is_catch(d)) f.left += count;
    if (d.what == "stocked" && here) f.came += count;
    if (d.what == "moved" && d.towards == tank && !alone) f.came += count;
    if (d.what == "moved" && d.where == tank && !alone) f.left += count;
  }
  return f;
}

/// Feed to flesh where nothing better is known: trout at 1.2 g of feed for one of fish (common practice).
constexpr double kConversion = 1.2;

void set_mass(FishGroup& g, const FishDeeds& deeds, Present& p) {
  if (!deeds.weighed || g.count < 1.0) return;
  const double there = std::max(0.0, g.count - deeds.came_later), all = there + deeds.came_later;
  const double then = (there * *deeds.weighed->grams_each + deeds.grams_later) / all;
  const double gained = deeds.feed / kConversion / all;
  const Moment age = p.now - deeds.weighed->at;
  if (age > 120 * kDay) return;
  g.mass = Mass<>(1e-3 * (then + gained));
  std::string reason = fmt::format("weighed {}, entry {}", age_words(age), deeds.weighed->entry);
  if (deeds.came_later > 0.0) reason += fmt::format("; {:.0f} came since, noted with their mass", deeds.came_later);
  if (gained >= 0.5)
    reason +=
        fmt::format("; {:.0f} g then, and {:.0f} g more from the feed since at {} for one", then, gained, kConversion);
  p.taken.push_back({g.path + ".mass", fmt::format("{:.0f} g", then + gained), reason, deeds.weighed->entry, true});
}

void set_count(FishGroup& g, const FishDeeds& deeds, const Chapter& chapter, Present& p) {
  const double change = deeds.came - deeds.died - deeds.left;
  if (change == 0.0) return;
  const auto then = count_in(chapter, g.path);
  Taken t{g.path + ".count", fmt::format("{:.0f}", std::max(0.0, g.count + change)), "", chapter.entry, true};
  t.reason = fmt::format("{:.0f} in the loop file; since its chapter {:.0f} died, {:.0f} came, {:.0f} left", g.count,
                         deeds.died, deeds.came, deeds.left);
  if (!then || std::abs(*then - g.count) > 0.5) {
    t.used = false;
    t.value = fmt::format("{:.0f}", g.count);
    t.reason = chapter.description.empty()
                   ? fmt::format(
                         "its chapter, entry {}, keeps no loop file, so deaths and moves noted are taken as in "
                         "the count of this one",
                         chapter.entry)
                   : "the loop file's count was changed since the chapter began, so deaths and moves noted are taken "
                     "as in it";
  } else {
    g.count = std::max(0.0, g.count + change);
  }
  p.taken.push_back(std::move(t));
}

}  // namespace

const Reading* Present::of(std::string_view what) const {
  for (const Reading& r : readings)
    if (r.what == what) return &r;
  return nullptr;
}

Moment good_for(std::string_view what) {
  const Kind* k = kind_named(what);
  return k ? k->good_for : 7 * kDay;
}

std::string age_words(Moment age) {
  const double minutes = static_cast<double>(age) / 60e3;
  if (minutes < 1.0) return "just now";
  if (minutes < 90.0) return fmt::format("{:.0f} min ago", minutes);
  if (minutes < 48.0 * 60.0) return fmt::format("{:.0f} h ago", minutes / 60.0);
  return fmt::format("{:.0f} days ago", minutes / 1440.0);
}

Present present_of(const History& history, const Clock& clock, Moment now) {
  Present p;
  p.now = now;
  const History known = history.until(now);
  take_readings(known, p);
  take_min_and_max(known, p);
  const CivilDate today = clock.local(Instant{1e-3 * static_cast<double>(now)}).date;
  for (const Deed& d : known.deeds) {
    if (d.what == "fed" && d.grams.value_or(0.0) > 0.0) {
      p.last_fed = d.at;
      if (clock.local(Instant{1e-3 * static_cast<double>(d.at)}).date == today) p.fed_today += *d.grams;
    }
    if (d.what == "power") p.power = d;
    if (d.what == "pump") p.pump = d;
  }
  return p;
}

Loop loop_at_present(const Loop& described, const History& history, Present& p) {
  Loop loop = described;
  set_water(p, loop.water);
  const History known = history.until(p.now);
  for (FishGroup& g : loop.fish) {
    if (known.chapters.empty()) break;
    const Chapter& chapter = known.chapters.back();
    const bool alone = loop.fish.size() == 1;
    const std::string& tank = loop.vessels[static_cast<std::size_t>(g.vessel)].path;
    const FishDeeds deeds = deeds_of(tank, alone, known, chapter.at);
    set_count(g, deeds, chapter, p);
    set_mass(g, deeds, p);
  }
  for (const Taken& t : p.taken) {
    std::erase_if(loop.assumptions, [&](const model::Assumption& a) { return t.used && a.path == t.path; });
    loop.assumptions.push_back({t.path, t.used ? t.value : "as the loop file says", "the record: " + t.reason});
  }
  return loop;
}

}  // namespace leat::learn
