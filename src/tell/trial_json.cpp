#include <fmt/core.h>

#include <cmath>

#include "base/csv.h"
#include "base/units/parse.h"
#include "record/entry.h"
#include "record/table.h"
#include "tell/json_writer.h"
#include "tell/trial_text.h"

namespace leat::tell {
namespace {

std::string date_of(const Clock& clock, record::Moment at) {
  return clock.local(Instant{static_cast<double>(at) / 1000.0}).date.text();
}

const char* basis_name(answers::Basis basis) {
  return basis == answers::Basis::survivors ? "survivors"
         : basis == answers::Basis::places  ? "places"
                                            : "with_substitutes";
}

void put_grams(Writer& w, ordered_json& into, const char* key, double grams) {
  w.put(into, key, "mass", 1e-3 * grams);
}

ordered_json grams_list(Writer& w, const std::vector<double>& grams) {
  ordered_json list = ordered_json::array();
  for (const double g : grams) list.push_back(ordered_json{{"mass", w.value("mass", 1e-3 * g)}});
  return list;
}

ordered_json stand_json(Writer& w, const answers::Stand& s, const Clock& clock) {
  ordered_json j{{"bed", s.bed}, {"treatment", s.treatment}, {"planted", date_of(clock, s.planted)}};
  j["count_places"] = s.places;
  j["count_died"] = s.died;
  j["count_replaced"] = s.replaced;
  j["count_standing"] = s.standing;
  j["survivors"] = grams_list(w, s.survivors);
  j["substitutes"] = grams_list(w, s.substitutes);
  if (s.cut_grams > 0.0) put_grams(w, j, "mass_cut", s.cut_grams);
  return j;
}

ordered_json compared_json(Writer& w, const answers::Compared& c, double level) {
  ordered_json j{{"basis", basis_name(c.basis)}, {"first", c.first}, {"second", c.second}};
  j["dealt"] = c.units == answers::Units::beds ? "beds" : c.units == answers::Units::cycles ? "cycles" : "plants";
  j["count_first"] = c.a.n;
  j["count_second"] = c.b.n;
  put_grams(w, j, "mass_first", c.a.mean);
  put_grams(w, j, "mass_second", c.b.mean);
  put_grams(w, j, "mass_difference", c.difference());
  if (c.apart) {
    put_grams(w, j, "mass_difference_low", c.apart->interval.low);
    put_grams(w, j, "mass_difference_high", c.apart->interval.high);
  }
  if (c.chance) {
    j["p"] = c.chance->p;
    j["p_smallest"] = c.chance->smallest_p;
    j["count_arrangements"] = c.chance->arrangements;
  }
  if (c.mixed) {
    const science::Interval i = c.mixed->interval(1, level);
    put_grams(w, j, "mass_difference_mixed", c.mixed->effects[1]);
    put_grams(w, j, "mass_difference_mixed_low", i.low);
    put_grams(w, j, "mass_difference_mixed_high", i.high);
    put_grams(w, j, "mass_spread_beds", c.mixed->between);
    put_grams(w, j, "mass_spread_plants", c.mixed->within);
  }
  return j;
}

ordered_json excluded_json(Writer& w, const answers::Exclusion& e) {
  return {{"bed", e.bed},
          {"what", e.what},
          {"count", e.count},
          {"reason", e.reason},
          {"masses", grams_list(w, e.grams)},
          {"entries", e.entries}};
}

ordered_json steps_json(Writer& w, const std::vector<science::SurvivalStep>& steps, double level) {
  ordered_json list = ordered_json::array();
  for (const science::SurvivalStep& s : steps) {
    const science::Interval i = science::survival_interval_loglog(s, level);
    ordered_json one;
    w.put(one, "duration", 86400.0 * s.time);
    one["count_at_risk"] = s.at_risk;
    one["count_died"] = s.deaths;
    w.put(one, "share_alive", "share", s.survival);
    w.put(one, "share_alive_low", "share", i.low);
    w.put(one, "share_alive_high", "share", i.high);
    list.push_back(std::move(one));
  }
  return list;
}

ordered_json growth_json(Writer& w, const answers::Growth& g) {
  ordered_json j{{"bed", g.bed}, {"entries", g.entries}};
  w.put(j, "share_a_day", "share", g.a_day);
  if (g.interval) {
    w.put(j, "share_a_day_low", "share", g.interval->low);
    w.put(j, "share_a_day_high", "share", g.interval->high);
  }
  for (std::size_t i = 0; i < g.days.size(); ++i) {
    ordered_json one;
    w.put(one, "duration", 86400.0 * g.days[i]);
    put_grams(w, one, "mass", g.grams[i]);
    j["points"].push_back(std::move(one));
  }
  return j;
}

ordered_json fish_json(Writer& w, const answers::FishLives& f, double level, const Clock& clock) {
  ordered_json j{{"where", f.where}, {"from", date_of(clock, f.from)}, {"to", date_of(clock, f.to)}};
  j["count_came"] = f.entered;
  j["count_died"] = f.died;
  j["count_left"] = f.left;
  j["count_died_low"] = f.expected.low;
  j["count_died_high"] = f.expected.high;
  if (f.died_share) {
    w.put(j, "share_died_low", "share", f.died_share->low);
    w.put(j, "share_died_high", "share", f.died_share->high);
  }
  j["by_day"] = steps_json(w, f.steps, level);
  for (const answers::WeighedFish& one : f.weighed)
    j["weighed"].push_back(
        {{"date", date_of(clock, one.at)}, {"mass", w.value("mass", 1e-3 * one.grams)}, {"entry", one.entry}});
  if (f.growth_a_day) w.put(j, "share_growth_a_day", "share", *f.growth_a_day);
  if (f.thermal) j["thermal_growth_per_1000"] = *f.thermal;
  if (f.thermal_interval) {
    j["thermal_growth_per_1000_low"] = f.thermal_interval->low;
    j["thermal_growth_per_1000_high"] = f.thermal_interval->high;
  }
  return j;
}

ordered_json trial_of(Writer& w, const answers::Trial& t, double level, const Clock& clock) {
  ordered_json j{
      {"crop", t.crop}, {"chapter", t.chapter + 1}, {"from", date_of(clock, t.from)}, {"to", date_of(clock, t.to)}};
  if (const std::string said = trial_sentence(t); !said.empty()) j["sentence"] = said;
  for (const answers::Stand& s : t.stands) j["stands"].push_back(stand_json(w, s, clock));
  for (const answers::Compared& c : t.compared) j["compared"].push_back(compared_json(w, c, level));
  for (const answers::Lived& l : t.lived) {
    ordered_json one{{"treatment", l.treatment}, {"count_alive", l.alive}, {"count_places", l.places}};
    w.put(one, "share_low", "share", l.interval.low);
    w.put(one, "share_high", "share", l.interval.high);
    one["by_day"] = steps_json(w, l.steps, level);
    j["lived"].push_back(std::move(one));
  }
  for (const answers::Growth& g : t.growth) j["growth"].push_back(growth_json(w, g));
  if (t.alike_p) j["p_lived_alike"] = *t.alike_p;
  for (const answers::Exclusion& e : t.excluded) j["left_out"].push_back(excluded_json(w, e));
  j["warnings"] = t.warnings;
  for (const answers::Happened& h : t.events)
    j["events"].push_back({{"date", date_of(clock, h.at)}, {"what", h.what}, {"entry", h.entry}});
  if (t.variation) w.put(j, "share_variation", "share", *t.variation);
  if (t.plants_needed) j["count_needed"] = std::ceil(*t.plants_needed);
  return j;
}

}  // namespace

std::string trial_json(const answers::TrialAnswer& a, const Clock& clock) {
  Writer w;
  ordered_json j{{"verb", "trial"}};
  j["trials"] = ordered_json::array();
  for (const answers::Trial& t : a.trials) j["trials"].push_back(trial_of(w, t, a.request.level, clock));
  for (const answers::FishLives& f : a.fish) j["fish"].push_back(fish_json(w, f, a.request.level, clock));
  j["taken"] = a.taken;
  j["units"] = w.units();
  return written(j);
}

std::string trial_csv(const answers::TrialAnswer& a, const Clock& clock) {
  std::string text = "crop,bed,planted,substitute,fate,ended,mass_g,chapter,entries\n";
  const auto cell = [](const std::string& field) { return csv_field(record::guarded(field)); };
  for (const answers::Plant& p : a.plants) {
    if (!a.request.crop.empty() && p.crop != a.request.crop) continue;
    std::string entries;
    for (const std::int64_t n : p.entries) entries += fmt::format("{}{}", entries.empty() ? "" : " ", n);
    text +=
        fmt::format("{},{},{},{},{},{},{},{},{}\n", cell(p.crop), cell(p.bed), date_of(clock, p.planted),
                    p.substitute ? "yes" : "no", answers::fate_word(p.fate), p.ended ? date_of(clock, *p.ended) : "",
                    p.grams ? shortest(*p.grams) : "", p.chapter + 1, entries);
  }
  return text;
}

}  // namespace leat::tell
