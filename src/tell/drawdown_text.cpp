#include "tell/drawdown_text.h"

#include <fmt/core.h>

#include <cmath>

#include "tell/bands.h"
#include "tell/common.h"
#include "tell/table.h"
#include "tell/tell.h"

namespace leat::tell {
namespace {

using answers::Drawdown;
using answers::time_words;
using answers::TimeBand;
using answers::TimeLeft;

/// A phone held upright shows about as much.
constexpr std::size_t kPhone = 60;

std::string mg(Density<> oxygen) {
  return fmt::format("{:g}", std::round(1e4 * oxygen.si()) / 10.0);
}

std::string left(Duration<> t) {
  return t.si() <= 0.0 ? "past" : time_words(t);
}

/// "1.8 h (1.4 h - 2.5 h)", one word where all three agree.
std::string band(const TimeBand& t) {
  const std::string soonest = left(t.soonest), likely = left(t.likely), latest = left(t.latest);
  if (soonest == likely && likely == latest) return likely;
  return fmt::format("{} ({} - {})", likely, soonest, latest);
}

std::string states(const Drawdown& d) {
  Table t({"fish are", "to " + mg(d.levels.low) + " mg/L", "to " + mg(d.levels.danger) + " mg/L"});
  for (const TimeLeft& s : d.states)
    t.add({std::string(state_name(s.state)) + (s.state == d.likely ? " *" : ""), band(s.to_low_now),
           band(s.to_danger_now)});
  return t.text();
}

std::string percent(double share) {
  return fmt::format("{:.0f} %", 100.0 * share);
}

/// Chances to fall to each level, and the middle of all draws.
std::string sure(const Drawdown& d) {
  const answers::DrawdownSure& sure = *d.sure;
  const std::string low = mg(d.levels.low) + " mg/L", danger = mg(d.levels.danger) + " mg/L";
  std::string out = how_drawn_text(sure.how, "draws,", kPhone);
  out += fmt::format("Chance of {} and of {} in {}, and ever\n", low, danger, time_words(sure.span));
  Table t({"fish are", low, danger, "ever " + low, "ever " + danger});
  for (const answers::StateSure& s : sure.states)
    t.add({std::string(state_name(s.state)) + (s.state == d.likely ? " *" : ""), percent(s.chance_low),
           percent(s.chance_danger), percent(s.chance_low_ever), percent(s.chance_danger_ever)});
  out += t.text();
  std::vector<answers::OwedMost> owed = sure.owed;
  for (answers::OwedMost& o : owed)
    o.what += fmt::format(", {} fish, middle {}", state_name(d.likely), time_words(Duration<>(o.spread.middle)));
  return out + owed_text(owed, sure.how.by_chance(), true, kPhone);
}

std::string actions(const Drawdown& d) {
  std::string out = "In this order\n";
  int n = 1;
  for (const answers::Action& action : d.actions) {
    out += wrapped(fmt::format("  {}. {}: {}.", n++, action.what, action.why), kPhone, "     ");
    if (!action.caution.empty()) out += wrapped("     Caution: " + action.caution + ".", kPhone, "     ");
  }
  return out;
}

}  // namespace

std::string drawdown_verdict(const Drawdown& d) {
  return wrapped(d.tank + ": " + d.verdict, kPhone, "  ");
}

std::string drawdown_text(const Drawdown& d) {
  if (d.states.empty()) return "";
  std::string out =
      fmt::format("\n{}: {:.1f} degC, {} mg/L when it failed\n", d.tank, d.temperature.celsius(), mg(d.oxygen));
  out += wrapped(fmt::format("  Saturated {:.1f} mg/L; calm fish take {:.2f} g of oxygen an hour.",
                             1e3 * d.saturation.si(), d.demand.si() * 3.6e6),
                 kPhone, "  ");
  out += fmt::format("From now, likely ({}); * likely\n", d.sure ? "5 - 95 %" : "soonest - latest") + states(d) +
         actions(d);
  if (d.sure) out += sure(d);
  out += wrapped("  " + d.band, kPhone, "  ");
  out += wrapped("  " + d.levels.source + ".", kPhone, "  ");
  for (const std::string& assumed : d.assumed) out += wrapped("  Taken: " + assumed + ".", kPhone, "  ");
  return out;
}

std::string emergency_text(const std::vector<answers::EmergencyTable>& tables) {
  std::string out;
  for (const answers::EmergencyTable& table : tables) {
    out += table.tank + ": time from the failure, soonest and likely\n";
    Table t(
        {"degC", "kg", "fish are", "to " + mg(table.levels.low) + " mg/L", "to " + mg(table.levels.danger) + " mg/L"});
    const auto two = [](const TimeBand& b) {
      const std::string soonest = time_words(b.soonest), likely = time_words(b.likely);
      return soonest == likely ? likely : soonest + " - " + likely;
    };
    for (const auto& row : table.rows)
      t.add({fmt::format("{:.0f}", row.temperature_c), fmt::format("{:.3g}", row.fish.si()),
             std::string(state_name(row.state)), two(row.to_low), two(row.to_danger)});
    out += t.text();
    out += wrapped("  " + table.levels.source + ".", kPhone, "  ");
    for (const std::string& assumed : table.assumed) out += wrapped("  Taken: " + assumed + ".", kPhone, "  ");
    out += "\n";
  }
  return out.empty() ? "No fish are described, so there is nothing to count down.\n" : out;
}

}  // namespace leat::tell
