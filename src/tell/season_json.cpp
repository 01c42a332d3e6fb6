// leat season as JSON.
#include "tell/json_writer.h"
#include "tell/tell.h"

namespace leat::tell {
namespace {

using answers::SeasonDate;

ordered_json date_json(const SeasonDate& d) {
  ordered_json j;
  j["years"] = d.years;
  if (d.years == 0) return j;
  j["early"] = d.early.text();
  j["middle"] = d.middle.text();
  j["late"] = d.late.text();
  return j;
}

ordered_json life_json(const answers::SeasonAnswer& a, Writer& w) {
  ordered_json j = ordered_json::object();
  for (const auto& f : a.fish) {
    ordered_json& o = j["fish"][f.path];
    o["species"] = f.species;
    w.put(o, "mass", f.size);
    o["reaches_it"] = date_json(f.reaches_size);
    o["at_end"]["mass"] = spread_json(w, "mass", f.mass_at_end);
    o["feed_given"] = spread_json(w, "feed_given", f.feed);
  }
  for (const auto& c : a.crops) {
    ordered_json& o = j["plantings"][c.path];
    o["crop"] = c.crop;
    o["harvests"] = ordered_json::array();
    for (std::size_t h = 0; h < c.harvests.size(); ++h) {
      o["harvests"].push_back(date_json(c.harvests[h]));
      o["harvests"].back()["whole"] = static_cast<bool>(c.whole[h]);
    }
    o["fresh_mass"] = spread_json(w, "fresh_mass", c.fresh);
  }
  return j;
}

}  // namespace

std::string season_json(const answers::SeasonAnswer& a) {
  Writer w;
  ordered_json j;
  j["verb"] = "season";
  j["loop"] = a.loop_name;
  j["first"] = a.first.text();
  j["days"] = a.days;
  j["years"] = a.years;
  j["years_stopped"] = a.stopped;
  if (a.stopped > 0) j["said"] = a.why_stopped;
  j["risks"] = ordered_json::array();
  for (const auto& r : a.risks) {
    ordered_json o;
    o["statement"] = r.statement;
    o["path"] = r.path;
    o["quantity"] = r.quantity;
    o["limit"] = w.value(r.quantity, r.limit);
    o["years"] = r.years;
    o["years_by_week"] = r.years_by_week;
    j["risks"].push_back(std::move(o));
  }
  for (std::size_t i = 0; i < a.weeks.size(); ++i)
    j["weeks"].push_back({{"first", a.weeks[i].text()},
                          {"temperature",
                           {{"coldest", spread_json(w, "temperature", a.coldest[i])},
                            {"warmest", spread_json(w, "temperature", a.warmest[i])}}}});
  j["life"] = life_json(a, w);
  j["shortages"] = ordered_json::array();
  for (const auto& s : a.shortages) {
    ordered_json o;
    o["quantity"] = s.word;
    o["least"] = w.value(s.word, s.least);
    o["assumed"] = s.assumed;
    o["falls_below"] = date_json(s.falls_below);
    o["at_end"] = spread_json(w, s.word, s.at_end);
    j["shortages"].push_back(std::move(o));
  }
  j["top_up"]["water"] = spread_json(w, "water", a.bill.top_up);
  w.put(j, "energy", a.bill.energy);
  j["base"]["potassium_bicarbonate"]["mass"] = spread_json(w, "mass", a.bill.bicarbonate);
  j["base"]["calcium_hydroxide"]["mass"] = spread_json(w, "mass", a.bill.hydroxide);
  if (a.bill.priced)
    j["cost"] = {
        {"currency", a.currency}, {"low", a.bill.cost.low}, {"middle", a.bill.cost.middle}, {"high", a.bill.cost.high}};
  if (!a.how.drawn.empty()) {
    put_how_drawn(j["bands"], a.how);
    j["bands"]["owes_most_to"] = owed_json(w, a.owed);
  }
  j["assumptions"] = assumptions_json(a.assumptions);
  j["units"] = w.units();
  return written(j);
}

}  // namespace leat::tell
