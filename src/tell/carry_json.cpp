#include <cmath>

#include "tell/common.h"
#include "tell/json_writer.h"
#include "tell/tell.h"

namespace leat::tell {
namespace {

/// Above this a need sets no limit.
constexpr double kNoLimit = 9999.0;

void put_kg(Writer& w, ordered_json& into, const char* key, double kg) {
  if (kg > kNoLimit)
    into[key] = nullptr;
  else
    w.put(into, key, "biomass", kg);
}

/// Whole fish of a mass; null where nothing sets a limit.
ordered_json whole_fish(double kg, const answers::CarryAnswer& a) {
  if (kg > kNoLimit || !(a.one_fish.si() > 0.0)) return nullptr;
  return std::floor(kg / a.one_fish.si() + 1e-9);
}

ordered_json week_json(const answers::CarryWeek& week, const answers::Spread* sure, Writer& w) {
  ordered_json j{{"week_of", week.first.text()}};
  w.put(j, "temperature", week.water.kelvin());
  w.put(j, "temperature_warmest", "temperature", week.warmest.kelvin());
  w.put(j, "share_fed_a_day", "share", week.ration);
  for (const answers::CarryLimit& l : week.limits) {
    ordered_json one{{"need", l.name}};
    put_kg(w, one, "biomass", l.kg);
    j["limits"].push_back(std::move(one));
  }
  if (sure) j["carries"] = spread_json(w, "biomass", *sure);
  return j;
}

ordered_json sure_json(const answers::CarryAnswer& a, Writer& w) {
  const answers::CarrySure& s = *a.sure;
  ordered_json j;
  put_how_drawn(j, s.how);
  j["count_all_year"] = {{"low", whole_fish(s.all_year.low, a)},
                         {"middle", whole_fish(s.all_year.middle, a)},
                         {"high", whole_fish(s.all_year.high, a)}};
  j["carries_all_year"] = spread_json(w, "biomass", s.all_year);
  j["warmest"] = spread_json(w, "temperature", s.warmest);
  j["too_many_now_members"] = s.over;
  j["killing_members"] = s.killing;
  for (const answers::CarryCrossed& c : s.needs)
    j["crossings"].push_back({{"need", c.name}, {"members", c.over}, {"first_members", c.first}});
  j["owes_most_to"] = owed_json(w, s.owed);
  return j;
}

}  // namespace

std::string carry_json(const answers::CarryAnswer& a) {
  Writer w;
  ordered_json j{{"verb", "carry"}, {"loop", a.loop_name}, {"species", a.species}};
  w.put(j, "mass", a.one_fish.si());
  put_kg(w, j, "biomass_all_year", a.all_year_kg);
  w.put(j, "biomass_now", "biomass", a.now.si());
  j["count_all_year"] = whole_fish(a.all_year_kg, a);
  j["count_now"] = std::round(a.now.si() / a.one_fish.si());
  j["tightest_week"] = a.weeks[a.tightest].first.text();
  j["limited_by"] = a.weeks[a.tightest].limits.front().name;
  if (a.sure) j["bands"] = sure_json(a, w);
  for (std::size_t i = 0; i < a.weeks.size(); ++i)
    j["weeks"].push_back(week_json(a.weeks[i], a.sure ? &a.sure->weeks[i] : nullptr, w));
  j["assumed"] = a.assumed;
  j["units"] = w.units();
  return written(j);
}

}  // namespace leat::tell
