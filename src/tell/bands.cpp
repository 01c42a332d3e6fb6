#include "tell/bands.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "base/words/quantities.h"
#include "tell/common.h"
#include "tell/table.h"

namespace leat::tell {
namespace {

using answers::AheadAnswer;
using answers::Bands;
using answers::Spread;
using words::shown_number;
using words::shown_text;

/// "8.1 9.0 9.8": low, middle, high without a unit, for a table.
std::string three(std::string_view word, const Spread& s) {
  return fmt::format("{} .. {} .. {}", shown_number(word, s.low), shown_number(word, s.middle),
                     shown_number(word, s.high));
}

std::string tank_table(const AheadAnswer& a, const answers::TankBands& tank) {
  Table t({"day", "coldest degC", "warmest degC", "oxygen low mg/L", "TAN mg/L N"});
  for (std::size_t d = 0; d < tank.ammonia.size(); ++d)
    t.add({a.dates[d].text().substr(5), three("temperature", tank.temperature_low[d]),
           three("temperature", tank.temperature_high[d]), three("dissolved_oxygen", tank.oxygen_low[d]),
           three("ammonia", tank.ammonia[d])});
  return t.text();
}

/// "in 3 of 40 runs (8 %)"
std::string in_runs(int some, int all) {
  return fmt::format("in {} of {} runs ({:.0f} %)", some, all, 100.0 * some / all);
}

std::string crossings(const Bands& b) {
  if (b.crossings.empty())
    return fmt::format(
        "  No limit of a fish tank is crossed in any of them; of {} runs that still leaves up to {:.0f} %.\n",
        b.members, 100.0 * (1.0 - std::pow(0.05, 1.0 / b.members)));
  std::string out;
  for (const answers::Crossing& c : b.crossings)
    out +=
        fmt::format("  {}: {} goes {} {} {}.\n", c.path, words::quantity_row(c.quantity).label,
                    c.wants_above ? "below" : "above", shown_text(c.quantity, c.limit), in_runs(c.members, b.members));
  return out;
}

}  // namespace

std::string spread_text(std::string_view word, const Spread& s) {
  const std::string low = shown_number(word, s.low), high = shown_number(word, s.high);
  return low == high ? shown_text(word, s.middle) : fmt::format("{} ({} to {})", shown_text(word, s.middle), low, high);
}

std::string how_drawn_text(const answers::HowDrawn& how, const char* runs, std::size_t width) {
  std::string out = fmt::format("How sure: {} {} each with {} things that nobody knows drawn anew (seed {})",
                                how.members, runs, how.drawn.size(), how.seed);
  if (how.stopped > 0) out += fmt::format("; {} more stopped early and are not counted", how.stopped);
  return "\n" + wrapped(out + fmt::format(". So many take about {:.2g} s on two cores; the budget is {:g} s.",
                                          how.size.about, how.size.budget),
                        width, "  ");
}

std::string owed_text(const std::vector<answers::OwedMost>& all, double by_chance, bool differences,
                      std::size_t width) {
  std::string out =
      wrapped(fmt::format("What {} most to: rank correlation (5 to 95 % of 400 resamples); by chance up to {:.2f}",
                          differences ? "each owes" : "it owes", by_chance),
              width, "  ");
  for (const answers::OwedMost& o : all) {
    std::string things;
    for (const answers::Owed& t : o.to)
      things += fmt::format("{}{} {:+.2f} ({:+.2f} to {:+.2f})", things.empty() ? "" : ", ", t.thing, t.correlation,
                            t.low, t.high);
    out += wrapped(fmt::format("  {}{}: {}", o.what, differences ? "" : ", " + spread_text(o.quantity, o.spread),
                               things.empty() ? "nothing stands out" : things),
                   width, "    ");
  }
  return out;
}

std::string bands_text(const AheadAnswer& a) {
  const Bands& b = *a.bands;
  std::string out = how_drawn_text(b, "runs,");
  if (b.tanks.empty()) return out;
  out += "Of twenty runs one lies below the first number, one above the last.\n";
  for (const answers::TankBands& tank : b.tanks) out += tank.path + '\n' + tank_table(a, tank);
  out += "Chance that a limit is crossed\n" + crossings(b);
  for (std::size_t g = 0; g < b.fish_mass.size(); ++g)
    out += fmt::format("  {} at the end: {} each.\n", a.fish[g].path, spread_text("mass", b.fish_mass[g]));
  return out + b.tanks.front().path + ". " + owed_text(b.owed, b.by_chance());
}

std::string drawn_text(const std::vector<answers::Drawn>& drawn, const std::vector<answers::DrawnTogether>& together) {
  std::string out = "\nDrawn anew in each run:\n";
  for (const answers::Drawn& d : drawn)
    out += wrapped(fmt::format("  {}: {}; {}", d.name, d.width, d.source), 100, "    ");
  if (!together.empty()) out += "Not drawn apart (rank correlation):\n";
  for (const answers::DrawnTogether& t : together)
    out += wrapped(fmt::format("  {} and {}: {:+.1f}; {}", t.one, t.other, t.correlation, t.why), 100, "    ");
  return out;
}

}  // namespace leat::tell
