#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "base/words/quantities.h"
#include "tell/common.h"
#include "tell/table.h"
#include "tell/tell.h"

namespace leat::tell {
namespace {

using answers::CompareAnswer;
using answers::PartChange;
using answers::Verdict;
using words::shown_number;
using words::shown_text;

std::string headline(const CompareAnswer& a) {
  const char* verdict = a.verdict == Verdict::bad     ? "no"
                        : a.verdict == Verdict::tight ? "yes, if you accept this"
                                                      : "yes";
  std::string out = fmt::format("{}: {}.\n", a.plan_name.empty() ? "The plan" : a.plan_name, verdict);
  constexpr std::size_t kMost = 8;
  for (std::size_t i = 0; i < std::min(kMost, a.reasons.size()); ++i)
    out += wrapped("  " + a.reasons[i] + ".", 100, "    ");
  if (a.reasons.size() > kMost)
    out += fmt::format("  and {} more, with leat check on the plan.\n", a.reasons.size() - kMost);
  return out;
}

std::string tanks(const CompareAnswer& a) {
  if (a.tanks.empty()) return "";
  Table t({"tank", "", "flow L/h", "turnover /h", "warmest degC", "coldest degC", "swing K", "oxygen low mg/L",
           "power off, fed, to danger"});
  const auto row = [&](const std::string& name, const char* side, const answers::TankSides::One& o) {
    if (!o.there) {
      t.add({name, side, "-", "-", "-", "-", "-", "-", "-"});
      return;
    }
    t.add({name, side, shown_number("flow", o.flow.si()), shown_number("turnover", o.turnover.si()),
           shown_number("temperature", o.warmest), shown_number("temperature", o.coldest),
           shown_number("swing", o.swing), shown_number("dissolved_oxygen", o.oxygen_low),
           o.to_danger ? answers::time_words(*o.to_danger) : "-"});
  };
  for (const auto& tank : a.tanks) {
    row(tank.path, "now", tank.now);
    row("", "plan", tank.plan);
  }
  return fmt::format("\nTanks, over {} days of the same weather\n", a.plan_ahead.dates.size()) + t.text();
}

std::string totals(const CompareAnswer& a) {
  Table t({"", "now", "plan", "difference"});
  const auto row = [&](const char* name, const char* word, double now, double plan) {
    t.add({name, shown_text(word, now), shown_text(word, plan), shown_text(word, plan - now)});
  };
  row("water in the loop", "water", a.water_now.si(), a.water_plan.si());
  row("electric power", "power", a.now.power.si(), a.plan.power.si());
  row("energy a year", "energy", a.now.yearly.si(), a.plan.yearly.si());
  row("back after a power cut", "water", a.now.drain_back.si(), a.plan.drain_back.si());
  if (a.now.mobile && a.plan.mobile) {
    row("held up at most", "water", a.now.mobile->hold_up.si(), a.plan.mobile->hold_up.si());
    row("safe fill window", "water", a.now.mobile->window().si(), a.plan.mobile->window().si());
  }
  row("lost in a power cut", "water", a.now_outage.lost.si(), a.plan_outage.lost.si());
  std::string out = "\nIn all\n" + t.text();
  const double more = (a.water_plan - a.water_now).in(units::litre);
  if (more > 1.0)
    out +=
        wrapped(fmt::format("  {:.0f} L are to be filled in: take chlorine or chloramine out of tap water first, and "
                            "fill little by little.",
                            more),
                100, "  ");
  return out;
}

std::string checks(const CompareAnswer& a) {
  if (a.checks.empty()) return "\nNo check changes its verdict.\n";
  Table t({"check", "part", "now", "plan"});
  for (const auto& c : a.checks)
    t.add({in_words(c.statement), c.path, std::string(c.now ? verdict_word(c.now->verdict) : "-"),
           std::string(c.plan ? verdict_word(c.plan->verdict) : "-")});
  return "\nChecks that change\n" + t.text();
}

/// In the sizes as they were written.
std::string bill(const CompareAnswer& a) {
  std::string out;
  const auto part = [&](const PartChange& p) {
    std::string line = p.path + ":";
    for (const auto& key : p.keys)
      line += p.what == PartChange::What::changed
                  ? fmt::format(" {} {} -> {};", key.name, key.now.empty() ? "(not said)" : key.now,
                                key.plan.empty() ? "(not said)" : key.plan)
                  : fmt::format(" {} {};", key.name, key.plan);
    if (line.ends_with(";")) line.pop_back();
    if (line.ends_with(":")) line.pop_back();
    out += wrapped("  " + line, 100, "      ");
  };
  const auto group = [&](PartChange::What what, const char* title) {
    const std::size_t before = out.size();
    for (const PartChange& p : a.parts)
      if (p.what == what) part(p);
    if (out.size() > before) out.insert(before, fmt::format("\n{}\n", title));
  };
  group(PartChange::What::added, "To get and build");
  group(PartChange::What::changed, "To change");
  group(PartChange::What::removed, "Left over");
  return out.empty() ? "\nBoth describe the same parts.\n" : out;
}

}  // namespace

std::string compare_text(const CompareAnswer& a) {
  std::string out = headline(a) + tanks(a) + totals(a) + checks(a) + bill(a);
  out += "\n" + wrapped(caution_electricity, 110, "") + wrapped(caution_mass, 110, "");
  return out;
}

}  // namespace leat::tell
