#include "tell/json_writer.h"

#include <cmath>

#include "tell/common.h"

namespace leat::tell {

ordered_json spread_json(Writer& w, std::string_view word, const answers::Spread& s) {
  return {{"low", w.value(word, s.low)}, {"middle", w.value(word, s.middle)}, {"high", w.value(word, s.high)}};
}

ordered_json drawn_json(const std::vector<answers::Drawn>& drawn) {
  ordered_json j = ordered_json::array();
  for (const auto& d : drawn) j.push_back({{"thing", d.name}, {"width", d.width}, {"source", d.source}});
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
