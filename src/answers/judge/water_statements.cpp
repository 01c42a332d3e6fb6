#include "answers/judge/water_statements.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "answers/judge/water_limits.h"
#include "base/words/quantities.h"
#include "model/simulate/feeding.h"

namespace leat::answers {
namespace {

using namespace model;
using words::shown_text;

/// Whether a limit was said, or what stands in for it and why.
std::string where_from(const std::string& path, const Loop& loop) {
  for (const Assumption& a : loop.assumptions)
    if (a.path == path) return "assumed; " + a.reason;
  return path + " in the loop file";
}

bool kills_within_hours(const Finding& f) {
  return f.quantity == "dissolved_oxygen" && f.value < kDangerOfLimit * f.limit;
}

Finding judge_limit(const Limit& limit, const Loop& loop, const VesselAhead& vessel,
                    const std::vector<CivilDate>& dates) {
  Finding f{limit.statement,
            vessel.path,
            limit.quantity,
            limit.worst(vessel.days[0]),
            limit.limit,
            limit.wants_above,
            {},
            {},
            {},
            where_from(limit.source, loop)};
  std::size_t worst_day = 0, first_broken = vessel.days.size();
  for (std::size_t d = 0; d < vessel.days.size(); ++d) {
    const double value = limit.worst(vessel.days[d]);
    if (limit.wants_above ? value < f.value : value > f.value) {
      f.value = value;
      worst_day = d;
    }
    const bool broken = limit.wants_above ? value < limit.limit : value > limit.limit;
    if (broken && first_broken == vessel.days.size()) first_broken = d;
  }
  f.verdict = verdict_of(f.margin(), limit.room);
  const std::string hour =
      limit.hour ? fmt::format(" about {:02.0f}:00", std::fmod(std::round(limit.hour(vessel.days[worst_day])), 24.0))
                 : "";
  f.reason = fmt::format("{} {} on {}{}, limit {}", limit.wants_above ? "lowest" : "highest",
                         shown_text(limit.quantity, f.value), dates[worst_day].text(), hour,
                         shown_text(limit.quantity, f.limit));
  if (f.quantity == "temperature" && f.value < 273.15 + 0.05) f.reason += "; ice forms";
  if (kills_within_hours(f)) f.reason += "; fish die of that within hours, and the run goes on as if they lived";
  if (f.verdict == Verdict::bad) {
    f.reason += fmt::format("; first broken on {}", dates[first_broken].text());
    f.action = limit.action;
  } else if (f.verdict == Verdict::tight) {
    f.action = limit.action;
  }
  return f;
}

/// How near a finding is to its limit, in units of its own room, so that different quantities compare.
double urgency(const Finding& f) {
  if (kills_within_hours(f)) return -1e3 + f.value / f.limit;
  if (f.limit == 0.0)
    return f.margin() < 0.0 ? 0.5 : 1e9;  // a loss without a limit: after what is broken, before what holds well
  const double scale = f.quantity == "temperature" ? 3.0
                       : f.quantity == "pH_step"   ? 0.5
                       : f.quantity == "pH"        ? 0.5
                                                   : std::max(0.5 * std::abs(f.limit), 1e-12);
  return f.margin() / scale;
}

/// Feed that the grower states against the rule and the table, where they differ by more than three tenths.
void stated_feed_fits_the_fish(const Loop& loop, AheadAnswer& a) {
  for (std::size_t g = 0; g < loop.fish.size(); ++g) {
    const FishGroup& group = loop.fish[g];
    if (!group.feed) continue;
    const VesselDay& day = a.vessels[static_cast<std::size_t>(group.vessel)].days[0];
    const auto mean = Temperature<>::from_kelvin(0.5 * (day.temperature_low.value + day.temperature_high.value));
    FishGroup by_rule = group;
    by_rule.feed.reset();
    const Mass<> biomass = group.count * group.mass;
    const Ration rule = ration_of(by_rule, biomass, mean, Concentration<>(day.oxygen_low.value));
    const double stated = group.feed->si(), by_the_rule = rule.a_day.si() / 86400.0;
    if (by_the_rule <= 0.0 || std::abs(stated / by_the_rule - 1.0) < 0.3) continue;
    Finding f{
        "stated_feed_fits_the_fish", group.path,     "feed", stated, by_the_rule,
        stated < by_the_rule,        Verdict::tight, {},     {},     "growth rule with the feeding table as guard"};
    f.reason = fmt::format("{} is stated; at {} the growth rule gives {}", shown_text("feed", stated),
                           shown_text("temperature", mean.kelvin()), shown_text("feed", f.limit));
    f.action = "weigh a sample and look whether all is eaten in five minutes";
    a.findings.push_back(f);
  }
}

/// Rain on open beds is the usual way for a loop to overflow by itself.
void nothing_spills(AheadAnswer& a) {
  for (const LedgerTable& table : a.books) {
    if (table.ledger != Ledger::water) continue;
    double spilt = 0.0, rain = 0.0;
    for (const LedgerLine& line : table.lines) {
      if (line.account == "ground") spilt = -line.amount;
      if (line.account == "rain") rain = line.amount;
    }
    if (spilt < 1e-3) continue;
    Finding f{"nothing_spills",
              "loop",
              "water",
              spilt,
              0.0,
              false,
              Verdict::tight,
              {},
              {},
              "nothing should be lost; common practice"};
    if (spilt > 0.05 * table.stock_start) f.verdict = Verdict::bad;
    f.reason = fmt::format("{} run over a brim; {} of rain fall into the open vessels", shown_text("water", spilt),
                           shown_text("water", rain));
    f.action = "keep the sump lower before rain, or cover the beds; what spills takes nutrients with it";
    a.findings.push_back(f);
  }
}

}  // namespace

void judge_water(const model::Loop& loop, AheadAnswer& a) {
  if (a.dates.empty()) return;
  for (const Limit& limit : limits_of(loop.limits))
    for (std::size_t v = 0; v < loop.vessels.size(); ++v)
      if (loop.vessels[v].kind == VesselKind::tank && !a.vessels[v].dry)
        a.findings.push_back(judge_limit(limit, loop, a.vessels[v], a.dates));
  stated_feed_fits_the_fish(loop, a);
  nothing_spills(a);
  judge_moves(loop, a);
  std::stable_sort(a.findings.begin(), a.findings.end(),
                   [](const Finding& x, const Finding& y) { return urgency(x) < urgency(y); });
}

}  // namespace leat::answers
