#include <fmt/core.h>

#include "base/words/quantities.h"
#include "tell/bands.h"
#include "tell/common.h"
#include "tell/table.h"
#include "tell/tell.h"

namespace leat::tell {
namespace {

using answers::SeasonAnswer;
using answers::SeasonDate;
using answers::Spread;
using words::shown_number;
using words::shown_text;

std::string of_years(int some, int all) {
  return fmt::format("{} of {}", some, all);
}

std::string date_text(const SeasonDate& d, int years) {
  if (d.years == 0) return "not within these months";
  const std::string range = d.early == d.late
                                ? d.middle.text()
                                : fmt::format("{} ({} to {})", d.middle.text(), d.early.text(), d.late.text());
  return d.years == years ? range : fmt::format("{}, in {} years", range, of_years(d.years, years));
}

std::string headline(const SeasonAnswer& a) {
  const std::string name = a.loop_name.empty() ? "This loop" : a.loop_name;
  const CivilDate last = a.first.plus_days(a.days - 1);
  std::string out = fmt::format("{}, {} to {}, {} years of weather: ", name, a.first.text(), last.text(), a.years);
  if (a.risks.empty()) return out + "nothing goes beyond a limit in any of them.";
  const answers::SeasonRisk& worst = a.risks.front();
  return out + fmt::format("what goes wrong most often is {} of {}, in {} years.",
                           words::quantity_row(worst.quantity).label, worst.path, of_years(worst.years, a.years));
}

/// One sign a week: how many of the years go beyond the limit.
std::string week_signs(const std::vector<int>& by_week, int years) {
  std::string out;
  for (const int n : by_week) out += n == 0 ? '.' : 10 * n < 3 * years ? '-' : 10 * n < 7 * years ? '+' : '#';
  return out;
}

std::string risks(const SeasonAnswer& a) {
  if (a.risks.empty()) return "";
  Table t({"limit", "where", "in years", "week by week"});
  for (const answers::SeasonRisk& r : a.risks)
    t.add({fmt::format("{} {}", words::quantity_row(r.quantity).label, shown_text(r.quantity, r.limit)), r.path,
           of_years(r.years, a.years), week_signs(r.years_by_week, a.years)});
  return "\nBeyond a limit in some hour of the week  (. never, - in few years, + in about half, # in most)\n" +
         t.text();
}

std::string water(const SeasonAnswer& a) {
  Table t({"week of", "coldest degC", "in most years", "warmest degC", "in most years"});
  for (std::size_t w = 0; w < a.weeks.size(); w += 2) {
    const auto range = [](const Spread& s) {
      return fmt::format("{} to {}", shown_number("temperature", s.low), shown_number("temperature", s.high));
    };
    t.add({a.weeks[w].text(), shown_number("temperature", a.coldest[w].middle), range(a.coldest[w]),
           shown_number("temperature", a.warmest[w].middle), range(a.warmest[w])});
  }
  return "\nWater, every second week (middle of the years, and 5 to 95 % of them)\n" + t.text();
}

std::string life(const SeasonAnswer& a) {
  std::string out;
  for (const answers::SeasonFish& f : a.fish) {
    const std::string size = shown_text("mass", f.size);
    const std::string reaches = f.reaches_size.years == 0
                                    ? fmt::format("do not reach {} within these months", size)
                                    : fmt::format("reach {} on {}", size, date_text(f.reaches_size, a.years));
    out += wrapped(fmt::format("{}: {} {}; {} at the end. Feed {}.", f.path, f.species, reaches,
                               spread_text("mass", f.mass_at_end), spread_text("feed_given", f.feed)),
                   100, "    ");
  }
  for (const answers::SeasonCrop& c : a.crops) {
    std::string text = fmt::format("{}: {} ", c.path, c.crop);
    if (c.harvests.empty()) text += "is not ready within these months.";
    constexpr std::size_t told = 4;
    for (std::size_t h = 0; h < std::min(told, c.harvests.size()); ++h) {
      const bool same = h > 0 && c.whole[h] == c.whole[h - 1];
      text += fmt::format("{}{}{}", h > 0 ? "; " : "",
                          same         ? "again "
                          : c.whole[h] ? "ready and planted anew on "
                                       : "picked on ",
                          date_text(c.harvests[h], a.years));
    }
    if (c.harvests.size() > told) text += fmt::format("; and {} times more", c.harvests.size() - told);
    if (!c.harvests.empty()) text += fmt::format(". {} cut in all.", spread_text("fresh_mass", c.fresh));
    out += wrapped(text, 100, "    ");
  }
  return out.empty() ? "" : "\nFish and plants\n" + out;
}

std::string shortages(const SeasonAnswer& a) {
  if (a.shortages.empty()) return "";
  std::string out = "\nRuns short of what plants want\n";
  bool guessed = false;
  for (const answers::SeasonShortage& s : a.shortages) {
    guessed = guessed || s.assumed;
    const bool at_once = s.falls_below.late == a.first;
    out += wrapped(fmt::format("{}{}: below {} {}; {} at the end.", words::quantity_row(s.word).label,
                               s.assumed ? " *" : "", shown_text(s.word, s.least),
                               at_once ? "from the start" : "from " + date_text(s.falls_below, a.years),
                               spread_text(s.word.c_str(), s.at_end)),
                   100, "    ");
  }
  return out + (guessed ? "  * guessed at the start: have it measured, and write it under [water].\n" : "");
}

std::string bill(const SeasonAnswer& a) {
  std::string out =
      fmt::format("Top-up {}, electricity {:.0f} kWh", spread_text("water", a.bill.top_up), a.bill.energy / 3.6e6);
  if (a.bill.bicarbonate.high > 0.0)
    out += fmt::format(", base {} of potassium bicarbonate and {} of calcium hydroxide, week about",
                       spread_text("feed_given", a.bill.bicarbonate), spread_text("feed_given", a.bill.hydroxide));
  if (a.bill.priced)
    out += fmt::format("; with the feed, as far as priced, {:.0f} {} ({:.0f} to {:.0f})", a.bill.cost.middle,
                       a.currency.empty() ? "in all" : a.currency, a.bill.cost.low, a.bill.cost.high);
  else
    out += "; say prices under [prices] and it adds them up";
  out += ".";
  if (a.bill.bicarbonate.high > 0.0)
    out +=
        " Calcium hydroxide burns eyes, skin and fish: goggles and gloves, stirred into a bucket of water, into the "
        "sump in small steps.";
  return "\n" + wrapped(out, 100, "  ");
}

}  // namespace

std::string season_text(const SeasonAnswer& a, bool with_assumptions) {
  if (a.years == 0)
    return fmt::format("{}: no year could be run to its end. {}\n", a.loop_name.empty() ? "This loop" : a.loop_name,
                       a.why_stopped);
  std::string out = wrapped(headline(a), 100, "  ");
  if (a.stopped > 0)
    out +=
        wrapped(fmt::format("{} more years could not be run to their end: {}.", a.stopped, a.why_stopped), 100, "  ");
  out += risks(a) + water(a) + life(a) + shortages(a) + bill(a);
  out += wrapped(
      "The years differ in their weather and in what nobody knows of the loop, drawn anew for each; what you said of "
      "it "
      "is the same in all. Nobody sells or loses fish in it. Fish of one kind grow by the same law; "
      "compare with your own weighings after a month.",
      100, "  ");
  if (!a.how.drawn.empty()) out += how_drawn_text(a.how, "years,") + owed_text(a.owed, a.how.uncertainty);
  out += "\n" + assumptions_text(a.assumptions, with_assumptions);
  return a.how.drawn.empty() || !with_assumptions ? out : out + drawn_text(a.how.drawn, a.how.together);
}

}  // namespace leat::tell
