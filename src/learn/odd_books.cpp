#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "learn/kit.h"
#include "learn/odd.h"
#include "science/carbonate/constants.h"
#include "science/water/dosing.h"

namespace leat::learn {
namespace {

/// Nitrogen that a kilogram of feed leaves as ammonia, g: 31 g of ammonia (Clark, Harman & Forster 1985) at least; at
/// most all that its protein holds.
constexpr double kLeastAmmonia = 25.5, kNitrogenOfProtein = 0.16;
/// What beds take at most, g of N for a m2 planted and day: 36 g of feed of 45 % protein (FAO 589, scaled), rounded up.
constexpr double kBedsTake = 2.0;
/// Alkalinity as CaCO3 that a gram of nitrogen costs from feed to nitrate: 7.14 less the 3.57 that excretion gives
/// back.
constexpr double kAlkalinityOfNitrogen = 3.57;

double days_between(Moment a, Moment b) {
  return static_cast<double>(b - a) / static_cast<double>(kDay);
}

/// Grams of feed and how many meals were noted.
struct Feed {
  double grams = 0.0;
  int meals = 0;
  std::vector<std::int64_t> entries;
};
Feed fed_between(const History& history, Moment from, Moment to) {
  Feed f;
  for (const Deed& d : history.deeds_between(from, to)) {
    if (d.what != "fed" || !d.grams) continue;
    f.grams += *d.grams;
    ++f.meals;
    f.entries.push_back(d.entry);
  }
  return f;
}

bool happened_between(const History& history, std::string_view what, Moment from, Moment to) {
  const auto within = history.deeds_between(from, to);
  return std::any_of(within.begin(), within.end(), [&](const Deed& d) { return d.what == what; });
}

/// Alkalinity that was dosed, g as CaCO3; nothing when something was dosed that nobody here knows.
std::optional<double> base_between(const History& history, Moment from, Moment to) {
  struct Known {
    std::string_view words, formula;
  };
  static constexpr std::array known = {Known{"potassium bicarbonate", "KHCO3"}, Known{"sodium bicarbonate", "NaHCO3"},
                                       Known{"baking soda", "NaHCO3"},          Known{"bicarbonate of soda", "NaHCO3"},
                                       Known{"potassium carbonate", "K2CO3"},   Known{"calcium hydroxide", "Ca(OH)2"},
                                       Known{"hydrated lime", "Ca(OH)2"},       Known{"calcium carbonate", "CaCO3"}};
  static constexpr std::array harmless = {std::string_view("iron"), std::string_view("salt"), std::string_view("epsom"),
                                          std::string_view("chelat")};
  double grams = 0.0;
  for (const Deed& d : history.deeds_between(from, to)) {
    if (d.what != "dosed") continue;
    if (std::any_of(harmless.begin(), harmless.end(),
                    [&](std::string_view h) { return d.subject.find(h) != std::string::npos; }))
      continue;
    const auto found = std::find_if(known.begin(), known.end(), [&](const Known& k) {
      return d.subject.find(k.words) != std::string::npos || d.subject == k.formula;
    });
    const auto reagent = found == known.end() ? std::nullopt : science::find_reagent(found->formula);
    if (!reagent || !d.grams) return std::nullopt;
    const double mole = 1e3 * science::molar_mass_of(*reagent).si();
    grams += *d.grams / mole * std::abs(reagent->equivalents) * 50.04;
  }
  return grams;
}

/// A rise of nitrate that all feed together cannot give.
void nitrate_without_feed(const std::vector<const Reading*>& readings, const History& history, const Expected& expected,
                          std::vector<Oddity>& found) {
  const double step = step_of(readings);
  const bool feeds_are_noted = history.done("fed").size() >= 5;
  for (std::size_t i = 1; i < readings.size() && feeds_are_noted; ++i) {
    for (std::size_t k = i; k-- > 0;) {
      const double days = days_between(readings[k]->at, readings[i]->at);
      if (days > 45.0) break;
      const double rise = between(*readings[i], step).low - between(*readings[k], step).high;
      if (rise <= 0.0) continue;
      const Feed feed = fed_between(history, readings[k]->at, readings[i]->at);
      // Sludge of the month before rots on.
      const Feed earlier = fed_between(history, readings[k]->at - 30 * kDay, readings[k]->at);
      const double most = 1e3 * kNitrogenOfProtein * expected.protein * 1e-3 * (feed.grams + 0.3 * earlier.grams) *
                          1e3 / expected.water;
      if (rise <= 1.2 * most + 3.0) continue;
      Oddity o{"nitrate_without_feed", Weight::drift, readings[i]->where, readings[k]->at, readings[i]->at};
      o.what = fmt::format("nitrate up by at least {:.0f} mg/L as N in {:.0f} days", rise, days);
      o.reason = fmt::format(
          "{:.0f} g of feed noted in that time can give {:.1f} at most: feed was not noted, something "
          "rots, or the kit or its unit is not what it was",
          feed.grams, most);
      o.action = "look for a dead fish and for sludge under the media guards; test the new water for nitrate too";
      o.rests_on = {readings[k]->entry, readings[i]->entry};
      found.push_back(std::move(o));
      return;
    }
  }
}

/// Feed whose nitrogen shows up neither as nitrate nor in beds, in water that was changed, or as gas.
void nitrogen_nowhere(const std::vector<const Reading*>& readings, const History& history, const Expected& expected,
                      std::vector<Oddity>& found) {
  const double step = step_of(readings);
  for (std::size_t i = 1; i < readings.size(); ++i)
    for (std::size_t k = 0; k < i; ++k) {
      const Moment from = readings[k]->at, to = readings[i]->at;
      const double days = days_between(from, to);
      if (days < 14.0 || days > 45.0 || happened_between(history, "changed_water", from, to)) continue;
      const Feed feed = fed_between(history, from, to);
      const double nitrogen = 1e-3 * kLeastAmmonia * feed.grams * (expected.protein / 0.45);
      const double beds = kBedsTake * expected.planted * days;
      const double in_water =
          1e-3 * expected.water * std::max(0.0, between(*readings[i], step).high - between(*readings[k], step).low);
      // Up to three tenths may leave as gas from sludge (common practice).
      if (0.7 * nitrogen <= 1.1 * (beds + in_water) + 1.0) continue;
      Oddity o{"nitrogen_nowhere", Weight::drift, readings[i]->where, from, to};
      o.what = fmt::format("{:.0f} g of feed in {:.0f} days, and nitrate did not follow", feed.grams, days);
      o.reason = fmt::format(
          "at least {:.0f} g of nitrogen went in; water and beds can hold {:.0f} g of it: feed left "
          "uneaten, water lost and made good, or a kit that no longer turns",
          nitrogen, beds + in_water);
      o.action =
          "shake the second bottle of the nitrate kit hard and test once more beside a fresh kit; then look for "
          "feed on the floor";
      o.rests_on = {readings[k]->entry, readings[i]->entry};
      found.push_back(std::move(o));
      return;
    }
}

/// Alkalinity that stands still although nitrifying must have eaten of it.
void hardness_stands_still(const std::vector<const Reading*>& readings, const History& history,
                           const Expected& expected, std::vector<Oddity>& found) {
  if (expected.limestone) return;
  const double step = step_of(readings);
  for (std::size_t i = 1; i < readings.size(); ++i)
    for (std::size_t k = 0; k < i; ++k) {
      const Moment from = readings[k]->at, to = readings[i]->at;
      const double days = days_between(from, to);
      if (days < 7.0 || days > 35.0) continue;
      const auto base = base_between(history, from, to);
      if (!base || happened_between(history, "changed_water", from, to)) continue;
      const Feed feed = fed_between(history, from, to);
      const double nitrogen = 1e-3 * 0.85 * kLeastAmmonia * feed.grams * (expected.protein / 0.45);
      const double acid = kAlkalinityOfNitrogen * std::max(0.0, nitrogen - kBedsTake * expected.planted * days);
      double tops = 0.0;
      for (const Deed& d : history.deeds_between(from, to))
        if (d.what == "topped_up") tops += 1e-3 * d.litres.value_or(0.0) * expected.source_alkalinity;
      const double must_fall = 1e3 * (acid - *base - tops) / expected.water;
      const double fell = between(*readings[k], step).high - between(*readings[i], step).low;
      if (must_fall - fell <= std::max(10.0, step)) continue;
      Oddity o{"hardness_stands_still", Weight::drift, readings[i]->where, from, to};
      o.what = fell < 0.0 ? fmt::format("KH rose by at least {:.0f} mg/L as CaCO3 in {:.0f} days", -fell, days)
                          : fmt::format("KH fell by at most {:.0f} mg/L as CaCO3 in {:.0f} days", fell, days);
      const std::string due = must_fall < -0.5  ? fmt::format("risen by at most {:.0f} mg/L", -must_fall)
                              : must_fall < 0.5 ? "stayed as it was, or fallen"
                                                : fmt::format("fallen by at least {:.0f} mg/L", must_fall);
      o.reason = fmt::format(
          "with {:.0f} g of feed and the base that was noted it should have {}: the nitrifiers may not be working, "
          "limestone or shell dissolves, base was not noted, or the kit is past its time",
          feed.grams, due);
      o.action = "test ammonia and nitrite today; a drop of vinegar on a stone tells limestone";
      o.rests_on = {readings[k]->entry, readings[i]->entry};
      found.push_back(std::move(o));
      return;
    }
}

/// Carbon dioxide that pH and KH of one hour make together, at the least that both kits allow.
void carbon_dioxide(const History& history, const Expected& expected, std::vector<Oddity>& found) {
  Moment told = -1;
  for (const Reading* kh : history.of("alkalinity"))
    for (const Reading* ph : history.of("pH", kh->where)) {
      if (std::abs(days_between(kh->at, ph->at)) > 0.125 || (told >= 0 && kh->at - told < 7 * kDay)) continue;
      const Warmth* w = expected.warmth_of(kh->where);
      const auto warm = Temperature<>::from_celsius(w && w->covers(kh->at) ? w->at(kh->at) : 12.0);
      const double pk = science::carbonic_pk1(warm).si();
      const double least = between(*kh, 17.85).low / 50.04 * std::pow(10.0, pk - (ph->high + 0.2)) * 44.01;
      if (least <= 20.0) continue;
      told = kh->at;
      Oddity o{"carbon_dioxide", Weight::danger, kh->where, kh->at, std::max(kh->at, ph->at)};
      o.what = fmt::format("pH {:.1f} with KH {:.0f} mg/L as CaCO3: at least {:.0f} mg/L of carbon dioxide",
                           ph->value(), kh->value(), least);
      o.reason = "over 20 mg/L trout breathe hard; or one of the two kits is wrong";
      o.action =
          "shake a jar of it with air for two minutes and read its pH: if it rises by more than 0.5, splash and "
          "air before any base";
      o.rests_on = {kh->entry, ph->entry};
      found.push_back(std::move(o));
    }
}

}  // namespace

std::vector<Oddity> odd_books(const History& history, const Expected& expected) {
  std::vector<Oddity> found;
  for (const std::string& where : history.places_of("nitrate")) {
    const auto nitrate = history.of("nitrate", where);
    nitrate_without_feed(nitrate, history, expected, found);
    nitrogen_nowhere(nitrate, history, expected, found);
  }
  for (const std::string& where : history.places_of("alkalinity"))
    hardness_stands_still(history.of("alkalinity", where), history, expected, found);
  carbon_dioxide(history, expected, found);
  return found;
}

}  // namespace leat::learn
