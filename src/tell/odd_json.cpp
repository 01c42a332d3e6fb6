#include "record/entry.h"
#include "tell/json_writer.h"
#include "tell/odd_text.h"

namespace leat::tell {
namespace {

std::string_view weight_word(learn::Weight weight) {
  switch (weight) {
    case learn::Weight::danger:
      return "danger";
    case learn::Weight::wrong_number:
      return "wrong_number";
    case learn::Weight::drift:
      return "drift";
    case learn::Weight::round:
      return "round";
  }
  return "";
}

}  // namespace

std::string odd_json(const answers::OddAnswer& a, bool all) {
  ordered_json j{{"verb", "odd"}, {"loop", a.loop_name}, {"now", record::utc_text(a.now)}};
  j["oddities"] = ordered_json::array();
  for (const learn::Oddity& o : all ? a.all : a.told) {
    ordered_json item{{"kind", o.kind},
                      {"weight", weight_word(o.weight)},
                      {"path", o.where},
                      {"since", record::utc_text(o.since)},
                      {"seen", record::utc_text(o.seen)},
                      {"what", o.what},
                      {"reason", o.reason},
                      {"action", o.action}};
    item["entries"] = o.rests_on;
    j["oddities"].push_back(std::move(item));
  }
  if (!a.no_warmth.empty()) j["not_looked_at"] = a.no_warmth;
  j["assumed"] = a.assumed;
  return written(j);
}

}  // namespace leat::tell
