#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "base/words/quantities.h"
#include "tell/common.h"
#include "tell/table.h"
#include "tell/tell.h"

namespace leat::tell {
namespace {

using answers::OutageAnswer;
using answers::TimeLeft;
using words::shown_number;
using words::shown_text;

std::string hours(Duration<> t) {
  if (!std::isfinite(t.si())) return "never";
  const double h = t.si() / 3600.0;
  return h < 1.0 ? fmt::format("{:.0f} min", 60.0 * h) : fmt::format("{:.1f} h", h);
}

std::string left(Duration<> t, Duration<> since) {
  if (!std::isfinite(t.si())) return "never";
  return t <= since ? "past" : hours(t - since);
}

const TimeLeft* state_of(const answers::Drawdown& d, const std::string& state) {
  const auto found =
      std::find_if(d.states.begin(), d.states.end(), [&](const TimeLeft& t) { return t.state == state; });
  return found == d.states.end() ? nullptr : &*found;
}

std::string headline(const OutageAnswer& a) {
  std::string out = fmt::format("{}: {}.\n", a.loop_name.empty() ? "This loop" : a.loop_name, a.fault);
  if (!a.finished) return out + fmt::format("Cannot tell: {}.\n", a.said);
  for (const answers::Drawdown& d : a.fish)
    if (const TimeLeft* t = state_of(d, a.likely_state))
      out += wrapped(fmt::format("{} ({} fish): {} from now to 5 mg/L, {} to 3 mg/L ({} to {}).", d.tank, t->state,
                                 left(t->to_five, a.since), left(t->to_three, a.since),
                                 left(t->to_three_soonest, a.since), left(t->to_three_latest, a.since)),
                     100, "  ");
  if (a.fish.empty()) out += "Every tank with fish still gets water.\n";
  if (a.lost > Volume<>(1e-4))
    out += wrapped(
        fmt::format("Spills: {}{} in {:.0f} h.",
                    a.first_spill.empty() ? "out of the pipe"
                                          : fmt::format("{} first, after {}", a.first_spill, hours(*a.spills_after)),
                    ", " + shown_text("water", a.lost.si()), a.span.si() / 3600.0),
        100, "  ");
  else
    out += "Nothing spills.\n";
  if (!a.dry_pump.empty())
    out += wrapped(fmt::format("{} runs dry after {}.", a.dry_pump, hours(*a.dry_after)), 100, "  ");
  return out;
}

std::string vessels(const OutageAnswer& a) {
  Table t({"vessel", "before m", "lowest m", "highest m", "after m", "depth kept", "spilled L", "water comes until"});
  for (const auto& v : a.vessels)
    t.add({v.path, shown_number("level", v.before.si()), shown_number("level", v.lowest.si()),
           shown_number("level", v.highest.si()), shown_number("level", v.after.si()),
           fmt::format("{:.0f} %", 100.0 * v.depth_kept), shown_number("water", v.spilled.si()),
           v.fed_until ? hours(*v.fed_until) : "still"});
  return t.text();
}

std::string fish(const answers::Drawdown& d, const OutageAnswer& a) {
  std::string out =
      fmt::format("\n{}: {:.1f} degC, {:.1f} mg/L when it failed ({:.1f} saturated), calm fish take {:.2f} g/h\n",
                  d.tank, d.temperature.celsius(), 1e3 * d.oxygen.si(), 1e3 * d.saturation.si(), d.demand.si() * 3.6e6);
  Table t({"fish are", "times Liao", "to 5 mg/L", "band", "to 3 mg/L", "band "});
  for (const TimeLeft& s : d.states)
    t.add({s.state, fmt::format("{:.1f}", s.factor), left(s.to_five, a.since),
           left(s.to_five_soonest, a.since) + " to " + left(s.to_five_latest, a.since), left(s.to_three, a.since),
           left(s.to_three_soonest, a.since) + " to " + left(s.to_three_latest, a.since)});
  out += t.text();
  out +=
      wrapped(fmt::format("  Counted from now; it failed {}. The band: demand {:.1f} times either way, surface half to "
                          "double (common practice), both ends at once.",
                          a.since_known ? (a.since.si() < 60.0 ? "just now" : hours(a.since) + " ago")
                                        : hours(a.since) + " ago at the earliest, when all was last seen well",
                          answers::kDemandBand),
              100, "  ");
  for (const std::string& assumed : d.assumed) out += wrapped("  Taken: " + assumed + ".", 100, "  ");
  out += "\nIn this order\n";
  int n = 1;
  for (const answers::Action& action : d.actions) {
    out += wrapped(fmt::format("  {}. {}: {}.", n++, action.what, action.why), 100, "     ");
    if (!action.caution.empty()) out += wrapped("     Caution: " + action.caution + ".", 100, "     ");
  }
  return out;
}

std::string listed(const char* title, const std::vector<std::string>& lines) {
  if (lines.empty()) return "";
  std::string out = fmt::format("\n{}\n", title);
  for (const std::string& line : lines) out += wrapped("  " + line, 100, "    ");
  return out;
}

}  // namespace

std::string outage_text(const OutageAnswer& a, bool with_assumptions) {
  std::string out = headline(a);
  for (const answers::Drawdown& d : a.fish)
    if (!d.states.empty()) out += fish(d, a);
  if (a.finished) {
    out += "\nThe water\n" + vessels(a);
    out += listed("What happens", a.events);
    out += listed("When the power comes back", a.returning);
    out += listed("If it fails again while the vessels refill", a.failing_again);
    if (!a.returning.empty())
      out += wrapped(fmt::format("  A second failure loses {} in all.", shown_text("water", a.lost_second.si())), 100,
                     "  ");
  }
  out += "\n" + assumptions_text(a.assumptions, with_assumptions);
  out += "\n" + wrapped(caution_electricity, 110, "");
  out += wrapped(
      "Batteries and inverters stay above and away from the water; a generator never runs indoors; ice and tap "
      "water may hold chlorine.",
      110, "");
  return out;
}

std::string emergency_text(const std::vector<answers::EmergencyTable>& tables) {
  std::string out;
  for (const answers::EmergencyTable& table : tables) {
    out += fmt::format("{}: time from the failure, oxygen at 90 % of saturation before\n", table.tank);
    Table t({"degC", "fish of today's", "fish are", "to 5 mg/L", "to 3 mg/L"});
    for (const auto& row : table.rows)
      t.add({fmt::format("{:.0f}", row.temperature_c), fmt::format("{:.0f} %", 100.0 * row.stock), row.state,
             hours(row.to_five), hours(row.to_three)});
    out += t.text() + "\n";
  }
  return out.empty() ? "No fish are described, so there is nothing to count down.\n" : out;
}

}  // namespace leat::tell
