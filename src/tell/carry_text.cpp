#include <fmt/core.h>

#include <algorithm>

#include "tell/bands.h"
#include "tell/common.h"
#include "tell/table.h"
#include "tell/tell.h"

namespace leat::tell {
namespace {

std::string kilograms(double kg) {
  return kg > 9999.0 ? "no limit" : fmt::format("{:.1f}", kg);
}

/// What it carries all year: over all years where they were drawn, else in the one with middle values.
std::string headline(const answers::CarryAnswer& a) {
  const answers::CarryWeek& tight = a.weeks[a.tightest];
  const std::string name = a.loop_name.empty() ? "This loop" : a.loop_name;
  const std::string fish = fmt::format("kg of {} of {:.0f} g", a.species, 1e3 * a.one_fish.si());
  std::string text = a.sure ? fmt::format(
                                  "{}: all year it carries {:.1f} {} in the middle of {} years (5 to 95 %: {:.1f} "
                                  "to {:.1f}). Now there are {:.1f} kg, more than that in {} of them. The year "
                                  "below is one with middle values: it carries {:.1f} kg.",
                                  name, a.sure->all_year.middle, fish, a.sure->how.members, a.sure->all_year.low,
                                  a.sure->all_year.high, a.now.si(), a.sure->over, a.all_year_kg)
                            : fmt::format(
                                  "{}: it carries {:.1f} {} all year, by one year with middle values. Now there "
                                  "are {:.1f} kg.",
                                  name, a.all_year_kg, fish, a.now.si());
  return wrapped(text + fmt::format(" What limits first is {}, in the week of {} at {:.0f} degC; next is {} at {} kg.",
                                    tight.limits[0].name, tight.first.text(), tight.water.celsius(),
                                    tight.limits[1].name, kilograms(tight.limits[1].kg)),
                 100, "  ");
}

std::string sure(const answers::CarryAnswer& a) {
  const answers::CarrySure& s = *a.sure;
  const int all = s.how.members;
  const auto in_years = [&](int some) { return fmt::format("in {} of {} years", some, all); };
  std::string out = how_drawn_text(s.how, "years, each with a weather of its own where none is recorded,");
  for (const answers::CarryCrossed& c : s.needs)
    out += fmt::format("  {}: allows less than there is now {}, limits first {}.\n", c.name, in_years(c.over),
                       in_years(c.first));
  if (a.kills_above)
    out += fmt::format("  Its warmest hour is above {:.0f} degC {}.\n", a.kills_above->celsius(), in_years(s.killing));
  return out + owed_text(s.owed, s.how.by_chance());
}

}  // namespace

std::string carry_text(const answers::CarryAnswer& a, bool with_assumptions) {
  std::string out = headline(a);
  out += wrapped(
      fmt::format(
          "Bed for the feed of that stock in its hungriest week: {:.1f} to {:.1f} m2 (40 to 100 g of feed per m2 a "
          "day: FAO 589 and UVI, from memory; both for warm water); there are {:.1f} m2.",
          a.bed_least.si(), a.bed_most.si(), a.bed.si()),
      100, "  ");
  const auto warmest = std::max_element(a.weeks.begin(), a.weeks.end(),
                                        [](const auto& x, const auto& y) { return x.warmest < y.warmest; });
  if (a.kills_above && warmest->warmest > *a.kills_above)
    out += wrapped(
        fmt::format("Its warmest hour is {:.1f} degC, in the week of {}: above {:.0f} degC, which kills when it "
                    "lasts for days. Shade, or a deeper or buried tank, comes before more fish.",
                    warmest->warmest.celsius(), warmest->first.text(), a.kills_above->celsius()),
        100, "  ");
  if (a.sure) out += sure(a);
  Table t({"week of", "water degC", "warmest", "carries kg", "limit", "next", "kg", "feed % a day"});
  for (std::size_t i = 0; i < a.weeks.size(); ++i) {
    const answers::CarryWeek& w = a.weeks[i];
    const std::string range =
        a.sure ? fmt::format(" ({} to {})", kilograms(a.sure->weeks[i].low), kilograms(a.sure->weeks[i].high)) : "";
    t.add({w.first.text(), fmt::format("{:.1f}", w.water.celsius()), fmt::format("{:.1f}", w.warmest.celsius()),
           kilograms(w.limits[0].kg) + range, w.limits[0].name, w.limits[1].name, kilograms(w.limits[1].kg),
           fmt::format("{:.1f}", 100.0 * w.ration)});
  }
  out += "\n" + t.text() + "\n";
  for (const std::string& assumed : a.assumed) out += wrapped("Taken: " + assumed + ".", 100, "  ");
  out += wrapped(
      a.sure ? "Go up to the lower end of the range, and on from there by your own readings."
             : "Oxygen and film are known to a factor of two: go up to half of this, and on from there by your own "
               "readings.",
      100, "  ");
  return out + (a.sure && with_assumptions ? drawn_text(a.sure->how.drawn, a.sure->how.together) : "");
}

}  // namespace leat::tell
