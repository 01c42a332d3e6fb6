#include <fmt/core.h>

#include <algorithm>

#include "tell/common.h"
#include "tell/table.h"
#include "tell/tell.h"

namespace leat::tell {
namespace {

std::string kilograms(double kg) {
  return kg > 9999.0 ? "no limit" : fmt::format("{:.1f}", kg);
}

}  // namespace

std::string carry_text(const answers::CarryAnswer& a) {
  const answers::CarryWeek& tight = a.weeks[a.tightest];
  std::string out = wrapped(
      fmt::format(
          "{}: it carries {:.1f} kg of {} of {:.0f} g all year. What limits first is {}, in the week of {} at {:.0f} "
          "degC; next is {} at {} kg. Now there are {:.1f} kg.",
          a.loop_name.empty() ? "This loop" : a.loop_name, a.all_year_kg, a.species, 1e3 * a.one_fish.si(),
          tight.limits[0].name, tight.first.text(), tight.water.celsius(), tight.limits[1].name,
          kilograms(tight.limits[1].kg), a.now.si()),
      100, "  ");
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
  Table t({"week of", "water degC", "warmest", "carries kg", "limit", "next", "kg", "feed % a day"});
  for (const answers::CarryWeek& w : a.weeks)
    t.add({w.first.text(), fmt::format("{:.1f}", w.water.celsius()), fmt::format("{:.1f}", w.warmest.celsius()),
           kilograms(w.limits[0].kg), w.limits[0].name, w.limits[1].name, kilograms(w.limits[1].kg),
           fmt::format("{:.1f}", 100.0 * w.ration)});
  out += "\n" + t.text() + "\n";
  for (const std::string& assumed : a.assumed) out += wrapped("Taken: " + assumed + ".", 100, "  ");
  out += wrapped(
      "Oxygen and film are known to a factor of two: go up to half of this, and on from there by your own readings.",
      100, "  ");
  return out;
}

}  // namespace leat::tell
