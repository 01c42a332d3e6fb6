// Causes that lie in the water: oxygen, ammonia, nitrite, carbon dioxide, gas, warmth.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "answers/cause.h"
#include "answers/night.h"
#include "model/weather/hours.h"
#include "science/carbonate/constants.h"
#include "science/gas/nitrogen_gas.h"
#include "science/gas/oxygen_saturation.h"
#include "science/nitrogen/limits.h"
#include "science/nitrogen/unionised_ammonia.h"
#include "science/water/pressure.h"

namespace leat::answers {
namespace {

using learn::kHour;
using learn::Reading;

const Reading* lowest(const std::vector<const Reading*>& all) {
  const auto found = std::min_element(all.begin(), all.end(), [](auto a, auto b) { return a->value() < b->value(); });
  return found == all.end() ? nullptr : *found;
}
const Reading* highest(const std::vector<const Reading*>& all) {
  const auto found = std::max_element(all.begin(), all.end(), [](auto a, auto b) { return a->value() < b->value(); });
  return found == all.end() ? nullptr : *found;
}

void by_size(const Scene& s, int large, int small, Cause& c) {
  const Toll& toll = s.answer.toll;
  if (!toll.t) return;
  if (*toll.t > 2.0 && large != 0)
    c.evidence.push_back({large, fmt::format("the large died first: {:.0f} g more than those alive (t = {:.1f})",
                                             *toll.difference, *toll.t)});
  if (*toll.t < -2.0 && small != 0)
    c.evidence.push_back({small, fmt::format("the small died first: {:.0f} g less than those alive (t = {:.1f})",
                                             -*toll.difference, *toll.t)});
}

/// Where the readings of the evening before led.
void by_the_evening(const Scene& s, Cause& c) {
  std::vector<const Reading*> evening;
  for (const Reading* r : s.readings("dissolved_oxygen", 16.0, 0.0)) {
    const double hour = s.clock().local(Instant{1e-3 * static_cast<double>(r->at)}).hour;
    if (hour >= 15.0 || hour < 3.0) evening.push_back(r);
  }
  if (evening.size() < 2 || evening[1]->at - evening[0]->at < kHour || s.hour_found() > 11.0) return;
  const auto hour = [&](record::Moment t) {
    return s.hour_found() + 24.0 - static_cast<double>(s.answer.found - t) / static_cast<double>(kHour);
  };
  NightRequest r;
  std::vector<std::int64_t> entries;
  for (const Reading* o : evening) {
    r.readings.push_back({hour(o->at), Density<>(1e-3 * o->value())});
    entries.push_back(o->entry);
  }
  r.temperature = Temperature<>::from_celsius(s.celsius);
  r.reaeration = s.request.reaeration;
  const CivilDate morning = s.clock().local(Instant{1e-3 * static_cast<double>(s.answer.found)}).date;
  const double sunrise = s.clock().local(model::sun_frame(s.loop.site.place, morning).sunrise).hour;
  r.dawn_hour = std::max(24.0 + s.request.dawn_hour.value_or(sunrise), hour(evening.back()->at) + 0.5);
  const NightAnswer n = night(s.loop, r);
  const double dawn = 1e3 * n.dawn.si();
  if (n.by_reaeration)
    c.evidence.push_back({n.chance_deadly > 0.1 ? 2
                          : n.chance_low > 0.5  ? 1
                                                : -2,
                          fmt::format("the evening's readings led to {:.1f} mg/L at dawn (5 to 95 %: {:.1f} to {:.1f}; "
                                      "chance under 5: {:.0f} %, under "
                                      "3: {:.0f} %)",
                                      dawn, 1e3 * n.dawn_low.si(), 1e3 * n.dawn_high.si(), 100.0 * n.chance_low,
                                      100.0 * n.chance_deadly),
                          entries});
  else
    c.evidence.push_back(
        {dawn < 3.0   ? 2
         : dawn < 5.0 ? 1
                      : -2,
         fmt::format("the evening's readings led to about {:.1f} mg/L at dawn, by the line that knows no air", dawn),
         entries});
}

}  // namespace

Cause oxygen_ran_out(const Scene& s) {
  Cause c{"oxygen",
          "oxygen ran out",
          {},
          "oxygen at 03 to 06 h of the next nights; pH at dusk less pH at dawn",
          Standing::open};
  if (const Reading* low = lowest(s.readings("dissolved_oxygen", 12.0))) {
    if (low->value() < 3.0)
      c.evidence.push_back({3, fmt::format("oxygen was read at {:.1f} mg/L", low->value()), {low->entry}});
    else if (low->value() < 5.0)
      c.evidence.push_back({1, fmt::format("oxygen was read at {:.1f} mg/L", low->value()), {low->entry}});
    else if (s.answer.found - low->at < 3 * kHour &&
             s.hour_found() - static_cast<double>(s.answer.found - low->at) / static_cast<double>(kHour) < 7.0)
      c.evidence.push_back(
          {-3, fmt::format("oxygen was read at {:.1f} mg/L within three hours of it", low->value()), {low->entry}});
  }
  by_the_evening(s, c);
  by_size(s, 3, -2, c);
  if (s.hour_found() >= 3.0 && s.hour_found() <= 9.0)
    c.evidence.push_back({1, "found at dawn, when oxygen is lowest", s.answer.deaths});
  if (s.hour_found() >= 11.0 && s.hour_found() <= 18.0 && s.answer.toll.dead > 0)
    c.evidence.push_back({-1, "found by day", s.answer.deaths});
  const auto gasping = s.said({"gasp", "piping", "at the surface"});
  if (!gasping.empty()) c.evidence.push_back({2, "fish gasped", gasping});
  for (const char* what : {"power", "pump"})
    for (const learn::Deed* d : s.deeds(what, 24.0))
      if (d->subject == "off") c.evidence.push_back({3, fmt::format("the {} was off", what), {d->entry}});
  const auto green = s.said({"pea soup", "green water", "bloom", "water is green"});
  if (!green.empty()) c.evidence.push_back({1, "the water was green: it breathes at night", green});
  return c;
}

Cause ammonia_poisoned(const Scene& s) {
  Cause c{"ammonia", "un-ionised ammonia", {}, "ammonia and pH at 15 h; gills", Standing::open};
  const Reading *tan = highest(s.readings("ammonia", 72.0, 12.0)), *pH = highest(s.readings("pH", 48.0, 12.0));
  if (!tan || !pH) {
    c.settles = "ammonia now, and pH in the afternoon: neither says much without the other";
    return c;
  }
  const double share =
      science::unionised_ammonia_fraction(Temperature<>::from_celsius(s.celsius), Number<>(pH->value())).si();
  const double toxic = share * tan->value();
  const double acute =
      1e3 * science::ammonia_limit_acute_salmonids_1999(Number<>(std::clamp(pH->value(), 6.0, 9.5))).si();
  const std::string words = fmt::format("ammonia {:.2g} mg/L as N at pH {:.1f} is {:.1f} % un-ionised: {:.2g} mg/L",
                                        tan->value(), pH->value(), 100.0 * share, toxic);
  const std::vector entries{tan->entry, pH->entry};
  if (tan->value() > 2.0 * acute)
    c.evidence.push_back(
        {3, words + fmt::format("; the one-hour limit is {:.2g} mg/L in all (EPA 1999)", acute), entries});
  else if (tan->value() > acute)
    c.evidence.push_back(
        {2, words + fmt::format("; the one-hour limit is {:.2g} mg/L in all (EPA 1999)", acute), entries});
  else if (toxic > 14.007 * s.loop.limits.unionised_ammonia_high.si())
    c.evidence.push_back({1, words + ", over what they bear for long", entries});
  else
    c.evidence.push_back({-2, words + ", within what they bear for long", entries});
  if (s.hour_found() <= 9.0 && share > 0.1)
    c.evidence.push_back(
        {-1, "pH and with it the poison are highest in the afternoon, and they were found at dawn", s.answer.deaths});
  return c;
}

Cause nitrite_poisoned(const Scene& s) {
  Cause c{"nitrite", "nitrite", {}, "nitrite and chloride; gills, which turn brown", Standing::open};
  if (const Reading* r = highest(s.readings("nitrite", 72.0, 24.0))) {
    const std::string words = fmt::format("nitrite {:.2g} mg/L as N", r->high);
    // Trout grew less at 0.2 mg/L as NO2 and lived to 1 mg/L as NO2, 0.3 as N, at 10 mg/L of chloride (28 days, 2008).
    if (r->low > 1.0)
      c.evidence.push_back({3, words + ", three times what trout were seen to live with", {r->entry}});
    else if (r->low > 0.3)
      c.evidence.push_back({1, words + ", over what trout were seen to live with at little chloride", {r->entry}});
    else if (r->high <= 0.3)
      c.evidence.push_back(
          {r->high <= 0.15 ? -3 : -1, words + ": trout lived 28 days with 0.3 at little chloride", {r->entry}});
  }
  const auto brown = s.said({"brown gill", "chocolate"});
  if (!brown.empty()) c.evidence.push_back({3, "brown gills", brown});
  return c;
}

Cause water_was_warm(const Scene& s) {
  Cause c{"warmth", "warm water", {}, "the max of the thermometer", Standing::open};
  const learn::Reading* most = nullptr;
  for (const learn::Reading& r : s.history.readings)
    if (r.what == "temperature" && r.at <= s.answer.found + 3 * kHour && s.answer.found - r.at <= 48 * kHour &&
        (!most || r.value() > most->value()))
      most = &r;
  if (!most) return c;
  const std::string words = fmt::format("at most {:.1f} degC in the two days before", most->value());
  // Half die at 25 degC in 14 days, all at 26 (Huysman and others 2020); growers act at 22 to 25.
  if (most->value() >= 25.0)
    c.evidence.push_back({3, words + "; half of trout die at 25 within 14 days", {most->entry}});
  else if (most->value() >= 22.0)
    c.evidence.push_back({1, words + ", where trout suffer", {most->entry}});
  else
    c.evidence.push_back({-3, words, {most->entry}});
  return c;
}

Cause carbon_dioxide_was_high(const Scene& s) {
  Cause c{"carbon_dioxide",
          "carbon dioxide",
          {},
          "pH of a jar before and after two minutes of shaking with air",
          Standing::open};
  const auto pH = s.readings("pH", 48.0), kh = s.readings("alkalinity", 14.0 * 24.0);
  const Reading *low = lowest(pH), *alkalinity = kh.empty() ? nullptr : kh.back();
  if (!low) return c;
  const double pk = science::carbonic_pk1(Temperature<>::from_celsius(s.celsius)).si();
  const double per_milligram = std::pow(10.0, pk - low->value()) * 44.01 / 50.04;  // of CO2, for 1 mg/L as CaCO3
  if (alkalinity) {
    const double found = alkalinity->value() * per_milligram;
    c.evidence.push_back({found > 30.0   ? 2
                          : found > 20.0 ? 1
                                         : -2,
                          fmt::format("pH {:.1f} with KH {:.0f} mg/L as CaCO3 is {:.1f} mg/L of carbon dioxide",
                                      low->value(), alkalinity->value(), found),
                          {low->entry, alkalinity->entry}});
  } else if (300.0 * per_milligram < 20.0) {
    c.evidence.push_back(
        {-2,
         fmt::format("pH was never under {:.1f}: even very hard water then holds less than {:.0f} mg/L of it",
                     low->value(), 300.0 * per_milligram + 0.5),
         {low->entry}});
  }
  return c;
}

Cause gas_was_in_excess(const Scene& s) {
  Cause c{"gas",
          "gas in excess",
          {},
          "bubbles in fins and eyes; the suction joints of the pump under water",
          Standing::open};
  if (const Reading* most = highest(s.readings("dissolved_oxygen", 72.0))) {
    const auto warm = Temperature<>::from_celsius(s.celsius);
    const Pressure<> air = science::air_pressure_standard_atmosphere(s.loop.site.place.altitude);
    const double share = most->value() / (1e3 * science::oxygen_saturation_mass(warm, air).si());
    const double all = science::total_gas_pressure(Number<>(share), Number<>(1.0), warm, air).si();
    // No loss at 112 %, loss above 113 % in 30 days (Connor 1988).
    c.evidence.push_back(
        {all > 1.13 ? 2 : -1,
         fmt::format("oxygen at {:.0f} % of saturation makes {:.0f} % of all gas, and loss begins above 113 %",
                     100.0 * share, 100.0 * all),
         {most->entry}});
  }
  const auto bubbles = s.said({"bubbles in", "pop-eye", "pop eye", "bubbles on their"});
  if (!bubbles.empty()) c.evidence.push_back({3, "bubbles in fins or eyes", bubbles});
  return c;
}

Cause bloom_was_toxic(const Scene& s) {
  Cause c{"bloom_poison",
          "poison of a bloom",
          {},
          "a sample of the water, kept cold and dark, under a microscope; pH at 15 h",
          Standing::open};
  by_size(s, -1, 2, c);
  if (const Reading* pH = highest(s.readings("pH", 48.0, 12.0)))
    c.evidence.push_back(
        {pH->value() >= 9.5 ? 2 : -1,
         fmt::format("pH reached {:.1f}; such kills come at 9.5 and more (Meyer & Barclay 1990)", pH->value()),
         {pH->entry}});
  if (s.hour_found() >= 9.0 && s.hour_found() <= 17.0) c.evidence.push_back({1, "found by day", s.answer.deaths});
  const auto green = s.said({"pea soup", "green water", "bloom", "water is green", "scum"});
  if (!green.empty()) c.evidence.push_back({1, "there was a bloom", green});
  const auto lids = s.readings("lid_depth", 14.0 * 24.0);
  if (lids.size() >= 2 && lids.back()->value() < 0.7 * lids.front()->value())
    c.evidence.push_back(
        {1,
         fmt::format("lid depth fell from {:.0f} to {:.0f} cm", lids.front()->value(), lids.back()->value()),
         {lids.front()->entry, lids.back()->entry}});
  return c;
}

}  // namespace leat::answers
