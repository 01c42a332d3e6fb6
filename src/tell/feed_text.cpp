#include <fmt/core.h>

#include <cmath>

#include "tell/common.h"
#include "tell/table.h"
#include "tell/tell.h"

namespace leat::tell {
namespace {

std::string clock(double hour) {
  return fmt::format("{:02}:{:02}", static_cast<int>(hour),
                     static_cast<int>(std::lround(60.0 * (hour - std::floor(hour)))) % 60);
}

}  // namespace

std::string feed_text(const answers::FeedAnswer& a) {
  if (a.groups.empty()) return "No fish are described: add a heading such as [fish.trout] with in, count and mass.\n";
  std::string out;
  for (const answers::GroupFeed& g : a.groups) {
    out += g.stop ? fmt::format("{}: no feed today.\n", g.path)
                  : fmt::format("{}: {:.0f} g today, {:.1f} % of {:.2f} kg.\n", g.path, 1e3 * g.today.si(),
                                100.0 * g.share_of_mass, g.biomass.si());
    if (!g.stop) {
      std::string meals;
      for (const double hour : g.meals)
        meals += fmt::format("{}{:.0f} g at {}", meals.empty() ? "" : ", ", 1e3 * g.a_meal.si(), clock(hour));
      out += wrapped("  " + meals, 100, "  ");
    }
    for (const std::string& why : g.why) out += wrapped("  because " + why + ".", 100, "    ");
  }
  out += "\nStop rules\n";
  for (const std::string& rule : a.stop_rules) out += wrapped("  " + rule + ".", 100, "    ");
  if (!a.assumed.empty()) out += "\n";
  for (const std::string& assumed : a.assumed) out += wrapped("Taken: " + assumed + ".", 100, "  ");
  return out;
}

}  // namespace leat::tell
