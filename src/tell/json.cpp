// Answers as JSON. Numbers are in the shown units of the vocabulary; "units" says them once for each word used.
#include <nlohmann/json.hpp>

#include "base/words/quantities.h"
#include "tell/common.h"
#include "tell/json_writer.h"
#include "tell/tell.h"

namespace leat::tell {
namespace {

using nlohmann::ordered_json;

ordered_json action_json(const answers::Action& action, Writer& w) {
  ordered_json j{{"what", action.what}, {"why", action.why}, {"caution", action.caution}};
  if (action.lasts_at_least) put_time(w, j, "duration_lasts_at_least", *action.lasts_at_least);
  if (action.lasts_at_most) put_time(w, j, "duration_lasts_at_most", *action.lasts_at_most);
  if (action.share_low) w.put(j, "share_of_need_low", "share", *action.share_low);
  if (action.share_high) w.put(j, "share_of_need_high", "share", *action.share_high);
  return j;
}

ordered_json drawdown_sure_json(const answers::DrawdownSure& sure, Writer& w) {
  ordered_json j;
  put_how_drawn(j, sure.how);
  w.put(j, "duration_span", "duration", sure.span.si());
  for (const answers::StateSure& s : sure.states) {
    ordered_json one{{"fish_are", answers::state_name(s.state)}};
    one["duration_from_now_to_low"] = spread_json(w, "duration", s.to_low);
    one["duration_from_now_to_danger"] = spread_json(w, "duration", s.to_danger);
    w.put(one, "share_low_within_span", "share", s.chance_low);
    w.put(one, "share_danger_within_span", "share", s.chance_danger);
    w.put(one, "share_low_ever", "share", s.chance_low_ever);
    w.put(one, "share_danger_ever", "share", s.chance_danger_ever);
    j["states"].push_back(std::move(one));
  }
  j["owes_most_to"] = owed_json(w, sure.owed);
  return j;
}

ordered_json fish_json(const answers::Drawdown& d, Writer& w) {
  constexpr double kOxygen = 0.031998;  // kg/mol
  const auto oxygen = [&](ordered_json& into, const char* key, Density<> o) {
    w.put(into, key, "dissolved_oxygen", o.si() / kOxygen);
  };
  ordered_json j;
  j["verdict"] = d.verdict;
  w.put(j, "temperature", d.temperature.kelvin());
  oxygen(j, "dissolved_oxygen", d.oxygen);
  oxygen(j, "oxygen_low", d.levels.low);
  oxygen(j, "oxygen_danger", d.levels.danger);
  j["levels"] = d.levels.source;
  j["likely_state"] = answers::state_name(d.likely);
  for (const answers::TimeLeft& t : d.states) {
    ordered_json s;
    s["fish_are"] = answers::state_name(t.state);
    oxygen(s, "oxygen_now", t.oxygen_now);
    put_band(w, s, "duration_to_low", t.to_low);
    put_band(w, s, "duration_to_danger", t.to_danger);
    put_band(w, s, "duration_from_now_to_low", t.to_low_now);
    put_band(w, s, "duration_from_now_to_danger", t.to_danger_now);
    j["states"].push_back(std::move(s));
  }
  for (const answers::Action& action : d.actions) j["actions"].push_back(action_json(action, w));
  if (!d.band.empty()) j["band"] = d.band;
  if (d.sure) j["bands"] = drawdown_sure_json(*d.sure, w);
  j["assumed"] = d.assumed;
  return j;
}

}  // namespace

std::string check_json(const answers::CheckAnswer& a) {
  Writer w;
  ordered_json j;
  j["verb"] = "check";
  j["loop"] = a.loop_name;
  j["settled"] = a.running_settled;
  j["findings"] = findings_json(a.findings, w);
  for (const auto& v : a.vessels) {
    ordered_json& o = j["vessels"][v.path];
    w.put(o, "water", v.water.si());
    w.put(o, "level", v.running.si());
    w.put(o, "level_lowest", "level", v.lowest.si());
    w.put(o, "level_at_rest", "level", v.at_rest.si());
    w.put(o, "freeboard", v.freeboard_running.si());
    w.put(o, "freeboard_at_rest", "freeboard", v.freeboard_at_rest.si());
    w.put(o, "flow", v.through.si());
    w.put(o, "turnover", v.turnover.si());
  }
  for (const auto& p : a.pumps) {
    ordered_json& o = j["pumps"][p.path];
    w.put(o, "flow", p.flow.si());
    w.put(o, "head", p.head.si());
    w.put(o, "power", p.power.si());
    o["power_measured"] = p.power_measured;
    w.put(o, "share_running", "share", p.running);
    w.put(o, "energy", p.yearly.si());
  }
  for (const auto& p : a.pipes) {
    ordered_json& o = j["pipes"][p.path];
    w.put(o, "flow", p.flow.si());
    w.put(o, "velocity", p.velocity.si());
    w.put(o, "head", p.loss.si());
  }
  for (const auto& p : a.overflows) {
    ordered_json& o = j["overflows"][p.path];
    w.put(o, "flow", p.flow.si());
    w.put(o, "head", (p.over_rim + p.sleeve_loss).si());
    w.put(o, "level", p.standpipe_level.si());
  }
  if (a.cycle.switches) {
    ordered_json& c = j["cycle"];
    c["periodic"] = a.cycle.periodic;
    w.put(c, "duration", a.cycle.period.si());
    if (!a.cycle.averaging.empty()) c["not_averaged"] = a.cycle.averaging;
    for (const auto& bed : a.cycle.beds) {
      ordered_json& o = c["beds"][bed.path];
      w.put(o, "flow", bed.through.si());
      w.put(o, "share_of_flow", "share", bed.share_of_flow);
      w.put(o, "share_wet", "share", bed.wet_share);
    }
  }
  if (a.mobile) {
    ordered_json& m = j["fill_window"];
    for (const auto& h : a.mobile->held_up) w.put(m["held_up"][h.path], "water", h.water.si());
    w.put(m, "water_held_up", "water", a.mobile->hold_up.si());
    w.put(m, "water_least", "water", a.mobile->least().si());
    w.put(m, "water_most", "water", a.mobile->at_brim.si());
    w.put(m, "water_window", "water", a.mobile->window().si());
    w.put(m, "water_window_with_margins", "water", a.mobile->window_with_margins().si());
    w.put(m, "water_now", "water", a.mobile->now.si());
  }
  for (const auto& f : a.failures) {
    ordered_json line{{"fault", f.fault}, {"spills", f.spills}, {"dry", f.dry}};
    w.put(line, "share_fish_keep", "share", f.fish_keep);
    j["failures"].push_back(std::move(line));
  }
  w.put(j, "drain_back", "water", a.drain_back.si());
  w.put(j, "power", a.power.si());
  w.put(j, "energy", a.yearly.si());
  j["assumptions"] = assumptions_json(a.assumptions);
  j["cautions"] = {caution_electricity, caution_mass};
  j["units"] = w.units();
  return written(j);
}

std::string outage_json(const answers::OutageAnswer& a) {
  Writer w;
  ordered_json j;
  j["verb"] = "outage";
  j["loop"] = a.loop_name;
  j["fault"] = a.fault;
  j["finished"] = a.finished;
  if (!a.said.empty()) j["said"] = a.said;
  w.put(j, "duration_since", "duration", a.since.si());
  j["since_known"] = a.since_known;
  for (const auto& v : a.vessels) {
    ordered_json& o = j["vessels"][v.path];
    w.put(o, "level", v.before.si());
    w.put(o, "level_lowest", "level", v.lowest.si());
    w.put(o, "level_highest", "level", v.highest.si());
    w.put(o, "level_after", "level", v.after.si());
    w.put(o, "share_depth_kept", "share", v.depth_kept);
    w.put(o, "water_spilled", "water", v.spilled.si());
    if (v.fed_until) w.put(o, "duration_fed", "duration", v.fed_until->si());
  }
  w.put(j, "water_lost", "water", a.lost.si());
  w.put(j, "water_comes_back", "water", a.comes_back.si());
  if (!a.first_spill.empty()) j["first_spill"] = a.first_spill;
  if (a.spills_after) w.put(j, "duration_to_spill", "duration", a.spills_after->si());
  if (!a.dry_pump.empty()) j["dry_pump"] = a.dry_pump;
  if (a.dry_after) w.put(j, "duration_to_dry", "duration", a.dry_after->si());
  for (const answers::Drawdown& d : a.fish) j["fish"][d.tank] = fish_json(d, w);
  j["events"] = a.events;
  j["returning"] = a.returning;
  j["failing_again"] = a.failing_again;
  j["assumptions"] = assumptions_json(a.assumptions);
  j["cautions"] = {caution_electricity};
  j["units"] = w.units();
  return written(j);
}

namespace {

ordered_json check_changes_json(const std::vector<answers::CheckChange>& changes) {
  ordered_json all = ordered_json::array();
  for (const auto& c : changes) {
    ordered_json j{{"statement", c.statement}, {"path", c.path}};
    j["change"] = std::string(change_word(c.what));
    if (c.now) j["now"] = std::string(verdict_word(c.now->verdict));
    if (c.plan) j["plan"] = std::string(verdict_word(c.plan->verdict));
    all.push_back(std::move(j));
  }
  return all;
}

ordered_json differences_json(const std::vector<answers::Difference>& differences, Writer& w) {
  ordered_json all = ordered_json::array();
  for (const auto& d : differences) {
    ordered_json j{{"path", d.path}, {"what", d.what}, {"quantity", d.quantity}};
    if (d.now) w.put(j, "now", d.quantity, *d.now);
    if (d.plan) w.put(j, "plan", d.quantity, *d.plan);
    if (d.now && d.plan) w.put(j, "difference", d.quantity, *d.plan - *d.now);
    all.push_back(std::move(j));
  }
  return all;
}

ordered_json sure_json(const answers::SureHowFar& s, Writer& w) {
  ordered_json j;
  put_how_drawn(j, s.how);
  for (const answers::SureSides& side : s.tanks) {
    ordered_json one{{"path", side.path}, {"what", side.what}, {"quantity", side.quantity}};
    one["now"] = spread_json(w, side.quantity, side.now);
    one["plan"] = spread_json(w, side.quantity, side.plan);
    const std::string difference(word_of_difference(side.quantity));
    one["difference"] = spread_json(w, difference, side.difference);
    one["better_members"] = side.better;
    one["owes_most_to"] = owed_things_json(side.owed);
    j["tanks"].push_back(std::move(one));
  }
  j["crossings"] = ordered_json::array();
  for (const answers::CrossedSides& c : s.crossed) {
    ordered_json one{{"path", c.path}, {"quantity", c.quantity}};
    w.put(one, "limit", c.quantity, c.limit);
    if (c.now) one["now_members"] = *c.now;
    if (c.plan) one["plan_members"] = *c.plan;
    j["crossings"].push_back(std::move(one));
  }
  return j;
}

ordered_json bill_json(const answers::Bill& bill) {
  ordered_json j{{"to_get", ordered_json::array()}, {"left_over", ordered_json::array()}};
  for (const auto& item : bill.items) {
    ordered_json one{{"what", item.what}, {"amount", std::round(100.0 * std::abs(item.to_get())) / 100.0}};
    one["unit"] = item.unit.empty() ? "pieces" : item.unit;
    j[item.to_get() > 0.0 ? "to_get" : "left_over"].push_back(std::move(one));
  }
  j["not_counted"] = bill.not_counted;
  return j;
}

}  // namespace

std::string compare_json(const answers::CompareAnswer& a) {
  Writer w;
  ordered_json j;
  j["verb"] = "compare";
  j["loop"] = a.now_name;
  j["plan"] = a.plan_name;
  j["verdict"] = std::string(plan_word(a.verdict));
  j["whole"] = a.whole;
  j["reasons"] = a.reasons;
  j["assumed"] = a.assumed;
  const auto tank = [&](const answers::TankSides::One& o) {
    ordered_json t = ordered_json::object();
    if (!o.there) return t;
    w.put(t, "flow", o.flow.si());
    w.put(t, "turnover", o.turnover.si());
    if (o.ran) {
      t["temperature"] = {{"low", w.value("temperature", o.coldest)}, {"high", w.value("temperature", o.warmest)}};
      w.put(t, "swing", o.swing);
      t["dissolved_oxygen"] = {{"low", w.value("dissolved_oxygen", o.oxygen_low)}};
    }
    if (o.to_danger) put_time(w, t, "duration_to_danger", *o.to_danger);
    return t;
  };
  for (const auto& t : a.tanks) j["tanks"][t.path] = {{"now", tank(t.now)}, {"plan", tank(t.plan)}};
  if (a.sure) j["bands"] = sure_json(*a.sure, w);
  const auto side = [&](const answers::CheckAnswer& check, const std::vector<answers::Finding>& findings,
                        Volume<> water, const answers::OutageAnswer& outage) {
    ordered_json s;
    w.put(s, "water", water.si());
    w.put(s, "power", check.power.si());
    w.put(s, "energy", check.yearly.si());
    if (check.mobile) w.put(s, "water_window", "water", check.mobile->window().si());
    w.put(s, "water_lost", "water", outage.lost.si());
    s["findings"] = findings_json(findings, w);
    return s;
  };
  j["now"] = side(a.now, a.now_findings, a.water_now, a.now_outage);
  j["proposed"] = side(a.plan, a.plan_findings, a.water_plan, a.plan_outage);
  j["checks"] = check_changes_json(a.checks);
  j["differences"] = differences_json(a.differences, w);
  j["bill"] = bill_json(a.bill);
  for (const auto& p : a.parts) {
    ordered_json part{{"path", p.path},
                      {"change", p.what == answers::PartChange::What::added     ? "added"
                                 : p.what == answers::PartChange::What::removed ? "removed"
                                                                                : "changed"}};
    for (const auto& key : p.keys) part["keys"][key.name] = {{"now", key.now}, {"plan", key.plan}};
    j["parts"].push_back(std::move(part));
  }
  j["cautions"] = {caution_electricity, caution_mass};
  j["units"] = w.units();
  return written(j);
}

}  // namespace leat::tell
