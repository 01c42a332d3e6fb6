// What cannot wait: by the last readings, by what was noted of the power, and by the model for the coming night.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "answers/drawdown.h"
#include "answers/night.h"
#include "answers/night_ahead.h"
#include "answers/round.h"
#include "model/flow/water_run.h"
#include "model/weather/hours.h"
#include "record/when.h"
#include "science/nitrogen/unionised_ammonia.h"

namespace leat::answers {
namespace {

using learn::kDay;
using learn::kHour;
using learn::Reading;
using record::Moment;

double mg(Density<> d) {
  return 1e3 * d.si();
}
double oxygen_low_mg(const model::Loop& loop) {
  return 31.998 * loop.limits.oxygen_low.si();
}
const Reading* fresh(const RoundGround& g, const char* what, Moment age) {
  const Reading* r = g.present.of(what);
  return r && g.present.now - r->at <= age ? r : nullptr;
}

void oxygen_now(const RoundGround& g, std::vector<Urgent>& found) {
  const Reading* r = fresh(g, "dissolved_oxygen", 6 * kHour);
  if (!r || r->value() >= oxygen_low_mg(g.loop)) return;
  found.push_back({"oxygen_now",
                   fmt::format("oxygen {:.1f} mg/L, under {:.1f}", r->value(), oxygen_low_mg(g.loop)),
                   fmt::format("read {}", learn::age_words(g.present.now - r->at)),
                   "air and splash now, no feed; then look at flow and pump",
                   std::nullopt,
                   {r->entry}});
}

/// Two readings of this evening, three hours apart or so: where they lead before dawn.
bool night_by_readings(const RoundGround& g, std::vector<Urgent>& found) {
  NightRequest r;
  const Moment noon = g.clock().local(Instant{1e-3 * static_cast<double>(g.present.now)}).hour < 12.0
                          ? g.at(g.today().plus_days(-1), 12.0)
                          : g.at(g.today(), 12.0);
  std::vector<const Reading*> evening;
  for (const Reading* o : g.history.of("dissolved_oxygen"))
    if (o->at >= noon + 3 * kHour && o->at <= g.present.now) evening.push_back(o);
  if (evening.size() < 2 || evening.back()->at - evening.front()->at < kHour) return false;
  const auto hour = [&](Moment t) { return 12.0 + static_cast<double>(t - noon) / static_cast<double>(kHour); };
  for (const Reading* o : evening) r.readings.push_back({hour(o->at), Density<>(1e-3 * o->value())});
  r.temperature = g.loop.water.temperature;
  r.reaeration = g.request.reaeration;
  r.low = Density<>(1e-3 * oxygen_low_mg(g.loop));
  const CivilDate morning = g.clock().local(Instant{1e-3 * static_cast<double>(noon)}).date.plus_days(1);
  r.dawn_hour = 24.0 + g.clock().local(model::sun_frame(g.loop.site.place, morning).sunrise).hour;
  if (r.dawn_hour <= hour(evening.back()->at)) return false;
  const NightAnswer night = answers::night(g.loop, r);
  const bool low = night.by_reaeration ? night.verdict == Verdict::bad : night.dawn < r.low;
  if (!low) return true;
  const double first = evening[0]->value(), second = evening[1]->value(),
               span = hour(evening[1]->at) - hour(evening[0]->at);
  // Without a reaeration the line through the logarithms: soonest, as it has no floor.
  const double passes = night.passes_low_at.value_or(second > mg(r.low) && second < first
                                                         ? hour(evening[1]->at) + span * std::log(second / mg(r.low)) /
                                                                                      std::log(first / second)
                                                         : hour(evening.back()->at));
  Urgent u{"oxygen_tonight",
           fmt::format("oxygen will be about {:.1f} mg/L at dawn, under {:.1f}", mg(night.dawn), mg(r.low)),
           night.by_reaeration ? fmt::format("by the readings of this evening; 5 to 95 %: {:.1f} to {:.1f}",
                                             mg(night.dawn_low), mg(night.dawn_high))
                               : "by the line through the logarithms of this evening's readings, which knows no air",
           "air on now, no feed tonight or tomorrow morning; look again when it is due to pass the limit, not at dawn",
           noon + static_cast<Moment>((passes - 12.0) * static_cast<double>(kHour)),
           {}};
  for (const Reading* o : evening) u.rests_on.push_back(o->entry);
  found.push_back(std::move(u));
  return true;
}

void night_by_model(const RoundGround& g, std::vector<Urgent>& found) {
  if (!g.weather_known) return;  // made-up weather is no reason to wake anybody
  const NightAheadAnswer night = night_ahead(g.loop, g.weather, g.today());
  if (night.tanks.empty() || night.tanks.front().lowest >= night.low.si()) return;
  const TankNight& t = night.tanks.front();
  found.push_back({"oxygen_tonight",
                   fmt::format("{}: oxygen down to about {:.1f} mg/L tonight, under {:.1f}", t.path, 31.998 * t.lowest,
                               31.998 * night.low.si()),
                   "by the model alone, from the last readings and the weather; it has no band",
                   "read oxygen at dusk and two hours later; air on tonight, last feed early",
                   g.at(g.today(), 0.0) + static_cast<Moment>(t.lowest_hour * static_cast<double>(kHour)),
                   {}});
}

void power_off(const RoundGround& g, std::vector<Urgent>& found) {
  if (!g.present.power || g.present.power->subject != "off") return;
  const learn::Deed& power = *g.present.power;
  Urgent u{"power",
           "the power is off",
           fmt::format("noted {}", learn::age_words(g.present.now - power.at)),
           "no feed, air by battery, buckets; leat outage tells the order",
           std::nullopt,
           {power.entry}};
  const auto levels = model::levels_at_rest(g.loop);
  for (std::size_t v = 0; v < g.loop.vessels.size(); ++v) {
    const model::Vessel& vessel = g.loop.vessels[v];
    if (fish_demand(g.loop, v, g.loop.water.temperature).rate.si() <= 0.0) continue;
    DrawdownInput input;
    input.water = vessel.volume_at(levels[v]);
    input.open_surface = vessel.area * (1.0 - vessel.cover);
    input.since = Duration<>(1e-3 * static_cast<double>(g.present.now - power.at));
    if (g.present.last_fed) input.fed_ago = Duration<>(1e-3 * static_cast<double>(power.at - *g.present.last_fed));
    const Drawdown d = draw_down_surely(g.loop, v, [&](const model::Loop&) { return input; }, {});
    if (const TimeLeft* left = d.likely_left(); left && std::isfinite(left->to_danger_now.soonest.si()))
      u.at = g.present.now + static_cast<Moment>(1e3 * left->to_danger_now.soonest.si());
    u.reason += fmt::format("; {}: {}", d.tank, d.verdict);
  }
  found.push_back(std::move(u));
}

void pump_off(const RoundGround& g, std::vector<Urgent>& found) {
  if (!g.present.pump || g.present.pump->subject != "off" || g.present.now - g.present.pump->at < kHour) return;
  found.push_back({"pump",
                   "the pump is off",
                   fmt::format("noted {}", learn::age_words(g.present.now - g.present.pump->at)),
                   "if it runs again, note: pump on. If not: air to the tank, strainer, plug, RCD/GFCI",
                   std::nullopt,
                   {g.present.pump->entry}});
}

void poisons(const RoundGround& g, std::vector<Urgent>& found) {
  const Reading *tan = fresh(g, "ammonia", kDay), *pH = fresh(g, "pH", kDay), *no2 = fresh(g, "nitrite", 2 * kDay);
  if (tan && pH) {
    const double share = science::unionised_ammonia_fraction(g.loop.water.temperature, Number<>(pH->value())).si();
    const double limit = 14.007 * g.loop.limits.unionised_ammonia_high.si();
    if (share * tan->low > limit)
      found.push_back({"ammonia",
                       fmt::format("un-ionised ammonia at least {:.3f} mg/L, over {:.4f}", share * tan->low, limit),
                       fmt::format("{:.2f} mg/L as N at pH {:.1f}", tan->value(), pH->value()),
                       "no feed, shade, air; do not raise the pH",
                       std::nullopt,
                       {tan->entry, pH->entry}});
  }
  const double nitrite_limit = 14.007 * g.loop.limits.nitrite_high.si();
  if (no2 && no2->low > nitrite_limit)
    found.push_back({"nitrite",
                     fmt::format("nitrite {:.2f} mg/L as N, over {:.2f}", no2->value(), nitrite_limit),
                     fmt::format("read {}", learn::age_words(g.present.now - no2->at)),
                     "stop feed, air; leat dose nitrite tells how much salt",
                     std::nullopt,
                     {no2->entry}});
}

void warmth(const RoundGround& g, std::vector<Urgent>& found) {
  const Reading* t = fresh(g, "temperature", 6 * kHour);
  if (!t || t->value() <= g.loop.limits.temperature_high.celsius()) return;
  found.push_back(
      {"warm",
       fmt::format("water at {:.1f} degC, over {:.1f}", t->value(), g.loop.limits.temperature_high.celsius()),
       fmt::format("read {}", learn::age_words(g.present.now - t->at)),
       "no feed, air, shade; run the beds by night only",
       std::nullopt,
       {t->entry}});
}

}  // namespace

std::vector<Urgent> urgent_matters(const RoundGround& g, const std::vector<learn::Oddity>& odd) {
  std::vector<Urgent> found;
  power_off(g, found);
  pump_off(g, found);
  oxygen_now(g, found);
  if (!g.loop.fish.empty() && !night_by_readings(g, found)) night_by_model(g, found);
  poisons(g, found);
  warmth(g, found);
  for (const learn::Oddity& o : odd)
    if (o.weight == learn::Weight::danger && g.present.now - o.seen <= kDay)
      found.push_back(
          {o.kind, (o.where.empty() ? "" : o.where + ": ") + o.what, o.reason, o.action, std::nullopt, o.rests_on});
  std::stable_sort(found.begin(), found.end(), [&](const Urgent& a, const Urgent& b) {
    return a.at.value_or(g.present.now) < b.at.value_or(g.present.now);
  });
  return found;
}

}  // namespace leat::answers
