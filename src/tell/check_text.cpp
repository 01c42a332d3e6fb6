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

/// One line for each statement that holds everywhere or somewhere, with the parts it was asked of.
std::string what_holds(const answers::CheckAnswer& a) {
  std::vector<std::pair<std::string, std::string>> lines;
  for (const answers::Finding& f : a.findings) {
    if (f.verdict != answers::Verdict::good) continue;
    const auto same =
        std::find_if(lines.begin(), lines.end(), [&](const auto& line) { return line.first == f.statement; });
    if (same == lines.end())
      lines.emplace_back(f.statement, f.path);
    else
      same->second += ", " + f.path;
  }
  std::string out;
  for (const auto& [statement, paths] : lines)
    out += wrapped(fmt::format("  ok   {}: {}", in_words(statement), paths), 100, "       ");
  return out;
}

std::string cycle(const answers::CheckAnswer& a) {
  const auto& c = a.cycle;
  if (!c.switches) return c.said.empty() ? "" : "\n" + wrapped("No steady flow was found: " + c.said + ".", 100, "");
  std::string out = c.periodic
                        ? fmt::format(
                              "\nIt repeats every {:.1f} min. Levels and flows below are the highest of a "
                              "round; turnover, water and power its means.\n",
                              c.period.si() / 60.0)
                        : fmt::format("\nIt has no common period; means are over {:.1f} h.\n", c.period.si() / 3600.0);
  if (!c.said.empty()) out += wrapped(c.said + ".", 100, "");
  if (!c.averaging.empty())
    out += wrapped("Over days its mean flows cannot stand for it: " + c.averaging + ".", 100, "");
  if (c.beds.empty()) return out;
  Table t({"bed", "mean flow L/h", "share of flow", "wet share of time"});
  for (const auto& bed : c.beds)
    t.add({bed.path, shown_number("flow", bed.through.si()), fmt::format("{:.0f} %", 100.0 * bed.share_of_flow),
           fmt::format("{:.0f} %", 100.0 * bed.wet_share)});
  return out + t.text();
}

std::string mobile(const answers::CheckAnswer& a) {
  if (!a.mobile) return "";
  const answers::MobileWater& m = *a.mobile;
  std::string out = "\nWater that moves, counted at the sump with everything drained\n";
  Table t({"held up by", "L"});
  for (const auto& h : m.held_up) t.add({h.path, shown_number("water", h.water.si())});
  if (!m.held_up.empty()) out += t.text();
  out += m.window().si() > 0.0
             ? fmt::format("  safe fill: {} to {}, a window of {}; {} with the wanted margins; now {}\n",
                           shown_text("water", m.least().si()), shown_text("water", m.at_brim.si()),
                           shown_text("water", m.window().si()),
                           m.window_with_margins().si() >= 0.0
                               ? shown_text("water", m.window_with_margins().si())
                               : shown_text("water", -m.window_with_margins().si()) + " short",
                           shown_text("water", m.now.si()))
             : fmt::format("  safe fill: none. It needs {} and has room for {}: add {} of sump\n",
                           shown_text("water", m.least().si()), shown_text("water", m.at_brim.si()),
                           shown_text("water", -m.window().si()));
  return out;
}

std::string failures(const answers::CheckAnswer& a) {
  std::string out = "\nWhen one thing fails, within 4 hours\n";
  for (const auto& f : a.failures)
    out += wrapped(
        fmt::format(
            "  {}: spills {}{}{}", f.fault, f.spills,
            f.dry.empty() ? "" : "; " + f.dry.substr(0, f.dry.find(' ')) + " runs dry" + f.dry.substr(f.dry.find(' ')),
            f.fish_keep < 0.995 ? fmt::format("; the fish keep {:.0f} % of their depth", 100.0 * f.fish_keep) : ""),
        100, "      ");
  return out;
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

std::string check_text(const answers::CheckAnswer& a, bool with_assumptions, bool all) {
  std::string out = headline(a);
  out += "\n" + findings_text(a.findings, all ? a.findings.size() : 0);
  if (!all) out += what_holds(a);
  out += cycle(a);
  out += "\nLevels with the pumps running, and the space left after a power cut\n" + vessels(a);
  out += "\nPumps\n" + pumps(a);
  out += "\nPipes\n" + pipes(a);
  out += fmt::format(
      "\nA power cut brings {} back to the vessel with the pump. In all {}, {} a year, if nothing is ever off.\n",
      shown_text("water", a.drain_back.si()), shown_text("power", a.power.si()), shown_text("energy", a.yearly.si()));
  out += mobile(a);
  out += failures(a) + "\n";
  out += assumptions_text(a.assumptions, with_assumptions);
  out += "\n" + wrapped(caution_electricity, 110, "") + wrapped(caution_mass, 110, "");
  return out;
}

}  // namespace leat::tell
