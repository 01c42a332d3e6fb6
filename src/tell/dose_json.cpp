#include "tell/dose_json.h"

#include "tell/json_writer.h"

namespace leat::tell {
namespace {

constexpr double kDay_s = 86400.0;

ordered_json day_json(const answers::DoseDay& d, bool acidity, Writer& w) {
  ordered_json j{{"day", d.day}};
  w.put(j, "dry_mass", d.grams.si());
  j["goes"] = d.goes;
  if (!acidity) return j;
  w.put(j, "pH_step", d.first_jump);
  w.put(j, "pH_from", "pH", d.pH_from);
  w.put(j, "pH_to", "pH", d.pH_to);
  return j;
}

}  // namespace

std::string dose_json(const std::string& what, const answers::DoseAnswer& a,
                      const std::vector<learn::Taken>& from_record) {
  Writer w;
  ordered_json j{{"verb", "dose"}, {"what", what}, {"verdict", a.verdict}, {"reagent", a.reagent}};
  j["days"] = ordered_json::array();
  const bool acidity = a.alkalinity_target.has_value();
  for (const answers::DoseDay& d : a.days) j["days"].push_back(day_json(d, acidity, w));
  if (a.standing) w.put(j, "dry_mass_a_day", "dry_mass", a.standing->si() * kDay_s);
  const auto put = [&](const char* key, const char* word, const std::optional<Concentration<>>& c) {
    if (c) w.put(j, key, word, c->si());
  };
  put("alkalinity", "alkalinity", a.alkalinity_now);
  put("alkalinity_low", "alkalinity", a.alkalinity_low);
  put("alkalinity_high", "alkalinity", a.alkalinity_high);
  put("alkalinity_wanted", "alkalinity", a.alkalinity_target);
  put("carbon_dioxide", "carbon_dioxide", a.carbon_dioxide);
  j["lines"] = a.lines;
  j["cautions"] = a.cautions;
  j["assumed"] = a.assumed;
  j["from_record"] = taken_json(from_record);
  j["units"] = w.units();
  return written(j);
}

}  // namespace leat::tell
