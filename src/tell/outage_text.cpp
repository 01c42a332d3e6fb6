#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "base/words/quantities.h"
#include "tell/bands.h"
#include "tell/common.h"
#include "tell/drawdown_text.h"
#include "tell/table.h"
#include "tell/tell.h"

namespace leat::tell {
namespace {

using answers::OutageAnswer;
using words::shown_number;
using words::shown_text;

std::string hours(Duration<> t) {
  const double h = t.si() / 3600.0;
  return h < 1.0 ? fmt::format("{:.0f} min", 60.0 * h) : fmt::format("{:.1f} h", h);
}

std::string headline(const OutageAnswer& a) {
  std::string out = fmt::format("{}: {}.\n", a.loop_name.empty() ? "This loop" : a.loop_name, a.fault);
  if (!a.finished) return out + fmt::format("Cannot tell: {}.\n", a.said);
  for (const answers::Drawdown& d : a.fish) out += drawdown_verdict(d);
  if (!a.has_fish)
    out += "No fish are described, so there is nothing to count down.\n";
  else if (a.fish.empty())
    out += "Every tank with fish still gets water.\n";
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

std::string listed(const char* title, const std::vector<std::string>& lines) {
  if (lines.empty()) return "";
  std::string out = fmt::format("\n{}\n", title);
  for (const std::string& line : lines) out += wrapped("  " + line, 100, "    ");
  return out;
}

}  // namespace

std::string outage_text(const OutageAnswer& a, bool with_assumptions) {
  std::string out = headline(a);
  for (const answers::Drawdown& d : a.fish) out += drawdown_text(d);
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
  if (with_assumptions && !a.fish.empty() && a.fish.front().sure)
    out += drawn_text(a.fish.front().sure->how.drawn, a.fish.front().sure->how.together);
  out += "\n" + wrapped(caution_electricity, 110, "");
  out += wrapped(
      "Batteries and inverters stay above and away from the water; a generator never runs indoors; ice and tap "
      "water may hold chlorine.",
      110, "");
  return out;
}

}  // namespace leat::tell
