// What is asked every day, as JSON: feed, the night, the table for an emergency.
#include <fmt/core.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "base/words/quantities.h"
#include "tell/common.h"
#include "tell/json_writer.h"
#include "tell/tell.h"

namespace leat::tell {
namespace {

constexpr double kOxygen = 0.031998;  // kg/mol

void put_oxygen(Writer& w, ordered_json& into, const char* key, Density<> oxygen) {
  w.put(into, key, "dissolved_oxygen", oxygen.si() / kOxygen);
}

std::string clock(double hour) {
  const int minutes = static_cast<int>(std::lround(hour * 60.0)) % 1440;
  return fmt::format("{:02d}:{:02d}", minutes / 60, minutes % 60);
}

ordered_json group_json(const answers::GroupFeed& g, Writer& w) {
  ordered_json j{{"path", g.path}, {"species", g.species}, {"stop", g.stop}};
  w.put(j, "biomass", g.biomass.si());
  w.put(j, "feed_given", g.today.si());
  w.put(j, "share_of_mass", "share", g.share_of_mass);
  w.put(j, "feed_a_meal", "feed_given", g.a_meal.si());
  j["meals"] = ordered_json::array();
  for (const double hour : g.meals) j["meals"].push_back(clock(hour));
  j["why"] = g.why;
  return j;
}

ordered_json tank_night_json(const answers::TankNight& n, bool with_bands, Writer& w) {
  ordered_json j{{"path", n.path}};
  w.put(j, "oxygen_at_sunset", "dissolved_oxygen", n.dusk);
  w.put(j, "oxygen_lowest", "dissolved_oxygen", n.lowest);
  j["lowest_at"] = clock(n.lowest_hour);
  w.put(j, "oxygen_at_sunrise", "dissolved_oxygen", n.dawn);
  w.put(j, "share_of_saturation", "share", n.saturation > 0.0 ? n.lowest / n.saturation : 0.0);
  w.put(j, "temperature_lowest", "temperature", n.coldest);
  if (!with_bands) return j;
  ordered_json& bands = j["bands"];
  bands["oxygen_at_sunset"] = spread_json(w, "dissolved_oxygen", n.dusk_band);
  bands["oxygen_lowest"] = spread_json(w, "dissolved_oxygen", n.lowest_band);
  bands["oxygen_at_sunrise"] = spread_json(w, "dissolved_oxygen", n.dawn_band);
  bands["below_limit_members"] = n.below;
  bands["in_danger_members"] = n.danger;
  return j;
}

ordered_json table_json(const answers::EmergencyTable& table, Writer& w) {
  ordered_json j{{"tank", table.tank}};
  put_oxygen(w, j, "oxygen_low", table.levels.low);
  put_oxygen(w, j, "oxygen_danger", table.levels.danger);
  j["levels"] = table.levels.source;
  for (const auto& row : table.rows) {
    ordered_json r;
    w.put(r, "temperature", row.temperature_c + 273.15);
    w.put(r, "share_of_stock", "share", row.stock);
    w.put(r, "biomass", row.fish.si());
    r["fish_are"] = answers::state_name(row.state);
    put_band(w, r, "duration_to_low", row.to_low);
    put_band(w, r, "duration_to_danger", row.to_danger);
    j["rows"].push_back(std::move(r));
  }
  j["assumed"] = table.assumed;
  return j;
}

void put_dawn(Writer& w, ordered_json& j, const answers::NightAnswer& a) {
  put_oxygen(w, j, "oxygen_at_dawn", a.dawn);
  if (!a.by_reaeration) return;
  put_oxygen(w, j, "oxygen_at_dawn_low", a.dawn_low);
  put_oxygen(w, j, "oxygen_at_dawn_high", a.dawn_high);
  put_oxygen(w, j, "oxygen_with_air", a.with_air);
  put_oxygen(w, j, "oxygen_saturated", a.saturation);
  w.put(j, "chance_low", "share", a.chance_low);
  w.put(j, "chance_deadly", "share", a.chance_deadly);
}

}  // namespace

std::string feed_json(const answers::FeedAnswer& a) {
  Writer w;
  ordered_json j{{"verb", "feed"}, {"loop", a.loop_name}};
  w.put(j, "temperature", a.temperature.kelvin());
  j["groups"] = ordered_json::array();
  for (const answers::GroupFeed& g : a.groups) j["groups"].push_back(group_json(g, w));
  j["stop_rules"] = a.stop_rules;
  j["assumed"] = a.assumed;
  j["units"] = w.units();
  return written(j);
}

std::string night_ahead_json(const answers::NightAheadAnswer& a) {
  Writer w;
  ordered_json j{{"verb", "night"}, {"loop", a.loop_name}, {"by", "model"}, {"date", a.date.text()}};
  j["verdict"] = std::string(verdict_word(a.verdict));
  if (!a.said.empty()) j["said"] = a.said;
  j["sunset"] = clock(a.sunset_hour);
  j["sunrise"] = clock(a.sunrise_hour);
  w.put(j, "oxygen_limit", "dissolved_oxygen", a.low.si());
  j["tanks"] = ordered_json::array();
  for (const answers::TankNight& n : a.tanks) j["tanks"].push_back(tank_night_json(n, a.how.has_value(), w));
  if (a.how) {
    put_how_drawn(j["bands"], *a.how);
    j["bands"]["owes_most_to"] = owed_json(w, a.owed);
  }
  j["assumptions"] = assumptions_json(a.assumptions);
  if (a.verdict != answers::Verdict::good) j["cautions"] = {caution_electricity};
  j["units"] = w.units();
  return written(j);
}

std::string night_json(const answers::NightAnswer& a) {
  Writer w;
  ordered_json j{{"verb", "night"}, {"by", a.by_reaeration ? "readings and reaeration" : "readings alone"}};
  j["verdict"] = std::string(verdict_word(a.verdict));
  j["dawn"] = clock(a.dawn_hour);
  put_dawn(w, j, a);
  if (!a.owed.empty()) {
    put_how_drawn(j["bands"], a.how);
    j["bands"]["owes_most_to"] = owed_json(w, a.owed);
  }
  if (a.passes_low_at) j["passes_low_at"] = clock(*a.passes_low_at);
  if (a.ammonia_share) w.put(j, "share_unionised", "share", *a.ammonia_share);
  j["advice"] = a.advice;
  j["assumed"] = a.assumed;
  j["cautions"] = {caution_electricity};
  j["units"] = w.units();
  return written(j);
}

std::string emergency_json(const std::string& loop_name, const std::vector<answers::EmergencyTable>& tables) {
  Writer w;
  ordered_json j{{"verb", "outage"}, {"loop", loop_name}};
  j["tables"] = ordered_json::array();
  for (const answers::EmergencyTable& table : tables) j["tables"].push_back(table_json(table, w));
  j["cautions"] = {caution_electricity};
  j["units"] = w.units();
  return written(j);
}

}  // namespace leat::tell
