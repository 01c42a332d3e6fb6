#include <fmt/core.h>

#include <algorithm>

#include "answers/dose.h"
#include "base/units/parse.h"
#include "doors/command/files.h"
#include "doors/command/from_record.h"
#include "doors/command/measured_flag.h"
#include "doors/command/refused.h"
#include "doors/command/verbs.h"
#include "model/flow/water_run.h"
#include "science/water/dosing.h"
#include "science/water/substances.h"
#include "tell/dose_json.h"
#include "tell/tell.h"

namespace leat::doors {
namespace {

using answers::DoseRequest;
using For = DoseRequest::For;

constexpr std::pair<std::string_view, For> kWhat[] = {{"base", For::base},         {"acid", For::acid},
                                                      {"nitrite", For::nitrite},   {"iron", For::iron},
                                                      {"chlorine", For::chlorine}, {"chloramine", For::chloramine},
                                                      {"change", For::change}};

double plain(const std::string& text, const char* flag, double otherwise, double low, double high, const char* example,
             Problems& problems) {
  if (text.empty()) return otherwise;
  const auto read = read_number(text);
  const double* number = std::get_if<double>(&read);
  if (number && *number >= low && *number <= high) return *number;
  problems.add({flag, 0, 0, "",
                fmt::format("\"{}\" is no number from {:g} to {:g}; write for example {}", text, low, high, example)});
  return otherwise;
}

double share(const std::string& text, const char* flag, double otherwise, Problems& problems) {
  if (text.ends_with("%")) {
    std::string number = text.substr(0, text.size() - 1);
    while (number.ends_with(' ')) number.pop_back();
    return plain(number, flag, otherwise, 0.0, 100.0, "\"45 %\"", problems) * (number.empty() ? 1.0 : 0.01);
  }
  return plain(text, flag, otherwise, 0.0, 1.0, "0.45", problems);
}

using Ways = std::vector<std::string_view>;

/// kg/m3 as CaCO3, under which a kit says that there is none.
constexpr double kLeastAlkalinity = 1e-4;

Density<> density(const std::string& text, const char* flag, const Ways& ways, const char* example,
                  Problems& problems) {
  return Density<>(counted(text, flag, ways, 0.0, 100.0, example, problems).value_or(0.0));
}

void wants(const std::string& text, const char* flag, const char* why, Problems& problems) {
  if (text.empty()) problems.add({flag, 0, 0, "", fmt::format("is wanted here: {}", why)});
}

void read_acidity(const DoseFlags& f, DoseRequest& r, Problems& problems) {
  wants(f.pH, "--ph", "the pH now, such as --ph 6.2", problems);
  r.pH = plain(f.pH, "--ph", 7.0, 4.0, 10.0, "6.2", problems);
  // Where pH stands higher than that already, a base only holds it.
  r.target_pH =
      plain(f.target_pH, "--to", r.what == For::base ? std::clamp(r.pH, 7.0, 9.0) : 7.0, 5.0, 9.0, "7.0", problems);
  if (!f.shaken.empty() && !f.alkalinity.empty())
    problems.add({"--shaken", 0, 0, "", "tells the alkalinity as --kh does; give one of them"});
  if (!f.shaken.empty()) r.shaken_pH = plain(f.shaken, "--shaken", 7.0, 4.0, 10.0, "6.8", problems);
  if (const auto kh = counted(f.alkalinity, "--kh", {"CaCO3", "HCO3"}, 0.0, 1.0, "20 mg/L", problems)) {
    if (*kh < kLeastAlkalinity)
      problems.add({"--kh", 0, 0, "",
                    "with none left pH tells nothing of carbon dioxide; shake a jar of it with air and give that pH, "
                    "--shaken 6.8, or leave --kh out"});
    r.alkalinity = Concentration<>(*kh / 50.043e-3);
  }
  if (const auto n = counted(f.ammonia, "--ammonia", {"N", "NH3", "NH4"}, 0.0, 0.1, "1.5 mg/L", problems))
    r.ammonia = Concentration<>(*n / 14.007e-3);
  r.feed = MassRate<>(measured(f.feed, "--feed", dim::mass_rate, 0.0, 1.0, "150 g/d", problems).value_or(0.0));
  r.protein = share(f.protein, "--protein", 0.45, problems);
  r.plants_take = share(f.plants, "--plants", 0.0, problems);
  r.ionic_strength = Concentration<>(1e3 * plain(f.ionic, "--ionic", 0.0, 0.0, 0.5, "0.008", problems));
  r.phosphate =
      Concentration<>(density(f.phosphorus, "--phosphorus", {"P", "PO4"}, "5 mg/L", problems).si() / 30.974e-3);
  r.reagent = !f.reagent.empty() ? f.reagent : r.what == For::acid ? "HCl" : "KHCO3";
  const auto reagent = science::find_reagent(r.reagent);
  std::string known;
  for (const science::Reagent& each : science::reagents())
    if ((each.equivalents > 0.0) == (r.what == For::base))
      known += (known.empty() ? "" : ", ") + std::string(each.formula);
  if (!reagent || (reagent->equivalents > 0.0) != (r.what == For::base))
    problems.add({"--with", 0, 0, "",
                  fmt::format("\"{}\" is not known as {} here; there are {}", r.reagent,
                              r.what == For::base ? "a base" : "an acid", known)});
  if (problems.empty() && (r.what == For::base) != (r.target_pH >= r.pH))
    problems.add({"--to", 0, 0, "",
                  fmt::format("pH {:g} to {:g} is the work of {}; ask for dose {}", r.pH, r.target_pH,
                              r.target_pH > r.pH ? "a base" : "an acid", r.target_pH > r.pH ? "base" : "acid")});
}

/// What a change is to lower may be anything, as long as all is counted alike or said how.
void same_way(const DoseFlags& f, Problems& problems) {
  int said = 0, open = 0;
  for (const std::string* text : {&f.reading, &f.target, &f.source})
    if (!text->empty()) (text->find(" as ") == std::string::npos ? open : said) += 1;
  if (said > 0 && open > 0)
    problems.add({"--reading", 0, 0, "",
                  "and --target and --there must be counted alike; say it of all, such as \"100 mg/L as NO3\""});
}

void read_others(const DoseFlags& f, DoseRequest& r, Problems& problems) {
  const bool salt = r.what == For::nitrite, change = r.what == For::change;
  const Ways as_read = salt                  ? Ways{"NO2", "N"}
                       : change              ? Ways{"N", "NO3", "NO2", "NH4", "NH3"}
                       : r.what == For::iron ? Ways{"Fe"}
                                             : Ways{"Cl2"};
  r.reading = density(f.reading, "--reading", as_read, "0.5 mg/L", problems);
  r.target = density(f.target, "--target", as_read, "2 mg/L", problems);
  r.source = density(f.source, "--there", salt ? Ways{"Cl", "NaCl"} : as_read, "10 mg/L", problems);
  if (change) same_way(f, problems);
  r.ratio = plain(f.ratio, "--ratio", 10.0, 1.0, 100.0, "10", problems);
  r.share = share(f.share, "--share", 0.06, problems);
  r.new_water =
      Volume<>(measured(f.new_water, "--new-water", dim::volume, 1e-3, 100.0, "200 L", problems).value_or(0.0));
  if (r.what == For::nitrite) wants(f.reading, "--reading", "nitrite as NO2, such as --reading \"0.5 mg/L\"", problems);
  if (r.what == For::iron) wants(f.target, "--target", "iron wanted, such as --target \"2 mg/L\"", problems);
  if (r.what == For::chlorine || r.what == For::chloramine) {
    wants(f.reading, "--reading", "chlorine in the new water, such as --reading \"0.8 mg/L\"", problems);
    wants(f.new_water, "--new-water", "how much, such as --new-water \"200 L\"", problems);
  }
  if (r.what == For::change) {
    wants(f.reading, "--reading", "what is too much, such as --reading \"120 mg/L\"", problems);
    wants(f.target, "--target", "what it should be, such as --target \"60 mg/L\"", problems);
  }
}

/// Grams of feed a day over the last seven days before today, if it was noted on at least three days of it.
std::string feed_of_the_week(const FromRecord& from) {
  double grams = 0.0;
  int days = 0;
  CivilDate last{};
  const Clock& clock = from.loop.site.place.clock;
  const auto date_of = [&](record::Moment at) { return clock.local(Instant{1e-3 * static_cast<double>(at)}).date; };
  const int today = date_of(from.now).serial();
  for (const learn::Deed& d : from.history.deeds) {
    const CivilDate date = date_of(d.at);
    // Whole days: today may have a meal to come.
    if (d.what != "fed" || !d.grams || date.serial() >= today || date.serial() < today - 7) continue;
    days += date == last ? 0 : 1;
    last = date;
    grams += *d.grams;
  }
  return days >= 3 ? fmt::format("{:.0f} g/d", grams / days) : "";
}

/// Fills in from the record what the flags leave open.
FromRecord take_record(const model::Loop& loop, For what, DoseFlags& flags, Problems& problems) {
  FromRecord from = from_record(flags.loop, loop, flags.from, std::nullopt, problems);
  const auto fill = [](std::string& flag, std::string text) {
    if (flag.empty()) flag = std::move(text);
  };
  fill(flags.temperature, from.flag_text("temperature"));
  if (what == For::nitrite)
    if (const learn::Reading* r = from.present.of("nitrite"))
      fill(flags.reading, fmt::format("{:.4g} mg/L", r->value() * 46.005 / 14.007));
  if (what != For::base && what != For::acid) return from;
  fill(flags.pH, from.flag_text("pH"));
  const learn::Reading* kh = from.present.of("alkalinity");
  if (flags.shaken.empty() && kh && kh->value() >= 1e3 * kLeastAlkalinity)
    fill(flags.alkalinity, from.flag_text("alkalinity"));
  fill(flags.ammonia, from.flag_text("ammonia"));
  const std::string feed = feed_of_the_week(from);
  if (flags.feed.empty() && !feed.empty())
    from.present.taken.push_back(
        {"feed", feed, "mean of the last seven days before today on which feed was noted", 0, true});
  fill(flags.feed, feed);
  return from;
}

/// What nobody said and was taken all the same.
std::vector<std::string> assumed(const DoseFlags& f, const DoseRequest& r, bool warmth_said) {
  std::vector<std::string> taken;
  const auto take = [&](bool unsaid, const std::string& words) {
    if (unsaid) taken.push_back(words);
  };
  const bool acidity = r.what == For::base || r.what == For::acid;
  take(acidity && !warmth_said, fmt::format("water at {:.1f} degC; read the thermometer", r.temperature.celsius()));
  take(acidity && f.feed.empty(),
       "no feed, so nothing for what it eats of the alkalinity each day; --feed \"150 g/d\"");
  take(acidity && !f.feed.empty() && f.protein.empty(), "feed of 45 % protein; --protein");
  take(acidity && !f.feed.empty() && f.plants.empty(), "plants that take up none of its nitrogen as nitrate; --plants");
  take(acidity && f.ionic.empty() && f.phosphorus.empty(),
       "water without other salts and phosphate, of which each may ask for a tenth or two more; --ionic, --phosphorus");
  take(r.what == For::nitrite && f.source.empty(), "no chloride in the loop yet; --there \"10 mg/L\"");
  take(r.what == For::iron && f.reading.empty(), "no iron in the water yet; --reading");
  take(r.what == For::iron && f.share.empty(), "6 % of iron in the product; its label says, --share");
  take(r.what == For::change && f.source.empty(), "new water that holds none of it; --there");
  return taken;
}

}  // namespace

int verb_dose(const DoseFlags& asked) {
  Problems problems;
  DoseFlags flags = asked;
  if (flags.what.ends_with(".toml")) std::swap(flags.what, flags.loop);
  DoseRequest r;
  const auto what =
      std::find_if(std::begin(kWhat), std::end(kWhat), [&](const auto& w) { return w.first == flags.what; });
  if (what == std::end(kWhat)) {
    std::vector<std::string_view> names;
    for (const auto& [name, value] : kWhat) names.push_back(name);
    fmt::print(
        stderr,
        "leat dose: {}{}{} Say base, acid, nitrite, iron, chlorine, chloramine or change: leat dose base --ph 6.2\n",
        flags.what.empty() ? "dose what?" : fmt::format("\"{}\" is not known", flags.what),
        did_you_mean(flags.what, names), flags.what.empty() || !nearest_word(flags.what, names).empty() ? "" : ".");
    return 2;
  }
  r.what = what->second;
  std::optional<model::Loop> loop;
  FromRecord from;
  if (!flags.loop.empty()) loop = read_loop(flags.loop, problems);
  if (loop) from = take_record(*loop, r.what, flags, problems);
  const bool by_file = loop && loop->water.alkalinity_said && flags.alkalinity.empty() && flags.shaken.empty() &&
                       loop->water.alkalinity.si() * 50.043e-3 >= kLeastAlkalinity;
  if (by_file) flags.alkalinity = fmt::format("{:.4g} mg/L", 50.043 * loop->water.alkalinity.si());
  if (const auto v = measured(flags.water, "--water", dim::volume, 1e-3, 1e4, "3000 L", problems))
    r.water = Volume<>(*v);
  else if (loop)
    r.water = model::water_in(*loop, model::levels_at_rest(*loop));
  else if (flags.water.empty() && r.what != For::chlorine && r.what != For::chloramine)
    problems.add({"--water", 0, 0, "",
                  "is wanted, such as --water \"3000 L\", or name the loop's file: leat dose base loop.toml"});
  const auto t = measured(flags.temperature, "--temperature", dim::temperature, 272.0, 313.0, "13 degC", problems);
  r.temperature = t      ? Temperature<>::from_kelvin(*t)
                  : loop ? loop->water.temperature
                         : Temperature<>::from_celsius(12.0);
  if (r.what == For::base || r.what == For::acid)
    read_acidity(flags, r, problems);
  else
    read_others(flags, r, problems);
  if (!problems.empty()) return refused(problems);
  answers::DoseAnswer answer = answers::dose(r);
  answer.assumed = assumed(flags, r, t || (loop && loop->water.temperature_said));
  if (by_file && r.alkalinity)
    answer.assumed.push_back(fmt::format("alkalinity of {:.0f} mg/L as CaCO3, as the loop's file has it; --kh",
                                         50.043 * r.alkalinity->si()));
  fmt::print("{}", flags.json ? tell::dose_json(flags.what, answer, from.present.taken)
                              : tell::dose_text(answer) + from.text());
  return 0;
}

}  // namespace leat::doors
