#include <stdexcept>

#include "science/fish/entries.h"
#include "science/fish/entry_input.h"
#include "science/fish/feeding.h"
#include "science/fish/gut.h"
#include "science/fish/stocking.h"

namespace leat::science {
namespace {

const InputRow kFish = input("fish_mass", "g", 0.1, 5000, "mass of one fish");
const InputRow kWater = input("temperature", "degC", 0, 35, "temperature of the water");
const InputRow kForm = optional_words("form", "the law in words; a remark");
constexpr Length<> kInch{0.0254};

/// Class from "4-5 in", "<1 in", ">10 in" or a length such as "4.2 in".
std::size_t class_in(const Given& g) {
  std::string_view text = g.word("length_class");
  if (text.starts_with('<')) return 0;
  if (text.starts_with('>')) return trout_classes - 1;
  text = text.substr(0, text.find(' '));
  const auto span = read_span(text);
  if (!span) throw std::out_of_range("length_class");
  return trout_class_of_length(span->middle() * kInch);
}

double table_ration(const Given& g) {
  const Temperature<> water = celsius(g("temperature"));
  if (g.has("length_class")) return ration_trout_table_printed(water, class_in(g)).in(percent_per_day);
  return ration_trout_table(water, grams(g("fish_mass"))).in(percent_per_day);
}

double formula_ration(const Given& g) {
  const TemperatureDifference<> degrees(g("temperature"));
  const Frequency<> growth = specific_growth_thermal_unit(grams(g("fish_mass")), degrees, stock_in(g));
  return ration_from_growth(growth, Number<>(g("feed_per_gain"))).in(percent_per_day);
}

double square_root_coefficient(const Given& g) {
  const Temperature<> water = celsius(g("temperature"));
  if (g.has("length")) return gastric_coefficient_length(water, Length<>(0.01 * g("length")));
  return gastric_coefficient_mass(water, grams(g("fish_mass")));
}

std::vector<Entry> ration_entries() {
  return {
      {"ration_trout_table",
       "Ration of trout by the table of Leitritz & Lewis",
       {kWater, optional_words("length_class", "inches, as printed: 4-5 in, <1 in, >10 in"),
        optional_input("fish_mass", "g", 0.05, 300, "or mass of one fish: without steps")},
       {{"ration", "% body weight/d", table_ration}},
       "Leitritz & Lewis 1980"},
      {"ration_from_growth",
       "Ration that thermal-unit growth asks for",
       {kFish, kWater, optional_words("tgc", "growth coefficient, g^b/degC/d"),
        optional_words("tgc_x100", "the same, printed times 100"),
        optional_words("tgc_x1000", "the same, printed times 1000"),
        optional_words("exponent", "exponent of mass; 1/3 unless given"),
        input("feed_per_gain", "-", 0.5, 3, "feed per gain")},
       {{"ration", "% body weight/d", formula_ration}},
       "ration = growth x feed per gain"},
      {"ration_haskell",
       "Ration from growth in length",
       {input("feed_per_gain", "-", 0.5, 3, "feed per gain"),
        input("length_growth", "in/d", 0, 0.2, "growth in length"), input("length", "in", 0.5, 30, "length")},
       {{"ration", "% body weight/d",
         [](const Given& g) {
           const Velocity<> growth(g("length_growth") * kInch.si() / units::day.si());
           return ration_haskell(Number<>(g("feed_per_gain")), growth, g("length") * kInch).in(percent_per_day);
         }}},
       "Haskell 1959; Piper et al. 1982"},
      {"daily_feed",
       "Feed per day for a number of fish",
       {words("count", "number of fish"), kFish, input("ration", "%/d", 0, 20, "feed per mass of fish")},
       {{"feed", "kg/d",
         [](const Given& g) {
           return daily_feed(plain_number(g, "count"), grams(g("fish_mass")), g("ration") * percent_per_day)
               .in(units::kilogram / units::day);
         }}},
       "definition"},
      {"feed_conversion_ratio",
       "Feed per mass gained",
       {words("feed", "feed given, mass or mass per time"), words("gain", "fish gained, in the same")},
       {{"ratio", "kg/kg", [](const Given& g) { return ratio_in(g, "feed", "gain"); }}},
       "definition"},
  };
}

std::vector<Entry> appetite_entries() {
  return {
      {"appetite_temperature",
       "Share of the ration that temperature leaves",
       {kWater, assumed("stop_low", "degC", -2, 25, 3, "no feeding at or below"),
        assumed("full_low", "degC", 0, 30, 5, "full from here"),
        assumed("full_high", "degC", 5, 35, 17, "full up to here"),
        assumed("stop_high", "degC", 10, 40, 20, "no feeding from here")},
       {{"share", "-",
         [](const Given& g) {
           const AppetiteTemperatures limits{celsius(g("stop_low")), celsius(g("full_low")), celsius(g("full_high")),
                                             celsius(g("stop_high"))};
           return appetite_temperature(celsius(g("temperature")), limits).si();
         }}},
       "common practice: trout in full to 17 degC, nothing at 20"},
      {"appetite_oxygen",
       "Share of the ration that oxygen leaves",
       {input("oxygen", "mg/L", 0, 20, "dissolved oxygen"), assumed("none", "mg/L", 0, 10, 4, "no feeding at or below"),
        assumed("full", "mg/L", 1, 15, 7, "full from here")},
       {{"share", "-",
         [](const Given& g) {
           return appetite_oxygen(Density<>(1e-3 * g("oxygen")), Density<>(1e-3 * g("none")),
                                  Density<>(1e-3 * g("full")))
               .si();
         }}},
       "after intake at 5.7 and 9.3 mg/L (Glencross)"},
  };
}

std::vector<Entry> gut_entries() {
  const InputRow content = input("content", "g", 1e-3, 1000, "food in the stomach, dry");
  return {
      {"gastric_evacuation_rate",
       "Share of the stomach's content that leaves per hour",
       {kWater, kForm},
       {{"rate", "1/h",
         [](const Given& g) { return gastric_evacuation_rate(celsius(g("temperature"))).si() * units::hour.si(); }}},
       "He & Wurtsbaugh 1993"},
      {"gastric_half_time",
       "Time until half of a meal has left the stomach",
       {kWater, kForm},
       {{"time", "h", [](const Given& g) { return gastric_half_time(celsius(g("temperature"))).in(units::hour); }}},
       "He & Wurtsbaugh 1993"},
      {"gut_passage_trout",
       "Time until trout have passed a meal of pellets",
       {optional_words("species", "rainbow trout"), optional_words("food", "pellets"), kWater},
       {{"time", "h", [](const Given& g) { return gut_passage_trout(celsius(g("temperature"))).in(units::hour); }}},
       "Windell et al. 1976"},
      {"gastric_rate_square_root",
       "Food that leaves the stomach per hour by the square-root law",
       {content, optional_input("fish_mass", "g", 1, 5000, "mass of a brown trout"),
        optional_input("length", "cm", 5, 80, "or length of a brook trout"), kWater, kForm},
       {{"rate", "g/h",
         [](const Given& g) {
           return gastric_rate_square_root(square_root_coefficient(g), grams(g("content"))).in(gram_per_hour);
         }}},
       "Aquac. Res. 52:4849 (2021); Khan et al. 2016"},
      {"gastric_empty_time_square_root",
       "Time until a meal is gone by the square-root law",
       {content, optional_input("fish_mass", "g", 1, 5000, "mass of a brown trout"),
        optional_input("length", "cm", 5, 80, "or length of a brook trout"), kWater, kForm},
       {{"time", "h",
         [](const Given& g) {
           return gastric_empty_time(square_root_coefficient(g), grams(g("content"))).in(units::hour);
         }}},
       "integral of the square-root law"},
  };
}

}  // namespace

std::vector<Entry> feeding_entries() {
  std::vector<Entry> all = ration_entries();
  for (Entry& entry : appetite_entries()) all.push_back(std::move(entry));
  for (Entry& entry : gut_entries()) all.push_back(std::move(entry));
  return all;
}

}  // namespace leat::science
