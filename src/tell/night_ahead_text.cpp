#include <fmt/core.h>

#include <cmath>

#include "base/words/quantities.h"
#include "tell/bands.h"
#include "tell/common.h"
#include "tell/table.h"
#include "tell/tell.h"

namespace leat::tell {
namespace {

std::string clock(double hour) {
  const int minutes = static_cast<int>(std::lround(hour * 60.0)) % 1440;
  return fmt::format("{:02d}:{:02d}", minutes / 60, minutes % 60);
}

const char* first_words(answers::Verdict verdict) {
  switch (verdict) {
    case answers::Verdict::bad:
      return "below the limit tonight";
    case answers::Verdict::tight:
      return "close to the limit tonight";
    default:
      return "well above the limit tonight";
  }
}

std::string bands(const answers::NightAheadAnswer& a) {
  const int members = a.how->members;
  std::string out = how_drawn_text(*a.how, "runs,") + "Oxygen mg/L, middle (5 to 95 % of the runs)\n";
  const auto three = [](const answers::Spread& s) {
    const auto shown = [](double o) { return words::shown_number("dissolved_oxygen", o); };
    return fmt::format("{} ({} to {})", shown(s.middle), shown(s.low), shown(s.high));
  };
  const auto below = [&](double limit) { return "below " + words::shown_number("dissolved_oxygen", limit); };
  Table t(
      {"tank", "at sunset", "lowest", "at sunrise", below(a.low.si()), below(answers::kDangerOfLimit * a.low.si())});
  const auto chance = [&](int some) { return fmt::format("{} of {}", some, members); };
  for (const answers::TankNight& n : a.tanks)
    t.add({n.path, three(n.dusk_band), three(n.lowest_band), three(n.dawn_band), chance(n.below), chance(n.danger)});
  return out + t.text() + a.tanks.front().path + ". " + owed_text(a.owed, a.how->by_chance());
}

}  // namespace

std::string night_ahead_text(const answers::NightAheadAnswer& a, bool with_assumptions) {
  const std::string name = a.loop_name.empty() ? "This loop" : a.loop_name;
  if (a.tanks.empty()) return fmt::format("{}: the night cannot be run. {}.\n", name, a.said);
  std::string out =
      fmt::format("{}, the night of {}: {}, by the model alone.\n", name, a.date.text(), first_words(a.verdict));
  Table t({"tank", fmt::format("at sunset {}", clock(a.sunset_hour)), "lowest mg/L", "at", "of saturation",
           fmt::format("at sunrise {}", clock(a.sunrise_hour)), "coldest degC"});
  for (const answers::TankNight& n : a.tanks)
    t.add({n.path, words::shown_number("dissolved_oxygen", n.dusk), words::shown_number("dissolved_oxygen", n.lowest),
           clock(n.lowest_hour), fmt::format("{:.0f} %", 100.0 * n.lowest / n.saturation),
           words::shown_number("dissolved_oxygen", n.dawn), words::shown_number("temperature", n.coldest)});
  out += t.text();
  out += wrapped(fmt::format("The limit is {}.{}", words::shown_text("dissolved_oxygen", a.low.si()),
                             a.verdict == answers::Verdict::good
                                 ? ""
                                 : " An air stone on before that hour, no late feed, and somebody who looks."),
                 100, "  ");
  if (a.how) out += bands(a);
  out += wrapped(
      fmt::format("{} Read the oxygen at dusk and again two or three hours later, and ask with both: --reading \"18:00 "
                  "9.0 mg/L\" --reading \"21:00 8.1 mg/L\". That is worth more than this.",
                  a.how ? "What algae, film and stones do here is guessed, and a bloom that dies is not in it."
                        : "One run with middle values and no band: what algae, film and stones do here is guessed."),
      100, "  ");
  out += "\n" + assumptions_text(a.assumptions, with_assumptions);
  if (a.how && with_assumptions) out += drawn_text(a.how->drawn, a.how->together);
  return out + (a.verdict == answers::Verdict::good ? "" : wrapped(caution_electricity, 110, ""));
}

}  // namespace leat::tell
