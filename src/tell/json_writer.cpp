#include "tell/json_writer.h"

#include <cmath>

#include "tell/common.h"

namespace leat::tell {

ordered_json spread_json(Writer& w, std::string_view word, const answers::Spread& s) {
  return {{"low", w.value(word, s.low)}, {"middle", w.value(word, s.middle)}, {"high", w.value(word, s.high)}};
}

void put_how_drawn(ordered_json& into, const answers::HowDrawn& how) {
  into["members"] = how.members;
  into["members_stopped"] = how.stopped;
  into["seed"] = how.seed;
  into["seconds_about"] = std::round(100.0 * how.size.about) / 100.0;
  into["seconds_budget"] = how.size.budget;
  into["uncertainty"] = how.uncertainty;
  into["drawn"] = ordered_json::array();
  for (const auto& d : how.drawn)
    into["drawn"].push_back({{"thing", d.name}, {"width", d.width}, {"source", d.source}});
  into["drawn_together"] = ordered_json::array();
  for (const auto& t : how.together)
    into["drawn_together"].push_back(
        {{"things", {t.one, t.other}}, {"rank_correlation", t.correlation}, {"why", t.why}});
}

ordered_json owed_things_json(const std::vector<answers::Owed>& things) {
  ordered_json j = ordered_json::array();
  for (const auto& t : things)
    j.push_back({{"thing", t.thing},
                 {"rank_correlation", t.correlation},
                 {"rank_correlation_low", t.low},
                 {"rank_correlation_high", t.high}});
  return j;
}

ordered_json owed_json(Writer& w, const std::vector<answers::OwedMost>& all) {
  ordered_json j = ordered_json::array();
  for (const auto& o : all) {
    ordered_json line{{"what", o.what}, {"quantity", o.quantity}, {"spread", spread_json(w, o.quantity, o.spread)}};
    line["to"] = owed_things_json(o.to);
    j.push_back(std::move(line));
  }
  return j;
}

ordered_json findings_json(const std::vector<answers::Finding>& findings, Writer& w) {
  ordered_json all = ordered_json::array();
  for (const answers::Finding& f : findings) {
    ordered_json j;
    j["statement"] = f.statement;
    j["path"] = f.path;
    j["verdict"] = std::string(verdict_word(f.verdict));
    j["quantity"] = f.quantity;
    j["value"] = w.value(f.quantity, f.value);
    j["limit"] = w.value(f.quantity, f.limit);
    j["reason"] = f.reason;
    if (!f.action.empty()) j["action"] = f.action;
    j["source"] = f.source;
    all.push_back(std::move(j));
  }
  return all;
}

ordered_json assumptions_json(const std::vector<model::Assumption>& assumptions) {
  ordered_json all = ordered_json::array();
  for (const model::Assumption& a : assumptions)
    all.push_back({{"path", a.path}, {"value", a.value}, {"reason", a.reason}});
  return all;
}

std::string written(const ordered_json& j) {
  return j.dump(2, ' ', false, ordered_json::error_handler_t::replace) + "\n";
}

void put_time(Writer& w, ordered_json& into, const std::string& key, Duration<> t) {
  if (std::isfinite(t.si()))
    w.put(into, key, "duration", t.si());
  else
    into[key] = nullptr;
}

void put_band(Writer& w, ordered_json& into, const std::string& key, const answers::TimeBand& t) {
  put_time(w, into, key, t.likely);
  put_time(w, into, key + "_soonest", t.soonest);
  put_time(w, into, key + "_latest", t.latest);
}

}  // namespace leat::tell
