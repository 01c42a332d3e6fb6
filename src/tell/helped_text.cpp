#include "tell/helped_text.h"

#include <fmt/core.h>

#include <cmath>

#include "tell/table.h"

namespace leat::tell {
namespace {

using answers::HelpedAnswer;
using answers::HelpedVerdict;

std::string date_of(const Clock& clock, record::Moment at) {
  return clock.local(Instant{static_cast<double>(at) / 1000.0}).date.text();
}

std::string verdict_text(const HelpedAnswer& a) {
  const double share = a.apart->difference / a.before.line->slope;
  std::string text;
  if (a.verdict == HelpedVerdict::cannot_tell) return "Cannot tell from this: what is left may be chance.";
  text = fmt::format("{}: at equal weather the water swings about {:.0f} % {}.",
                     a.verdict == HelpedVerdict::steadier ? "It helped" : "It did not help", 100.0 * std::fabs(share),
                     share > 0.0 ? "less" : "more");
  if (!a.overlap)
    text +=
        " No day after had weather like a day before, so this is carried through the origin: wait for two clear days "
        "before claiming more.";
  return text;
}

std::string lines_text(const HelpedAnswer& a) {
  Table table({"", "windows", "air swing K", "water swing K", "water over air", "se"});
  for (const auto* p : {&a.before, &a.after})
    table.add({fmt::format("{}, {}", p == &a.before ? "before" : "after", p->where), fmt::format("{}", p->days.size()),
               fmt::format("{:.1f} ({:.1f} to {:.1f})", p->line->mean_x, p->least_air, p->most_air),
               fmt::format("{:.1f}", p->line->mean_y), fmt::format("{:.3f}", p->line->slope),
               fmt::format("{:.3f}", p->line->error)});
  return table.text();
}

std::string standard_text(const HelpedAnswer& a) {
  const double s = a.standard_swing;
  std::string text = fmt::format(
      "On a day when the air swings {:.0f} K: {:.1f} before, {:.1f} after, cut {:.1f} ({:.0f} %: {:.1f} to {:.1f}), "
      "days "
      "taken as independent",
      s, s * a.before.line->slope, s * a.after.line->slope, s * a.apart->difference, 100.0 * a.level,
      s * a.apart->interval.low, s * a.apart->interval.high);
  text += fmt::format("; {:.1f} to {:.1f} with days as alike as they are (the {} windows are worth about {:.0f})",
                      s * a.apart_alike->interval.low, s * a.apart_alike->interval.high,
                      a.before.days.size() + a.after.days.size(), a.independent_days);
  if (a.blocks)
    text += fmt::format("; {:.1f} to {:.1f} by redrawing blocks of {} days, too narrow for few days", s * a.blocks->low,
                        s * a.blocks->high, a.block);
  return text + ".";
}

std::string shares_text(const HelpedAnswer& a) {
  const auto& s = *a.shares;
  return fmt::format(
      "Of the plain drop of {:.1f} K ({:.1f} to {:.1f}): taking the weather first, {:.1f} is the weather and {:.1f} "
      "the "
      "change; taking the change first, {:.1f} is the change and {:.1f} the weather.",
      s.drop, a.before.line->mean_y, a.after.line->mean_y, s.by_x_first, s.drop - s.by_x_first, s.by_slope_first,
      s.drop - s.by_slope_first);
}

std::string alike_text(const HelpedAnswer& a) {
  if (a.alike.empty()) return "Days of alike weather (air swing within 1 K): none.";
  const science::Rearranged& chance = *a.alike_chance;
  const bool all = std::ldexp(1.0, static_cast<int>(a.alike.size())) == chance.arrangements;
  return fmt::format(
      "Days of alike weather (air swing within 1 K): {} pair{}, mean cut {:.1f} K, p {} by {}{:.0f} swaps{}.",
      a.alike.size(), a.alike.size() == 1 ? "" : "s", chance.difference,
      chance.p < 0.0005 ? "< 0.001" : fmt::format("= {:.3f}", chance.p), all ? "all " : "", chance.arrangements,
      all ? fmt::format(" (never less than {:.3f})", chance.smallest_p) : " that were drawn");
}

std::string constants_text(const HelpedAnswer& a) {
  if (!a.hours_before || !a.hours_after) return "";
  std::string text = fmt::format(
      "Seen as one store under a sine of air (the sun folded in): time constant {:.1f} h before, "
      "{:.1f} h after",
      *a.hours_before, *a.hours_after);
  if (a.loss_before && a.loss_after)
    text += fmt::format(", loss {:.0f} W/K before, {:.0f} after", *a.loss_before, *a.loss_after);
  return text + ".";
}

}  // namespace

std::string helped_text(const HelpedAnswer& a, const Clock& clock) {
  if (a.verdict == HelpedVerdict::not_comparable) {
    std::string text = wrapped("Cannot be compared: " + a.why_not + ".", 100, "  ");
    for (const std::string& out : a.left_out) text += wrapped("Left out, " + out + ".", 100, "  ");
    return text;
  }
  std::string text =
      fmt::format("{}, {}{}; {} windows.\n", a.change_words, date_of(clock, a.change),
                  a.change_entry > 0 ? fmt::format(" (entry {})", a.change_entry) : "", answers::window_word(a.kind));
  text += wrapped(verdict_text(a), 100, "") + "\n" + lines_text(a) + "\n";
  for (const std::string& line : {standard_text(a), shares_text(a), alike_text(a), constants_text(a)})
    if (!line.empty()) text += wrapped(line, 100, "  ");
  for (const std::string& out : a.left_out) text += wrapped("Left out, " + out + ".", 100, "  ");
  for (const std::string& taken : a.taken) text += wrapped("Taken: " + taken + ".", 100, "  ");
  text += wrapped(
      "A calmer season, plants that grew and a new thermometer change the swing as well; a second tank that "
      "was left alone would tell them apart. A steadier tank is not a cooler one in midsummer.",
      100, "  ");
  return text;
}

}  // namespace leat::tell
