#include "tell/json_writer.h"
#include "tell/round_text.h"

namespace leat::tell {

ordered_json taken_json(const std::vector<learn::Taken>& taken) {
  ordered_json all = ordered_json::array();
  for (const learn::Taken& t : taken)
    all.push_back({{"path", t.path}, {"value", t.value}, {"reason", t.reason}, {"used", t.used}});
  return all;
}

std::string round_json(const answers::RoundAnswer& a) {
  ordered_json j{{"verb", "round"}, {"loop", a.loop_name}, {"now", record::utc_text(a.now)}};
  j["urgent"] = ordered_json::array();
  for (const answers::Urgent& u : a.urgent) {
    ordered_json item{{"kind", u.key}, {"what", u.what}, {"reason", u.reason}, {"action", u.action}};
    if (u.at) item["at"] = record::utc_text(*u.at);
    item["entries"] = u.rests_on;
    j["urgent"].push_back(std::move(item));
  }
  const auto tasks = [](const std::vector<answers::Task>& all) {
    ordered_json list = ordered_json::array();
    for (const answers::Task& t : all) {
      ordered_json item{{"kind", t.id},
                        {"cadence", answers::word_for(t.cadence)},
                        {"what", t.what},
                        {"reason", t.why},
                        {"due", record::utc_text(t.due)}};
      if (t.last) item["last"] = record::utc_text(*t.last);
      list.push_back(std::move(item));
    }
    return list;
  };
  j["due"] = tasks(a.due);
  j["later"] = tasks(a.later);
  j["oddities"] = ordered_json::array();
  for (const learn::Oddity& o : a.odd)
    j["oddities"].push_back({{"kind", o.kind},
                             {"path", o.where},
                             {"what", o.what},
                             {"reason", o.reason},
                             {"action", o.action},
                             {"entries", o.rests_on}});
  j["coming"] = a.coming;
  j["from_record"] = taken_json(a.taken);
  j["assumed"] = a.assumed;
  return written(j);
}

}  // namespace leat::tell
