#include <fmt/core.h>

#include <algorithm>

#include "base/words/quantities.h"
#include "tell/common.h"
#include "tell/table.h"
#include "tell/tell.h"

namespace leat::tell {
namespace {

using words::shown_number;
using words::shown_text;

std::string headline(const answers::CheckAnswer& a) {
  const auto count = [&](answers::Verdict v) {
    return std::count_if(a.findings.begin(), a.findings.end(),
                         [&](const answers::Finding& f) { return f.verdict == v; });
  };
  const auto bad = count(answers::Verdict::bad), tight = count(answers::Verdict::tight);
  const std::string name = a.loop_name.empty() ? "This loop" : a.loop_name;
  if (!a.running_settled)
    return fmt::format("{}: cannot tell. The levels found no rest with the pumps running.\n", name);
  if (bad > 0)
    return fmt::format("{}: no. {} of {} checks fail{}.\n", name, bad, a.findings.size(),
                       tight > 0 ? fmt::format(", {} are tight", tight) : "");
  if (tight > 0)
    return fmt::format("{}: yes, if you accept less margin in {} of {} checks.\n", name, tight, a.findings.size());
  return fmt::format("{}: yes. All {} checks hold with margin.\n", name, a.findings.size());
}

std::string vessels(const answers::CheckAnswer& a) {
  Table t({"vessel", "water L", "level m", "freeboard mm", "after power cut", "flow in L/h", "turnover /h"});
  for (const auto& v : a.vessels)
    t.add({v.path, shown_number("water", v.water.si()), shown_number("level", v.running.si()),
           shown_number("freeboard", v.freeboard_running.si()), shown_number("freeboard", v.freeboard_at_rest.si()),
           shown_number("flow", v.through.si()), shown_number("turnover", v.turnover.si())});
  return t.text();
}

std::string pumps(const answers::CheckAnswer& a) {
  Table t({"pump", "flow L/h", "head m", "power W", "", "energy kWh a year"});
  for (const auto& p : a.pumps)
    t.add({p.path, shown_number("flow", p.flow.si()), shown_number("head", p.head.si()),
           shown_number("power", p.power.si()), p.power_measured ? "measured" : "from efficiency",
           shown_number("energy", p.yearly.si())});
  return t.empty() ? "  no pump is described\n" : t.text();
}

std::string pipes(const answers::CheckAnswer& a) {
  Table t({"pipe or overflow", "flow L/h", "speed m/s", "head lost mm", "over rim mm"});
  for (const auto& p : a.pipes)
    t.add({p.path, shown_number("flow", p.flow.si()), shown_number("velocity", p.velocity.si()),
           shown_number("freeboard", p.loss.si()), ""});
  for (const auto& o : a.overflows)
    t.add({o.path, shown_number("flow", o.flow.si()), "", "",
           shown_number("freeboard", (o.over_rim + o.sleeve_loss).si())});
  return t.text();
}

}  // namespace

std::string check_text(const answers::CheckAnswer& a, bool with_assumptions) {
  std::string out = headline(a);
  out += "\n" + findings_text(a.findings, a.findings.size());
  out += "\nLevels with the pumps running, and the space left after a power cut\n" + vessels(a);
  out += "\nPumps\n" + pumps(a);
  out += "\nPipes\n" + pipes(a);
  out += fmt::format(
      "\nA power cut brings {} back to the vessel with the pump. In all {}, {} a year, if nothing is ever off.\n",
      shown_text("water", a.drain_back.si()), shown_text("power", a.power.si()), shown_text("energy", a.yearly.si()));
  out += "Not looked at yet: siphons, sequencing valves, timers, blocked or burst pipes, fouling.\n\n";
  out += assumptions_text(a.assumptions, with_assumptions);
  out += "\n" + wrapped(caution_electricity, 110, "") + wrapped(caution_mass, 110, "");
  return out;
}

}  // namespace leat::tell
