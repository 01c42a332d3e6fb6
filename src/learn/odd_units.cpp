#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "learn/kit.h"
#include "learn/odd.h"
#include "learn/of_fish.h"

namespace leat::learn {
namespace {

/// What a number is multiplied by when its unit is mistaken.
struct Slip {
  std::string_view what;
  double factor;
  std::string_view words;
};
constexpr std::array kSlips = {Slip{"nitrate", 4.427, "NO3 for NO3-N, or the other way"},
                               Slip{"nitrite", 3.285, "NO2 for NO2-N, or the other way"},
                               Slip{"alkalinity", 17.85, "degrees for mg/L, or the other way"},
                               Slip{"hardness", 17.85, "degrees for mg/L, or the other way"}};

/// Water that was changed between two times, as a share of all of it.
double changed_share(const History& history, const Expected& expected, Moment from, Moment to) {
  double left = 1.0;
  for (const Deed& d : history.deeds_between(from, to))
    if (d.what == "changed_water")
      left *= 1.0 - std::clamp(d.share > 0.0 ? d.share : d.litres.value_or(0.0) / expected.water, 0.0, 0.95);
  return 1.0 - left;
}

/// How far a kind can really move between two readings, without saying how likely that is: nitrate by what all feed
/// holds or beds can take, others freely but for what the units say.
Between can_be(const Reading& before, const Between& was, const Reading& now, const History& history,
               const Expected& expected) {
  const double days = static_cast<double>(now.at - before.at) / static_cast<double>(kDay);
  const double left = 1.0 - changed_share(history, expected, before.at, now.at);
  double rise = 1e9, fall = 1e9;
  if (now.what == "nitrate") {
    double feed = 0.0;
    for (const Deed& d : history.deeds_between(before.at, now.at))
      if (d.what == "fed") feed += d.grams.value_or(0.0);
    const double usual = 0.02 * expected.fish * expected.mass_g * days;  // 2 % a day where feeds were not noted
    rise = 2.0 + 1e3 * 0.16 * expected.protein * std::max(feed, usual) / expected.water;
    fall = 2.0 + 1e3 * 2.0 * expected.planted * days / expected.water;  // 2 g of N for a m2 and day
  } else if (now.what == "alkalinity" || now.what == "hardness") {
    const auto since = history.deeds_between(before.at, now.at);
    const bool dosed = std::any_of(since.begin(), since.end(), [](const Deed& d) { return d.what == "dosed"; });
    if (!dosed) rise = 15.0 + 5.0 * days;
    fall = 10.0 + 12.0 * days;  // more acid than a crowded loop makes
  }
  return {std::max(0.0, was.low * left * 0.75 - fall), was.high * 1.33 + rise};
}

bool near_factor(double ratio, double factor, double relative_width) {
  const double apart = std::abs(std::abs(std::log(ratio)) - std::log(factor));
  return apart <= std::clamp(relative_width, 0.25, 0.6);
}

void slips_in(const Slip& slip, const std::string& where, const History& history, const Expected& expected,
              std::vector<Oddity>& found) {
  const auto readings = history.of(slip.what, where);
  const double step = step_of(readings);
  const Reading* before = nullptr;
  for (const Reading* r : readings) {
    if (before && r->value() > 0.0 && before->value() > 0.0) {
      const Between was = between(*before, step), is = between(*r, step);
      const Between may = can_be(*before, was, *r, history, expected);
      const bool beyond = is.high < may.low || is.low > may.high;
      const double width =
          0.5 * (std::min(2.0, is.width() / r->value()) + std::min(2.0, was.width() / before->value()));
      const bool fits = near_factor(r->value() / before->value(), slip.factor, width);
      const bool same_number =
          r->unit != before->unit && r->typed <= 1.6 * before->typed && before->typed <= 1.6 * r->typed;
      // The last colour of a chart stands for all beyond it: there only the words tell.
      const bool open = is.high > 1e8 && was.high > 1e8;
      const bool apart = is.high < was.low || is.low > was.high || open;
      if ((apart && fits && same_number) || (beyond && fits && slip.what != "nitrite")) {
        Oddity o{"unit_slip", Weight::wrong_number, where, before->at, r->at};
        o.what = fmt::format("{} {:g} {} after {:g} {}", slip.what, r->typed, r->unit, before->typed, before->unit);
        o.reason = fmt::format("that is {:.1f} times {}, and the units differ {:.1f} times: {}{}",
                               std::max(r->value() / before->value(), before->value() / r->value()),
                               r->value() > before->value() ? "as much" : "less", slip.factor, slip.words,
                               beyond ? "; feed, beds and doses noted cannot move it so far" : "");
        o.action = fmt::format("look at the leaflet of the kit, then: leat record --correct {} \"...\"", r->entry);
        o.rests_on = {before->entry, r->entry};
        found.push_back(std::move(o));
        continue;  // the next one is held against the last that fitted
      }
    }
    before = r;
  }
}

double middle_of(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values[values.size() / 2];
}

/// A meal that is far from all others, or more than fish can hold.
struct FarMeal {
  bool far = false;
  std::string reason;
};

FarMeal far_meal(double grams, const std::vector<double>& meals, double biomass) {
  // Ten per cent of their mass in one meal is more than any trout takes in a day (common practice).
  const bool too_much = biomass > 0.0 && grams > 0.1 * biomass;
  const std::string weigh = fmt::format("the fish weigh {:.1f} kg together and cannot hold that", 1e-3 * biomass);
  if (meals.size() < 5) return {too_much, weigh};
  const double usual =
      middle_of({meals.end() - static_cast<std::ptrdiff_t>(std::min<std::size_t>(20, meals.size())), meals.end()});
  // Cold water takes appetite to nothing and gives it back; a slip is a thousand times, or more than 3 % in one meal.
  const bool more = grams > 8.0 * usual && (biomass <= 0.0 || grams > 0.03 * biomass);
  const bool less = usual > 5.0 && grams < usual / 300.0;
  const std::string usually = fmt::format("the meals before were about {:.0f} g: kg for g, or scoops", usual);
  return {too_much || more || less, too_much ? usually + "; " + weigh : usually};
}

void feed_slips(const History& history, const Expected& expected, std::vector<Oddity>& found) {
  std::vector<double> meals;
  for (const Deed* d : history.done("fed")) {
    if (!d->grams || *d->grams <= 0.0) continue;
    const FarMeal meal = far_meal(*d->grams, meals, expected.fish * expected.mass_g);
    if (!meal.far) {
      meals.push_back(*d->grams);
      continue;
    }
    Oddity o{"feed_unit", Weight::wrong_number, d->where, d->at, d->at};
    o.what = fmt::format("fed {:g} {}", d->typed, d->unit);
    o.reason = meal.reason;
    o.action = fmt::format(
        "if it was typed wrong: leat record --correct {} \"fed ... g\". If they got it, net out what "
        "is left and watch oxygen",
        d->entry);
    o.rests_on = {d->entry};
    found.push_back(std::move(o));
  }
}

/// Each for together: mean masses that differ by the count.
void weight_slips(const History& history, const Expected& expected, std::vector<Oddity>& found) {
  double before = expected.mass_g;
  std::int64_t entry = 0;
  Moment at = 0;
  for (const Deed* d : history.done("weighed")) {
    if (!d->grams_each || !d->count || *d->count < 5.0) continue;
    if (others_came_or_went(history, at, d->at)) before = 0.0;
    at = d->at;
    const double ratio = *d->grams_each / std::max(1e-9, before);
    if (before > 0.0 && near_factor(ratio, *d->count, 0.45)) {
      Oddity o{"each_or_together", Weight::wrong_number, d->where, d->at, d->at};
      o.what = fmt::format("weighed {:.0f}: {:.1f} g each", *d->count, *d->grams_each);
      o.reason = fmt::format("before it was {:.0f} g, and the two differ as one fish from {:.0f}: each or together?",
                             before, *d->count);
      o.action = fmt::format("leat record --correct {} \"weighed {:.0f} fish {:g} {} ...\" with each or together",
                             d->entry, *d->count, d->typed, d->unit);
      o.rests_on = entry ? std::vector{entry, d->entry} : std::vector{d->entry};
      found.push_back(std::move(o));
      continue;
    }
    before = *d->grams_each;
    entry = d->entry;
  }
}

}  // namespace

std::vector<Oddity> odd_units(const History& history, const Expected& expected) {
  std::vector<Oddity> found;
  for (const Slip& slip : kSlips)
    for (const std::string& where : history.places_of(slip.what)) slips_in(slip, where, history, expected, found);
  feed_slips(history, expected, found);
  weight_slips(history, expected, found);
  return found;
}

}  // namespace leat::learn
