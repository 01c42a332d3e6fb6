#include "science/fish/entries.h"
#include "science/fish/entry_input.h"
#include "science/fish/growth.h"
#include "science/fish/temperature_response.h"

namespace leat::science {
namespace {

const InputRow kStart = input("start_mass", "g", 1, 5000, "mass of one fish at the start");
const InputRow kEnd = input("end_mass", "g", 1, 5000, "mass of one fish at the end");
const InputRow kFish = input("fish_mass", "g", 1, 5000, "mass of one fish");
const InputRow kWater = input("temperature", "degC", 0, 40, "temperature of the water");
const InputRow kSpan = input("span", "d", 0, 1000, "time");

std::vector<InputRow> with_stock(std::vector<InputRow> rows) {
  rows.push_back(optional_words("tgc", "growth coefficient as the equation takes it, g^b/degC/d"));
  rows.push_back(optional_words("tgc_x100", "the same, printed times 100"));
  rows.push_back(optional_words("tgc_x1000", "the same, printed times 1000"));
  rows.push_back(optional_words("exponent", "exponent of mass that belongs to it; 1/3 unless given"));
  return rows;
}

TemperatureDifference<> degrees(const Given& g) {
  return TemperatureDifference<>(g("temperature"));
}

/// Degree-days as given, or a steady temperature over a time.
ThermalTime<> sum_in(const Given& g) {
  return g.has("degree_days") ? number_in(g, "degree_days", "degC d") * degree_day
                              : g("temperature") * g("span") * degree_day;
}

double length_growth(const Given& g) {
  // A condition factor in g/cm3 "x100" is Fulton's number as it stands.
  const Number<> fulton(plain_number(g, "condition"));
  return length_growth_thermal_unit(degrees(g), stock_in(g), fulton).in(Velocity<>(0.01 / 86400.0));
}

double days_to_mass(const Given& g) {
  const ThermalTime<> sum = thermal_time_to_mass(grams(g("start_mass")), grams(g("end_mass")), stock_in(g));
  return (sum / degrees(g)).in(units::day);
}

GrowthTemperatures limits_in(const Given& g) {
  return {celsius(g("plateau_low")), celsius(g("plateau_high")), celsius(g("zero")), celsius(g.get("base", 0.0))};
}

const std::vector<InputRow> kLimits{input("plateau_low", "degC", 5, 35, "growth rises up to here"),
                                    input("plateau_high", "degC", 5, 40, "growth falls from here"),
                                    input("zero", "degC", 10, 45, "growth ends here"),
                                    assumed("base", "degC", 0, 25, 0.0, "degrees count from here")};

std::vector<InputRow> joined(std::vector<InputRow> a, const std::vector<InputRow>& b) {
  a.insert(a.end(), b.begin(), b.end());
  return a;
}

double diel_mean(const Given& g) {
  const GrowthTemperatures limits = limits_in(g);
  // An amplitude is a difference, though tables write it in degC.
  const TemperatureDifference<> amplitude(plain_number(g, "amplitude"));
  return diel_mean_response(celsius(g("mean_temperature")), amplitude,
                            [&](Temperature<> t) { return effective_temperature_trapezoid(t, limits); })
      .si();
}

CardinalTemperatures cardinal_in(const Given& g) {
  return {celsius(g.get("low", 0.0)), celsius(g.get("best", 25.0)), celsius(g.get("high", 40.0))};
}

/// The temperature asked for; "Tmin or T=Tmax" and the like stand for the limits themselves.
Temperature<> bolte_temperature(const Given& g) {
  const std::string_view text = g.word("temperature");
  if (text.starts_with("Tmin")) return cardinal_in(g).low;
  if (text.starts_with("Tmax")) return cardinal_in(g).high;
  return celsius(number_in(g, "temperature", "degC"));
}

}  // namespace

std::vector<Entry> growth_entries() {
  return {
      {"fish_mass_thermal_unit",
       "Mass of a fish after a sum of degree-days",
       with_stock({kStart, optional_input("temperature", "degC", 0, 25, "steady temperature of the water"),
                   optional_input("span", "d", 0, 1000, "time at it"),
                   optional_words("degree_days", "or the sum itself, degC d")}),
       {{"mass", "g",
         [](const Given& g) {
           return fish_mass_thermal_unit(grams(g("start_mass")), sum_in(g), stock_in(g)).in(units::gram);
         }}},
       "Iwama & Tautz 1981; Cho 1992"},
      {"thermal_growth_gain",
       "Gain in mass to the power of the exponent",
       with_stock({kWater, kSpan}),
       {{"gain", "g^0.33", [](const Given& g) { return stock_in(g).coefficient * sum_in(g).in(degree_day); }}},
       "Iwama & Tautz 1981"},
      {"thermal_growth_from_weights",
       "Growth coefficient between two weighings",
       {kStart, kEnd, optional_words("degree_days", "sum, degC d"),
        optional_input("temperature", "degC", 0, 25, "or steady temperature"),
        optional_input("span", "d", 0, 1000, "and time"), optional_words("exponent", "1/3 unless given")},
       {{"tgc_x1000", "1000 g^(1/3)/degC/d",
         [](const Given& g) {
           return thermal_growth_from_weights(grams(g("start_mass")), grams(g("end_mass")), sum_in(g),
                                              plain_number(g, "exponent", 1.0 / 3.0))
               .thousandfold();
         }}},
       "Cho 1992"},
      {"time_to_mass_thermal_unit",
       "Days from one mass to another",
       with_stock({kStart, kEnd, kWater}),
       {{"time", "d", days_to_mass}},
       "Cho 1992, solved for time"},
      {"length_growth_thermal_unit",
       "Growth in length",
       with_stock({kWater, words("condition", "Fulton's condition factor, 100 g/cm3")}),
       {{"rate", "cm/d", length_growth}},
       "Jobling 2003"},
      {"specific_growth_thermal_unit",
       "Relative growth rate at this moment under thermal-unit growth",
       with_stock({kFish, kWater}),
       {{"rate", "%/d",
         [](const Given& g) {
           return specific_growth_thermal_unit(grams(g("fish_mass")), degrees(g), stock_in(g)).in(percent_per_day);
         }}},
       "derivative of Iwama & Tautz 1981"},
      {"fish_mass_specific_growth",
       "Mass after growing at a constant relative rate",
       {kStart, input("rate", "%/d", -5, 30, "specific growth rate"), kSpan},
       {{"mass", "g",
         [](const Given& g) {
           return fish_mass_specific_growth(grams(g("start_mass")), g("rate") * percent_per_day, days(g("span")))
               .in(units::gram);
         }}},
       "definition"},
      {"specific_growth_from_weights",
       "Relative growth rate between two weighings",
       {kStart, kEnd, kSpan},
       {{"rate", "%/d",
         [](const Given& g) {
           return specific_growth_from_weights(grams(g("start_mass")), grams(g("end_mass")), days(g("span")))
               .in(percent_per_day);
         }}},
       "definition, natural logarithms"},
      {"effective_temperature_trapezoid",
       "Degrees that count for growth",
       joined({kWater}, kLimits),
       {{"effective", "degC",
         [](const Given& g) { return effective_temperature_trapezoid(celsius(g("temperature")), limits_in(g)).si(); }}},
       "shape after Jobling 2003"},
      {"diel_mean_effective_temperature",
       "Mean over a sine day of the degrees that count",
       joined(
           {input("mean_temperature", "degC", 0, 40, "mean of the day"), words("amplitude", "half of the swing, degC")},
           kLimits),
       {{"effective", "degC", diel_mean}},
       "mean of the trapezoid"},
      {"temperature_response_beta",
       "Beta response of growth to temperature",
       {kWater, input("low", "degC", -5, 25, "nothing below"), input("best", "degC", 5, 40, "highest here"),
        input("high", "degC", 10, 50, "nothing above")},
       {{"share", "-",
         [](const Given& g) { return temperature_response_beta(celsius(g("temperature")), cardinal_in(g)).si(); }}},
       "Yan & Hunt 1999"},
      {"temperature_response_quadratic",
       "Parabola of growth about its best temperature",
       {kWater, input("best", "degC", 5, 40, "highest here"),
        words("width", "span in which nine tenths are kept, degC")},
       {{"share", "-",
         [](const Given& g) {
           return temperature_response_quadratic(celsius(g("temperature")), celsius(g("best")),
                                                 TemperatureDifference<>(plain_number(g, "width")))
               .si();
         }}},
       "Katersky & Carter 2007"},
      {"temperature_response_bolte",
       "Flat-topped bell of growth about its best temperature",
       {words("temperature", "temperature of the water, degC; or Tmin, Tmax for a limit itself"),
        optional_input("low", "degC", -5, 25, "a hundredth left"), optional_input("best", "degC", 5, 40, "highest"),
        optional_input("high", "degC", 10, 50, "a hundredth left")},
       {{"share", "-",
         [](const Given& g) { return temperature_response_bolte(bolte_temperature(g), cardinal_in(g)).si(); }}},
       "Bolte, Nath & Ernst 1995"},
      {"q10",
       "Ratio of rates ten degrees apart",
       {input("rate_low", "-", 1e-9, 1e9, "rate at the lower temperature"),
        input("rate_high", "-", 1e-9, 1e9, "rate at the higher one"),
        input("temperature_low", "degC", -10, 50, "lower temperature"),
        input("temperature_high", "degC", -10, 50, "higher temperature")},
       {{"q10", "-",
         [](const Given& g) {
           return q10(g("rate_low"), g("rate_high"), celsius(g("temperature_low")), celsius(g("temperature_high")))
               .si();
         }}},
       "definition"},
      {"growth_loss_from_swing",
       "Growth that a daily swing may cost",
       {input("swing", "K", 0, 20, "from the day's lowest to its highest temperature")},
       {{"loss", "%",
         [](const Given& g) { return 100.0 * diel_swing_growth_loss(TemperatureDifference<>(g("swing"))).si(); }}},
       "J. Fish Biol. 78:436; Wurtsbaugh"},
  };
}

}  // namespace leat::science
