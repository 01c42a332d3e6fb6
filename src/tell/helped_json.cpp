#include "tell/helped_text.h"
#include "tell/json_writer.h"

namespace leat::tell {
namespace {

const char* verdict_name(answers::HelpedVerdict verdict) {
  switch (verdict) {
    case answers::HelpedVerdict::steadier:
      return "steadier";
    case answers::HelpedVerdict::less_steady:
      return "less_steady";
    case answers::HelpedVerdict::cannot_tell:
      return "cannot_tell";
    case answers::HelpedVerdict::not_comparable:
      return "not_comparable";
  }
  return "";
}

std::string time_of(const Clock& clock, record::Moment at) {
  const CivilTime t = clock.local(Instant{static_cast<double>(at) / 1000.0});
  return t.date.text();
}

ordered_json period_json(Writer& w, const answers::Period& p, const Clock& clock) {
  ordered_json j{{"where", p.where}, {"count", p.days.size()}};
  if (p.line) {
    j["slope"] = p.line->slope;
    j["slope_error"] = p.line->error;
    w.put(j, "swing_air", "swing", p.line->mean_x);
    w.put(j, "swing", p.line->mean_y);
  }
  for (const answers::Matched& d : p.days) {
    ordered_json one{{"from", time_of(clock, d.from)}, {"to", time_of(clock, d.to)}};
    w.put(one, "swing_air", "swing", d.air);
    w.put(one, "swing", d.water);
    one["entries"] = d.entries;
    j["windows"].push_back(std::move(one));
  }
  return j;
}

void put_fit(Writer& w, ordered_json& j, const answers::HelpedAnswer& a) {
  const double s = a.standard_swing;
  w.put(j, "swing_standard_air", "swing", s);
  w.put(j, "swing_standard_before", "swing", s * a.before.line->slope);
  w.put(j, "swing_standard_after", "swing", s * a.after.line->slope);
  w.put(j, "swing_cut", "swing", s * a.apart->difference);
  w.put(j, "swing_cut_low", "swing", s * a.apart->interval.low);
  w.put(j, "swing_cut_high", "swing", s * a.apart->interval.high);
  w.put(j, "swing_cut_low_days_alike", "swing", s * a.apart_alike->interval.low);
  w.put(j, "swing_cut_high_days_alike", "swing", s * a.apart_alike->interval.high);
  if (a.blocks) {
    w.put(j, "swing_cut_low_by_blocks", "swing", s * a.blocks->low);
    w.put(j, "swing_cut_high_by_blocks", "swing", s * a.blocks->high);
    j["count_block"] = a.block;
  }
  j["count_independent"] = a.independent_days;
  w.put(j, "share_cut", "share", a.apart->difference / a.before.line->slope);
  w.put(j, "swing_drop", "swing", a.shares->drop);
  w.put(j, "swing_drop_weather_first", "swing", a.shares->by_x_first);
  w.put(j, "swing_drop_change_first", "swing", a.shares->by_slope_first);
  j["overlap"] = a.overlap;
  j["count_alike"] = a.alike.size();
  if (a.alike_chance) {
    w.put(j, "swing_cut_alike", "swing", a.alike_chance->difference);
    j["p_alike"] = a.alike_chance->p;
  }
  if (a.hours_before) w.put(j, "duration_constant_before", "duration", 3600.0 * *a.hours_before);
  if (a.hours_after) w.put(j, "duration_constant_after", "duration", 3600.0 * *a.hours_after);
  if (a.loss_before) j["loss_W_per_K_before"] = *a.loss_before;
  if (a.loss_after) j["loss_W_per_K_after"] = *a.loss_after;
}

}  // namespace

std::string helped_json(const answers::HelpedAnswer& a, const Clock& clock) {
  Writer w;
  ordered_json j{{"verb", "helped"}, {"verdict", verdict_name(a.verdict)}};
  if (!a.why_not.empty()) j["why_not"] = a.why_not;
  if (!a.change_words.empty()) {
    j["change"] = a.change_words;
    j["date"] = time_of(clock, a.change);
    if (a.change_entry > 0) j["entry"] = a.change_entry;
  }
  j["windows"] = answers::window_word(a.kind);
  j["before"] = period_json(w, a.before, clock);
  j["after"] = period_json(w, a.after, clock);
  if (a.apart) put_fit(w, j, a);
  j["left_out"] = a.left_out;
  j["units"] = w.units();
  return written(j);
}

}  // namespace leat::tell
