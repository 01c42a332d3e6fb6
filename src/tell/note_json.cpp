// What was noted, found and corrected, as JSON. Numbers of an entry stay in the units they were written in.
#include <nlohmann/json.hpp>

#include "learn/history.h"
#include "record/when.h"
#include "tell/json_writer.h"
#include "tell/record_text.h"

namespace leat::tell {
namespace {

/// What a clock at the loop showed: "2026-11-24T07:41".
std::string local_time(record::Moment at, const Clock& clock) {
  std::string text = record::span_text(clock, {at, at});
  text[text.find(' ')] = 'T';
  return text;
}

/// A reading in the unit that answers have it in, beside the one that it was written in; nothing where it has no such
/// unit.
void put_as_shown(ordered_json& j, const record::Entry& e) {
  if (e.kind != record::Kind::reading || !e.amount.low || !words::has_quantity(e.what)) return;
  constexpr std::string_view kSame[] = {"degC", "", "mg/L", "mg/L as N", "mg/L as P", "mg/L as CaCO3", "L/h"};
  const std::string_view unit = words::quantity_row(e.what).shown_unit;
  if (std::find(std::begin(kSame), std::end(kSame), unit) == std::end(kSame)) return;
  const learn::History one = learn::history_of({e});
  if (one.readings.size() != 1) return;
  const learn::Reading& r = one.readings[0];
  j["as_shown"] = {{"low", r.low}, {"high", e.amount.high ? r.high : r.low}, {"unit", unit}};
}

ordered_json told_entry(const record::Entry& e, const Clock& clock) {
  ordered_json j = entry_json(e);
  j.erase("description");
  j["words"] = entry_words(e);
  j["line"] = entry_line(e, clock);
  j["local"] = local_time(e.from, clock);
  put_as_shown(j, e);
  return j;
}

}  // namespace

std::string note_json(const answers::NoteAnswer& a, const Clock& clock) {
  ordered_json j{{"verb", "note"}, {"kept", !a.dry && !a.understood.empty()}, {"again", a.again}};
  j["entries"] = ordered_json::array();
  for (const record::Understood& u : a.understood)
    for (const record::Entry& e : u.entries) {
      ordered_json one = told_entry(e, clock);
      if (!u.doubt.empty()) one["doubt"] = u.doubt;
      if (!u.ask.empty()) one["ask"] = u.ask;
      if (!u.offer.empty()) one["offer"] = u.offer;
      if (!u.taken.empty()) one["taken"] = u.taken;
      j["entries"].push_back(std::move(one));
    }
  j["chapter_begun"] = a.chapter > 0;
  j["loop_changed"] = a.loop_changed;
  return written(j);
}

std::string list_json(const ListShown& list, const Clock& clock) {
  ordered_json j{{"verb", "record"}, {"count", list.in_record}, {"cut", list.cut}};
  if (list.found) j["count_found"] = *list.found;
  j["entries"] = ordered_json::array();
  for (const record::Entry& e : list.entries) j["entries"].push_back(told_entry(e, clock));
  return written(j);
}

std::string corrected_json(const answers::Corrected& corrected, const Clock& clock) {
  ordered_json j{{"verb", "record"}, {"old", told_entry(corrected.old, clock)}};
  j["entries"] = ordered_json::array();
  for (const record::Entry& e : corrected.instead) j["entries"].push_back(told_entry(e, clock));
  return written(j);
}

}  // namespace leat::tell
