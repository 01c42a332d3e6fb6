#include <fmt/core.h>

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

ordered_json compared_json(Writer& w, const answers::Compared& c) {
  ordered_json j{{"basis", basis_name(c.basis)}, {"first", c.first}, {"second", c.second}};
  j["units"] = c.by_beds ? "beds" : "plants";
  j["count_first"] = c.a.n;
  j["count_second"] = c.b.n;
  put_grams(w, j, "mass_first", c.a.mean);
  put_grams(w, j, "mass_second", c.b.mean);
  put_grams(w, j, "mass_difference", c.a.mean - c.b.mean);
  if (c.apart) {
    put_grams(w, j, "mass_difference_low", c.apart->interval.low);
    put_grams(w, j, "mass_difference_high", c.apart->interval.high);
  }
  if (c.chance) {
    j["p"] = c.chance->p;
    j["p_smallest"] = c.chance->smallest_p;
    j["count_arrangements"] = c.chance->arrangements;
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

ordered_json trial_of(Writer& w, const answers::Trial& t, const Clock& clock) {
  ordered_json j{
      {"crop", t.crop}, {"chapter", t.chapter + 1}, {"from", date_of(clock, t.from)}, {"to", date_of(clock, t.to)}};
  for (const answers::Stand& s : t.stands) j["stands"].push_back(stand_json(w, s, clock));
  for (const answers::Compared& c : t.compared) j["compared"].push_back(compared_json(w, c));
  for (const answers::Lived& l : t.lived) {
    ordered_json one{{"treatment", l.treatment}, {"count_alive", l.alive}, {"count_places", l.places}};
    w.put(one, "share_low", "share", l.interval.low);
    w.put(one, "share_high", "share", l.interval.high);
    j["lived"].push_back(std::move(one));
  }
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
  for (const answers::Trial& t : a.trials) j["trials"].push_back(trial_of(w, t, clock));
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
