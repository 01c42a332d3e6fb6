#include "tell/json_writer.h"
#include "tell/record_text.h"
#include "tell/week_text.h"

namespace leat::tell {
namespace {

ordered_json numbers_of(const std::vector<record::Entry>& entries) {
  ordered_json list = ordered_json::array();
  for (const record::Entry& e : entries) list.push_back(e.number);
  return list;
}

ordered_json lines_of(const std::vector<answers::WeekLine>& lines) {
  ordered_json list = ordered_json::array();
  for (const answers::WeekLine& line : lines) list.push_back({{"text", line.text}, {"entries", line.entries}});
  return list;
}

/// In the unit that the grower used, which stands beside it: nothing is converted.
ordered_json figure_json(const answers::Figure& f) {
  ordered_json j{{"name", f.name}, {"label", f.label}, {"text", figure_text(f)}};
  if (f.low) j["low"] = *f.low;
  if (f.high) j["high"] = *f.high;
  j["unit"] = f.unit;
  j["entries"] = f.entries;
  return j;
}

}  // namespace

std::string week_json(const answers::WeekAnswer& w, const WeekFrame& frame, const Clock& clock) {
  ordered_json j{{"verb", "week"}, {"loop", frame.loop}, {"from", w.first.text()}, {"to", w.last.text()}};
  j["figures"] = ordered_json::array();
  for (const answers::Figure& f : w.figures) j["figures"].push_back(figure_json(f));
  j["changed"] = numbers_of(w.changed);
  j["died"] = numbers_of(w.died);
  j["plants"] = numbers_of(w.plants);
  j["tests"] = numbers_of(w.tests);
  j["notes"] = numbers_of(w.words);
  j["odd"] = lines_of(w.odd);
  j["next"] = lines_of(w.next);
  j["cited"] = ordered_json::array();
  for (const record::Entry& e : w.cited) j["cited"].push_back({{"number", e.number}, {"line", entry_line(e, clock)}});
  j["wording"] = frame.wording;
  j["own_wording"] = frame.wording != frame.usual;
  j["stale"] = stale_numbers(w, frame.wording);
  j["head"] = frame.head;
  j["faults"] = frame.faults;
  return written(j);
}

}  // namespace leat::tell
