#include <fmt/core.h>

#include <algorithm>

#include <cmath>

#include "base/words/quantities.h"
#include "tell/bands.h"
#include "tell/common.h"
#include "tell/plot.h"
#include "tell/table.h"
#include "tell/tell.h"

namespace leat::tell {
namespace {

using answers::AheadAnswer;
using answers::VesselAhead;
using words::shown_number;
using words::shown_text;

std::string clock_hour(double hour) {
  const int minutes = static_cast<int>(std::lround(hour * 60.0)) % 1440;
  return fmt::format("{:02d}:{:02d}", minutes / 60, minutes % 60);
}

std::string short_date(const CivilDate& date) {
  return date.text().substr(5);
}

std::string headline(const AheadAnswer& a) {
  const std::string name = a.loop_name.empty() ? "This loop" : a.loop_name;
  if (!a.finished) return fmt::format("{}: the run stopped early. {}\n", name, a.said);
  const auto none = std::all_of(a.findings.begin(), a.findings.end(),
                                [](const answers::Finding& f) { return f.verdict == answers::Verdict::cannot_tell; });
  if (none) return fmt::format("{}: {} days run; no fish tank to judge.\n", name, a.dates.size());
  const answers::Finding& first = a.findings.front();
  const std::string days = a.dates.size() == 1 ? "the day holds" : fmt::format("the {} days hold", a.dates.size());
  const std::string what = first.statement == "nothing_spills"
                               ? std::string("water over a brim")
                               : fmt::format("{}, {}", first.path, words::quantity_row(first.quantity).label);
  switch (first.verdict) {
    case answers::Verdict::bad:
      return fmt::format("{}: trouble ahead. What limits first is {}.\n", name, what);
    case answers::Verdict::tight:
      return fmt::format("{}: {}, but with little to spare. What limits first is {}.\n", name, days, what);
    default:
      return fmt::format("{}: {}. What limits first is {}.\n", name, days, what);
  }
}

std::string temperatures(const AheadAnswer& a, const VesselAhead& v) {
  Table t({"day", "air degC", "low", "at", "high", "at", "swing K", "oxygen low mg/L", "at", "of saturation"});
  for (std::size_t d = 0; d < v.days.size(); ++d) {
    const answers::VesselDay& day = v.days[d];
    const std::string air = d < a.air_low.size() ? fmt::format("{} to {}", shown_number("temperature", a.air_low[d]),
                                                               shown_number("temperature", a.air_high[d]))
                                                 : "";
    t.add({short_date(a.dates[d]), air, shown_number("temperature", day.temperature_low.value),
           clock_hour(day.temperature_low.hour), shown_number("temperature", day.temperature_high.value),
           clock_hour(day.temperature_high.hour), shown_number("swing", day.swing),
           shown_number("dissolved_oxygen", day.oxygen_low.value), clock_hour(day.oxygen_low.hour),
           fmt::format("{:.0f} %", 100.0 * day.oxygen_low_share)});
  }
  return t.text();
}

std::string chemistry(const AheadAnswer& a, const VesselAhead& v) {
  Table t({"day", "TAN mg/L N", "un-ionised", "nitrite mg/L N", "nitrate mg/L N", "pH", "KH mg/L CaCO3", "CO2 mg/L"});
  for (std::size_t d = 0; d < v.days.size(); ++d) {
    const answers::VesselDay& day = v.days[d];
    t.add({short_date(a.dates[d]), shown_number("ammonia", day.ammonia),
           shown_number("unionised_ammonia", day.unionised_ammonia_high.value), shown_number("nitrite", day.nitrite),
           shown_number("nitrate", day.nitrate),
           fmt::format("{} to {}", shown_number("pH", day.pH_low), shown_number("pH", day.pH_high)),
           shown_number("alkalinity", day.alkalinity), shown_number("carbon_dioxide", day.carbon_dioxide_high)});
  }
  return t.text();
}

std::string other_vessels(const AheadAnswer& a) {
  Table t({"vessel", "coldest degC", "warmest degC", "largest swing K", "oxygen low mg/L", "nitrate at end mg/L N"});
  for (const VesselAhead& v : a.vessels) {
    if (v.dry) {
      t.add({v.path, "dry", "", "", "", ""});
      continue;
    }
    double low = 1e9, high = -1e9, swing = 0.0, oxygen = 1e9;
    for (const auto& d : v.days) {
      low = std::min(low, d.temperature_low.value);
      high = std::max(high, d.temperature_high.value);
      swing = std::max(swing, d.swing);
      oxygen = std::min(oxygen, d.oxygen_low.value);
    }
    t.add({v.path, shown_number("temperature", low), shown_number("temperature", high), shown_number("swing", swing),
           shown_number("dissolved_oxygen", oxygen), shown_number("nitrate", v.days.back().nitrate)});
  }
  return t.text();
}

std::string living(const AheadAnswer& a) {
  std::string out;
  for (const auto& f : a.fish) {
    double fed = 0.0;
    for (const double kg : f.fed) fed += kg;
    const bool moved = f.counts.back() != f.count;
    const std::string now =
        f.count < 0.5 ? "none"
                      : fmt::format("{:.0f} {}, mean {}", f.count, f.species, shown_text("mass", f.mass_at_start));
    const std::string end =
        (moved ? fmt::format("{:.0f}{}", f.counts.back(), f.counts.back() < 0.5 ? "" : " of ") : "") +
        (f.counts.back() < 0.5 ? "" : shown_text("mass", f.mean_mass.back()));
    out += fmt::format("  {}: {} now, {} at the end; fed {} in all, {} on the first day and {} on the last.\n", f.path,
                       now, end, shown_text("feed_given", fed), shown_text("feed_given", f.fed.front()),
                       shown_text("feed_given", f.fed.back()));
  }
  for (const auto& p : a.plants)
    out += fmt::format("  {}: {}, {} at the end; took {} of nitrogen{}.\n", p.path, p.crop,
                       shown_text("fresh_mass", p.fresh_mass.back()), shown_text("nitrogen", p.nitrogen_taken),
                       p.ready_in_days ? fmt::format("; warm enough for harvest after day {}", *p.ready_in_days) : "");
  return out;
}

/// What the loop file has done within these days.
std::string deeds(const AheadAnswer& a) {
  std::string out;
  for (const model::Happening& deed : a.deeds)
    out += wrapped(fmt::format("  {}: {}.", deed.path, deed.words), 100, "    ");
  for (const auto& p : a.plants)
    for (const auto& cut : p.harvests)
      out += fmt::format("  {}: {} cut{} on {}.\n", p.path, shown_text("fresh_mass", cut.fresh),
                         cut.whole ? ", and planted anew" : "", cut.date.text());
  return out.empty() ? "" : "\nWhat is done\n" + out;
}

/// What plants want, mg/L (common practice), and what algae and solids are called.
struct WaterNote {
  std::string_view word, note;
};
constexpr WaterNote kWaterNotes[] = {
    {"phosphorus", "plants want 3 to 15"},    {"potassium", "plants want 30 to 80"},
    {"calcium", "plants want 40 to 100"},     {"magnesium", "plants want 10 to 30"},
    {"iron", "plants want 1 to 2, chelated"}, {"sodium", "plants bear 50"},
    {"chloride", "plants bear 150"},          {"chlorophyll", "5 is clear, 100 green"},
    {"ammonia_film", "of what would fit"},    {"nitrite_film", "of what would fit"},
    {"solids_carbon", "what is left to rot"},
};

std::string in_water(const AheadAnswer& a) {
  Table t({"what", "unit", "at start", "at the end", ""});
  bool guessed = false;
  for (const answers::InWater& w : a.in_water) {
    const words::QuantityRow& row = words::quantity_row(w.word);
    std::string note;
    for (const WaterNote& n : kWaterNotes)
      if (n.word == w.word) note = n.note;
    guessed = guessed || w.assumed;
    t.add({std::string(row.label) + (w.assumed ? " *" : ""), std::string(row.shown_unit), shown_number(w.word, w.start),
           shown_number(w.word, w.days.back()), note});
  }
  return t.text() + (guessed
                         ? "  * guessed at the start: trust the change more than the level, or read it and write it "
                           "under [water].\n"
                         : "");
}

/// Where one ledger's amounts came from and went, in grams.
std::string grams(const answers::LedgerTable& t, double molar) {
  std::string out;
  const auto add = [&](std::string_view name, double mol) {
    if (std::abs(mol * molar) >= 0.005) out += fmt::format(" {} {:+.2f},", name, mol * molar);
  };
  for (const auto& line : t.lines) add(line.account, line.amount);
  add("held", t.stock_end - t.stock_start);
  return out.empty() ? " nothing moved" : out.substr(0, out.size() - 1);
}

std::string closed_to(double miss) {
  return miss < 1e-12 ? std::string("better than 1e-12") : fmt::format("{:.0e}", miss);
}

std::string books(const AheadAnswer& a) {
  std::string out;
  double worst_mineral = 0.0;
  for (const auto& t : a.books) {
    const double molar = t.ledger == model::Ledger::nitrogen     ? 14.007
                         : t.ledger == model::Ledger::carbon     ? 12.011
                         : t.ledger == model::Ledger::oxygen     ? 31.998
                         : t.ledger == model::Ledger::phosphorus ? 30.974
                                                                 : 0.0;
    const double miss = std::abs(t.closure);
    if (t.ledger > model::Ledger::phosphorus) {
      worst_mineral = std::max(worst_mineral, miss);
      continue;
    }
    out += fmt::format("  {:<17} closed to {}", model::ledger_name(t.ledger), closed_to(miss));
    if (molar > 0.0) out += "; g:" + grams(t, molar);
    out += '\n';
  }
  return out +
         fmt::format(
             "  {:<17} closed to {}: potassium, calcium, magnesium, sodium, chloride, sulphur, iron, nitrogen gas\n",
             "each other", closed_to(worst_mineral));
}

/// What the share of the sun that had to be assumed leaves open, for the vessel that it moves most.
std::string sun_line(const answers::SunBand& band) {
  std::string where;
  for (const std::string& path : band.assumed_for) where += (where.empty() ? "" : ", ") + path;
  const answers::SunBand::Vessel& v = band.vessels.front();
  const auto said = [](const answers::AtShare& s) {
    return fmt::format("{} degC with a mean swing of {} K", shown_number("temperature", s.highest),
                       shown_number("swing", s.mean_swing));
  };
  return fmt::format(
      "\nNot known: how much sun the clear wall or lid of {} lets in ({:g} assumed). At {:g} {} would reach {}, at "
      "{:g} "
      "{}.\n",
      where, v.middle.share, v.low.share, v.path, said(v.low), v.high.share, said(v.high));
}

std::string weather_line(const AheadAnswer& a) {
  std::string out = "Weather: ";
  std::string last;
  for (std::size_t d = 0; d < a.weather_sources.size(); ++d) {
    if (a.weather_sources[d] == last) continue;
    last = a.weather_sources[d];
    out += fmt::format("{}{} from {}", d == 0 ? "" : ", ", last, short_date(a.dates[d]));
  }
  return out + ".\n";
}

}  // namespace

std::string ahead_text(const AheadAnswer& a, bool with_assumptions) {
  std::string out = headline(a);
  if (a.dates.empty()) return out;
  out += weather_line(a) + "\n" + findings_text(a.findings, 4);
  if (a.sun_band) out += sun_line(*a.sun_band);
  if (a.bands) out += bands_text(a);
  for (const VesselAhead& v : a.vessels) {
    if (!v.path.starts_with("tank.") || v.dry) continue;
    out += fmt::format("\n{}: temperature, degC, {} to {}\n", v.path, short_date(a.dates.front()),
                       short_date(a.dates.back()));
    std::vector<double> celsius;
    for (const double k : v.hourly_temperature) celsius.push_back(k - 273.15);
    out += braille_plot(celsius, 70, 6);
    out += "\n" + temperatures(a, v) + "\n" + chemistry(a, v);
  }
  out += "\nAll vessels\n" + other_vessels(a);
  out += deeds(a);
  out += "\nFish and plants\n" + living(a);
  out += "\nIn the water, mean of the loop\n" + in_water(a);
  out += "\nBooks\n" + books(a);
  out += fmt::format("\n{} states, {} steps. {}\n", a.states, a.counts.steps,
                     a.bands ? "What stands outside the bands is one run with middle values: take it as rough."
                             : "One run with middle values: take each number as rough; --members 40 draws bands.");
  out += fmt::format("Not in it: {}deaths of fish, deaths of algae that nobody put in, illness.\n\n",
                     a.mean_of_pulses ? "what happens within one cycle of siphons and timers, " : "");
  out += assumptions_text(a.assumptions, with_assumptions);
  return a.bands && with_assumptions ? out + drawn_text(a.bands->drawn, a.bands->together) : out;
}

std::string ahead_csv(const AheadAnswer& a) {
  std::string out =
      "vessel,date,temperature_low_degC,temperature_low_hour,temperature_high_degC,temperature_high_hour,swing_K,"
      "dissolved_oxygen_low_mg_L,"
      "dissolved_oxygen_low_hour,ammonia_mg_L_N,unionised_ammonia_high_mg_L_N,nitrite_mg_L_N,nitrate_mg_L_N,pH_low,pH_"
      "high,alkalinity_mg_L_CaCO3,"
      "carbon_dioxide_high_mg_L\n";
  for (const VesselAhead& v : a.vessels)
    for (std::size_t d = 0; d < v.days.size() && !v.dry; ++d) {
      const answers::VesselDay& day = v.days[d];
      out += fmt::format(
          "{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{}\n", v.path, a.dates[d].text(),
          shown_number("temperature", day.temperature_low.value), clock_hour(day.temperature_low.hour),
          shown_number("temperature", day.temperature_high.value), clock_hour(day.temperature_high.hour),
          shown_number("swing", day.swing), shown_number("dissolved_oxygen", day.oxygen_low.value),
          clock_hour(day.oxygen_low.hour), shown_number("ammonia", day.ammonia),
          shown_number("unionised_ammonia", day.unionised_ammonia_high.value), shown_number("nitrite", day.nitrite),
          shown_number("nitrate", day.nitrate), shown_number("pH", day.pH_low), shown_number("pH", day.pH_high),
          shown_number("alkalinity", day.alkalinity), shown_number("carbon_dioxide", day.carbon_dioxide_high));
    }
  return out;
}

}  // namespace leat::tell
