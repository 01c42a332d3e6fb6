// leat ahead as JSON.
#include <cmath>

#include "tell/json_writer.h"
#include "tell/tell.h"

namespace leat::tell {
namespace {

ordered_json at_hour(Writer& w, std::string_view word, const answers::AtHour& v) {
  return {{"value", w.value(word, v.value)}, {"hour", std::round(v.hour * 100.0) / 100.0}};
}

ordered_json day_json(Writer& w, const answers::VesselDay& d) {
  ordered_json j;
  j["temperature"] = {{"low", at_hour(w, "temperature", d.temperature_low)},
                      {"high", at_hour(w, "temperature", d.temperature_high)}};
  w.put(j, "swing", d.swing);
  j["dissolved_oxygen"] = {{"low", at_hour(w, "dissolved_oxygen", d.oxygen_low)},
                           {"share_of_saturation", d.oxygen_low_share}};
  w.put(j, "ammonia", d.ammonia);
  j["unionised_ammonia"] = {{"high", at_hour(w, "unionised_ammonia", d.unionised_ammonia_high)}};
  w.put(j, "nitrite", d.nitrite);
  w.put(j, "nitrate", d.nitrate);
  j["gas_pressure"]["high"] = at_hour(w, "gas_pressure", d.gas_pressure_high);
  j["pH"] = {{"low", w.value("pH", d.pH_low)}, {"high", w.value("pH", d.pH_high)}};
  w.put(j, "alkalinity", d.alkalinity);
  j["carbon_dioxide"] = {{"high", w.value("carbon_dioxide", d.carbon_dioxide_high)}};
  return j;
}

/// A time that never comes is null.
/// What a share of the sun that was assumed leaves open.
ordered_json sun_band_json(const answers::SunBand& band, Writer& w) {
  ordered_json j;
  j["assumed_for"] = band.assumed_for;
  for (const auto& v : band.vessels)
    for (const answers::AtShare& at : {v.low, v.middle, v.high}) {
      ordered_json o;
      w.put(o, "share", at.share);
      w.put(o["temperature"], "high", "temperature", at.highest);
      w.put(o, "swing", at.mean_swing);
      j["vessels"][v.path].push_back(std::move(o));
    }
  return j;
}

ordered_json tank_bands_json(const answers::AheadAnswer& a, const answers::TankBands& tank, Writer& w) {
  ordered_json days = ordered_json::array();
  for (std::size_t d = 0; d < tank.ammonia.size(); ++d)
    days.push_back({{"date", a.dates[d].text()},
                    {"coldest", spread_json(w, "temperature", tank.temperature_low[d])},
                    {"warmest", spread_json(w, "temperature", tank.temperature_high[d])},
                    {"least_oxygen", spread_json(w, "dissolved_oxygen", tank.oxygen_low[d])},
                    {"ammonia", spread_json(w, "ammonia", tank.ammonia[d])}});
  return days;
}

ordered_json bands_json(const answers::AheadAnswer& a, Writer& w) {
  const answers::Bands& b = *a.bands;
  ordered_json j;
  put_how_drawn(j, b);
  for (const auto& tank : b.tanks) j["tanks"][tank.path] = tank_bands_json(a, tank, w);
  for (std::size_t g = 0; g < b.fish_mass.size(); ++g)
    j["fish"][a.fish[g].path]["at_end"]["mass"] = spread_json(w, "mass", b.fish_mass[g]);
  j["crossings"] = ordered_json::array();
  for (const auto& c : b.crossings) {
    ordered_json o{{"statement", c.statement}, {"path", c.path}, {"quantity", c.quantity}};
    o["limit"] = w.value(c.quantity, c.limit);
    o["members"] = c.members;
    j["crossings"].push_back(std::move(o));
  }
  j["owes_most_to"] = owed_json(w, b.owed);
  return j;
}

}  // namespace

std::string ahead_json(const answers::AheadAnswer& a) {
  Writer w;
  ordered_json j;
  j["verb"] = "ahead";
  j["loop"] = a.loop_name;
  j["finished"] = a.finished;
  if (!a.said.empty()) j["said"] = a.said;
  for (const CivilDate& d : a.dates) j["dates"].push_back(d.text());
  j["weather"] = a.weather_sources;
  for (std::size_t d = 0; d < a.air_low.size(); ++d)
    j["air"].push_back(
        {{"temperature",
          {{"low", w.value("temperature", a.air_low[d])}, {"high", w.value("temperature", a.air_high[d])}}}});
  j["findings"] = findings_json(a.findings, w);
  if (a.bands) j["bands"] = bands_json(a, w);
  if (a.sun_band) j["sun_band"] = sun_band_json(*a.sun_band, w);
  for (const auto& v : a.vessels)
    if (v.dry)
      j["dry"].push_back(v.path);
    else
      for (const auto& d : v.days) j["vessels"][v.path].push_back(day_json(w, d));
  for (const auto& f : a.fish) {
    ordered_json& o = j["fish"][f.path];
    o["species"] = f.species;
    o["count"] = f.count;
    if (f.counts.back() != f.count)
      for (const double n : f.counts) o["by_day"]["count"].push_back(n);
    for (const double m : f.mean_mass) o["mass"].push_back(w.value("mass", m));
    for (const double m : f.fed) o["feed_given"].push_back(w.value("feed_given", m));
  }
  for (const auto& p : a.plants) {
    ordered_json& o = j["plantings"][p.path];
    o["crop"] = p.crop;
    for (const double m : p.fresh_mass) o["fresh_mass"].push_back(w.value("fresh_mass", m));
    w.put(o, "nitrogen", p.nitrogen_taken);
    for (const auto& cut : p.harvests)
      o["cut"].push_back(
          {{"date", cut.date.text()}, {"fresh_mass", w.value("fresh_mass", cut.fresh)}, {"whole", cut.whole}});
  }
  for (const auto& deed : a.deeds) j["deeds"].push_back({{"path", deed.path}, {"said", deed.words}});
  for (const auto& q : a.in_water) {
    ordered_json& o = j["in_the_water"][q.word];
    o["assumed"] = q.assumed;
    o[q.word].push_back(w.value(q.word, q.start));
    for (const double day : q.days) o[q.word].push_back(w.value(q.word, day));
  }
  for (const auto& t : a.books) {
    ordered_json& o = j["books"][std::string(model::ledger_name(t.ledger))];
    o["unit"] = std::string(model::ledger_unit(t.ledger));
    o["held_at_start"] = t.stock_start;
    o["held_at_end"] = t.stock_end;
    for (const auto& line : t.lines) o["into_the_loop"][line.account] = line.amount;
    for (const auto& part : t.kept) o["kept"][part.account] = part.amount;
    o["closure"] = t.closure;
  }
  j["states"] = a.states;
  j["steps"] = a.counts.steps;
  j["assumptions"] = assumptions_json(a.assumptions);
  j["units"] = w.units();
  return written(j);
}

}  // namespace leat::tell
