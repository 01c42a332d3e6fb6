#include "science/heat/entry_help.h"
#include "science/heat/wind.h"

namespace leat::science::heat_entry {
namespace {

const InputRow kWater{"water_temperature", "degC", 0, 45, "of the surface"};
const InputRow kAir{"temperature", "degC", -30, 45, "of the air"};
const InputRow kWind2{"wind_at_2m", "m s-1", 0, 20, "at 2 m"};

AirOverWater<> air_over_water(const Given& g, std::string_view wind) {
  return {celsius(g, "temperature"), vapour_of(g), pressure_of(g), Velocity<>(g(wind))};
}

double coefficient(VapourCoefficient<> f) {
  return f.in(watt_per_square_metre_kilopascal);
}

Velocity<> wind2(const Given& g) {
  return Velocity<>(g("wind_at_2m"));
}

std::vector<Entry> law_entries() {
  return {
      {"wind_function_adams",
       "wind function of free and forced convection with the water's size",
       rows({{kWater,
              kAir,
              {"rim_wind", "m s-1", 0, 20, "at the rim of the vessel"},
              {"area", "m2", 0.5, 1e6, "of the free surface"}},
             vapour_rows(),
             pressure_rows()}),
       {{"wind_function", "W m-2 kPa-1",
         [](const Given& g) {
           return coefficient(
               wind_function_adams(celsius(g, "water_temperature"), air_over_water(g, "rim_wind"), Area<>(g("area"))));
         }}},
       "Adams, Cosler and Helfrich 1990"},
      {"wind_function_ryan_harleman",
       "wind function of free and forced convection",
       rows({{kWater, kAir, kWind2}, vapour_rows(), pressure_rows()}),
       {{"wind_function", "W m-2 kPa-1",
         [](const Given& g) {
           return coefficient(wind_function_ryan(celsius(g, "water_temperature"), air_over_water(g, "wind_at_2m")));
         }}},
       "Ryan, Harleman and Stolzenbach 1974"},
      {"wind_function_penman_1948",
       "wind function of small sunk cylinders",
       {kWind2},
       {{"wind_function", "W m-2 kPa-1",
         [](const Given& g) { return coefficient(wind_function_penman_1948(wind2(g))); }}},
       "Penman 1948"},
      {"wind_function_penman_1956",
       "wind function of lakes",
       {kWind2},
       {{"wind_function", "W m-2 kPa-1",
         [](const Given& g) { return coefficient(wind_function_penman_1956(wind2(g))); }}},
       "Penman 1956"},
      {"wind_function_harbeck",
       "wind function of reservoirs, none in a calm",
       {kWind2, {"area", "m2", 4000, 1e8, "of the surface"}},
       {{"wind_function", "W m-2 kPa-1",
         [](const Given& g) { return coefficient(wind_function_harbeck(wind2(g), Area<>(g("area")))); }}},
       "Harbeck 1962"},
      {"wind_function_mcjannet",
       "wind function of lakes with their size",
       {{"wind_at_10m", "m s-1", 0, 25, "at 10 m"}, {"area", "m2", 1e4, 1e9, "of the surface"}},
       {{"wind_function", "W m-2 kPa-1",
         [](const Given& g) {
           return coefficient(wind_function_mcjannet(Velocity<>(g("wind_at_10m")), Area<>(g("area"))));
         }}},
       "McJannet et al. 2012"},
      {"wind_function_pan",
       "wind function of a class A pan",
       {kWind2},
       {{"wind_function", "W m-2 kPa-1", [](const Given& g) { return coefficient(wind_function_pan(wind2(g))); }}},
       "Thom, Thony and Vauclin 1981"},
      {"unit_change_mmhg_hpa",
       "a wind function per mmHg, per hPa",
       {{"wind_function", "W m-2 mmHg-1", 0, 100, "per mmHg"}},
       {{"wind_function", "W m-2 hPa-1",
         [](const Given& g) {
           constexpr Pressure<> mm_of_mercury{133.322387415}, hectopascal{100.0};
           const auto f = Flux<>(g("wind_function")) / mm_of_mercury;
           return f.in(Flux<>(1.0) / hectopascal);
         }}},
       "conventional millimetre of mercury"},
  };
}

std::vector<Entry> wind_entries() {
  return {
      {"wind_to_2m",
       "wind at 2 m over short grass",
       {{"wind", "m s-1", 0, 40, "measured"}, {"height", "m", 0.2, 50, "of the measurement"}},
       {{"wind_at_2m", "m s-1",
         [](const Given& g) { return wind_to_2m(Velocity<>(g("wind")), Length<>(g("height"))).si(); }}},
       "FAO-56 equation 47"},
      {"wind_log_profile",
       "wind at another height",
       {{"wind", "m s-1", 0, 40, "measured"},
        {"height", "m", 0.1, 100, "of the measurement"},
        {"roughness", "m", 1e-5, 2, "of the ground"},
        {"target_height", "m", 0.1, 100, "wanted"}},
       {{"wind", "m s-1",
         [](const Given& g) {
           return wind_log_profile(Velocity<>(g("wind")), Length<>(g("height")), Length<>(g("target_height")),
                                   Length<>(g("roughness")))
               .si();
         }}},
       "logarithmic profile"},
      {"rim_wind_factor",
       "wind at the rim of a vessel over wind at 2 m",
       {{"rim_height", "m", 0.1, 2, "above the ground"}, assume({"roughness", "m", 1e-4, 0.1, "of the ground"}, 0.03)},
       {{"factor", "-",
         [](const Given& g) { return rim_wind_factor(Length<>(g("rim_height")), Length<>(g("roughness"))).si(); }}},
       "logarithmic profile"},
      {"bowen_ratio",
       "warmth over vapour that leaves a water surface",
       rows({{kWater, kAir, maybe({"saturation_pressure", "kPa", 0.5, 10, "at the water"})},
             vapour_rows(),
             pressure_rows()}),
       {{"bowen_ratio", "-",
         [](const Given& g) {
           const Temperature<> water = celsius(g, "water_temperature");
           const Pressure<> at_water =
               g.has("saturation_pressure") ? kilopascals(g, "saturation_pressure") : saturation_vapour_pressure(water);
           return bowen_ratio(water, celsius(g, "temperature"), at_water, vapour_of(g), pressure_of(g)).si();
         }}},
       "Bowen 1926"},
  };
}

}  // namespace

std::vector<Entry> evaporation_entries() {
  std::vector<Entry> all = law_entries();
  for (Entry& entry : wind_entries()) all.push_back(std::move(entry));
  return all;
}

}  // namespace leat::science::heat_entry
