#include "science/heat/entry_help.h"
#include "science/heat/lake_evaporation.h"

namespace leat::science::heat_entry {
namespace {

const InputRow kWind2{"wind_at_2m", "m s-1", 0, 20, "at 2 m"};
const InputRow kLatent = assume({"latent_heat", "MJ kg-1", 2.3, 2.6, "of evaporation"}, 2.45);

SpecificEnergy<> latent_of(const Given& g) {
  return g("latent_heat") * megajoule_per_kilogram;
}

/// Saturation less vapour pressure at one place: both given, or from humidity.
Pressure<> lack_of(const Given& g) {
  if (g.has("vapour_pressure_deficit")) return kilopascals(g, "vapour_pressure_deficit");
  const Pressure<> saturation = g.has("saturation_pressure") ? kilopascals(g, "saturation_pressure") : saturation_of(g);
  if (g.has("vapour_pressure")) return saturation - kilopascals(g, "vapour_pressure");
  if (g.has("humidity")) return (1.0 - percent(g, "humidity").si()) * saturation;
  return saturation - vapour_of(g);
}

std::vector<InputRow> lack_rows() {
  return rows({{maybe({"saturation_pressure", "kPa", 0.3, 10, "at the surface"}),
                maybe({"vapour_pressure_deficit", "kPa", 0, 8, "saturation less vapour pressure"})},
               air_rows(),
               vapour_rows()});
}

/// Net radiation given, or from global radiation and its ratio to the clear sky's.
Flux<> net_radiation_of(const Given& g) {
  if (g.has("net_radiation")) return mj_per_day(g, "net_radiation");
  const Flux<> lost = net_longwave_fao_day(celsius(g, "air_max"), celsius(g, "air_min"), vapour_of(g),
                                           clear_ratio_of(g), g("kelvin_at_0_c"));
  return net_shortwave(mj_per_day(g, "global_radiation"), g("albedo")) - lost;
}

double penman_open_water_mm(const Given& g) {
  const DepthPerPressure fa(si_of_text(g, "wind_constant", "mm d-1 kPa-1"));
  const DepthPerPressureAndWind fb(si_of_text(g, "wind_slope", "mm d-1 kPa-1 per m s-1"));
  const OpenWaterDay day{celsius(g, "air_max"), celsius(g, "air_min"), vapour_of(g),
                         pressure_of(g),        net_radiation_of(g),   Velocity<>(g("wind_at_2m"))};
  return penman_open_water(day, fa, fb, latent_of(g)).in(mm_per_day);
}

std::vector<Entry> combination_entries() {
  return {
      {"evaporation_energy_method",
       "evaporation if all net radiation went into it",
       {{"net_radiation", "MJ m-2 d-1", -5, 40, "of the day"},
        kLatent,
        assume({"water_density", "kg m-3", 950, 1001, "of the water"}, 1000.0)},
       {{"evaporation", "mm d-1",
         [](const Given& g) {
           return energy_to_water_depth(mj_per_day(g, "net_radiation"), latent_of(g), Density<>(g("water_density")))
               .in(mm_per_day);
         }}},
       "FAO-56 equation 20"},
      {"evaporation_combination",
       "evaporation from the shares of energy and of drying air",
       {{"by_energy", "mm d-1", 0, 20, "if all net radiation went into it"},
        {"by_air", "mm d-1", 0, 20, "by dryness and wind"},
        maybe({"slope_over_gamma", "-", 0.5, 6, "saturation slope over psychrometric constant"}),
        maybe({"saturation_slope", "kPa K-1", 0.04, 0.5, "at air temperature"}),
        maybe({"psychrometric_constant", "kPa K-1", 0.04, 0.08, "of the air"})},
       {{"evaporation", "mm d-1",
         [](const Given& g) {
           const double ratio =
               g.has("slope_over_gamma") ? g("slope_over_gamma") : g("saturation_slope") / g("psychrometric_constant");
           return evaporation_combination(g("by_energy") * mm_per_day, g("by_air") * mm_per_day, Number<>(ratio))
               .in(mm_per_day);
         }}},
       "Penman 1948"},
      {"penman_open_water",
       "evaporation of open water from the weather of a day",
       rows({air_rows(),
             vapour_rows(),
             pressure_rows(),
             {kWind2,
              kLatent,
              maybe({"net_radiation", "MJ m-2 d-1", -5, 40, "of the water"}),
              maybe({"global_radiation", "MJ m-2 d-1", 0, 45, "of the day"}),
              maybe({"clear_sky_radiation", "MJ m-2 d-1", 0, 45, "of the day without cloud"}),
              maybe({"clear_ratio", "-", 0, 1, "global over clear sky"}),
              assume({"albedo", "-", 0, 0.3, "of the water"}, 0.08),
              {"wind_constant", "", 0, 0, "fa, with its unit"},
              {"wind_slope", "", 0, 0, "fb, with its unit"},
              assume({"kelvin_at_0_c", "K", 273, 273.2, "as the source has it"}, 273.16)}}),
       {{"evaporation", "mm d-1", penman_open_water_mm}},
       "Penman 1956, as in McMahon et al. 2013"},
      {"priestley_taylor",
       "evaporation by energy, raised for the air's own dryness",
       {{"by_energy", "mm d-1", 0, 20, "if all net radiation went into it"},
        {"saturation_slope", "kPa K-1", 0.04, 0.5, "at air temperature"},
        {"psychrometric_constant", "kPa K-1", 0.04, 0.08, "of the air"},
        assume({"alpha", "-", 1, 1.5, "factor"}, 1.26)},
       {{"evaporation", "mm d-1",
         [](const Given& g) {
           return priestley_taylor(g("by_energy") * mm_per_day, g("saturation_slope") * kilopascal_per_kelvin,
                                   g("psychrometric_constant") * kilopascal_per_kelvin, g("alpha"))
               .in(mm_per_day);
         }}},
       "Priestley and Taylor 1972"},
  };
}

double aerodynamic_log_mm(const Given& g) {
  // The wind's text may carry its height: "3 m s-1 at 2 m".
  const std::string_view text = g.word("wind");
  const std::size_t at = text.find(" at ");
  const double wind = si_of(text.substr(0, at), "m s-1", "wind");
  const double height =
      at == std::string_view::npos ? si_of_text(g, "height", "m") : si_of(text.substr(at + 4), "m", "height");
  return evaporation_aerodynamic_log(Velocity<>(wind), Length<>(height), Length<>(g("roughness")), lack_of(g),
                                     pressure_of(g), Density<>(g("air_density")), Density<>(g("water_density")))
      .in(mm_per_day);
}

std::vector<Entry> drying_entries() {
  return {
      {"evaporation_aerodynamic_log",
       "evaporation by the logarithmic profile of wind",
       rows({{{"wind", "", 0, 0, "with its unit, and its height behind 'at'"},
              maybe({"height", "", 0, 0, "of the wind, with its unit"}),
              {"roughness", "m", 1e-5, 0.1, "of the surface"},
              assume({"air_density", "kg m-3", 0.8, 1.4, "of the air"}, 1.19),
              assume({"water_density", "kg m-3", 950, 1001, "of the water"}, 997.0)},
             lack_rows(),
             pressure_rows()}),
       {{"evaporation", "mm d-1", aerodynamic_log_mm}},
       "Thornthwaite and Holzman 1939"},
      {"evaporation_dunne_wind",
       "evaporation by dryness and wind",
       rows({{kWind2}, lack_rows()}),
       {{"evaporation", "mm d-1",
         [](const Given& g) {
           return evaporation_dunne_wind(Velocity<>(g("wind_at_2m")), lack_of(g)).in(mm_per_day);
         }}},
       "Dunne and Leopold 1978"},
      {"lake_evaporation_linacre",
       "evaporation of a lake from little data",
       {{"temperature", "degC", -5, 40, "of the air"},
        {"dew_point", "degC", -20, 30, "of the air"},
        {"altitude", "m", 0, 4000, "above the sea"},
        {"global_radiation", "W m-2", 0, 400, "mean of the day"},
        {"wind", "m s-1", 0, 15, "mean"}},
       {{"evaporation", "mm d-1",
         [](const Given& g) {
           return lake_evaporation_linacre(celsius(g, "temperature"), celsius(g, "dew_point"), Length<>(g("altitude")),
                                           Flux<>(g("global_radiation")), Velocity<>(g("wind")))
               .in(mm_per_day);
         }}},
       "Linacre 1993"},
  };
}

PressureSlope<> gamma_of(const Given& g) {
  return g.has("psychrometric_constant") ? g("psychrometric_constant") * kilopascal_per_kelvin
                                         : psychrometric_constant(pressure_of(g));
}

std::vector<Entry> equilibrium_entries() {
  const std::vector<InputRow> shared{{"wet_bulb", "degC", -10, 40, "of the air"},
                                     {"wind_function", "W m-2 kPa-1", 0, 500, "of the surface"},
                                     maybe({"psychrometric_constant", "kPa K-1", 0.04, 0.08, "of the air"})};
  const auto f_of = [](const Given& g) { return g("wind_function") * watt_per_square_metre_kilopascal; };
  return {
      {"equilibrium_temperature",
       "temperature at which mixed water would neither warm nor cool",
       rows({shared, pressure_rows(), {{"net_radiation", "MJ m-2 d-1", -10, 40, "of water at the wet bulb"}}}),
       {{"temperature", "degC",
         [f_of](const Given& g) {
           return equilibrium_temperature(celsius(g, "wet_bulb"), mj_per_day(g, "net_radiation"), f_of(g), gamma_of(g))
               .celsius();
         }}},
       "de Bruin 1982, as in McMahon et al. 2013"},
      {"equilibrium_time_constant",
       "time in which mixed water closes all but 1/e of the way to equilibrium",
       rows({shared,
             pressure_rows(),
             {{"depth", "m", 0.01, 100, "of the water"},
              assume({"water_density", "kg m-3", 950, 1001, "of the water"}, 1000.0),
              assume({"water_specific_heat", "J kg-1 K-1", 4100, 4250, "of the water"}, 4180.0)}}),
       {{"time_constant", "d",
         [f_of](const Given& g) {
           const VolumetricHeat<> heat(g("water_density") * g("water_specific_heat"));
           return equilibrium_time_constant(Length<>(g("depth")), celsius(g, "wet_bulb"), f_of(g), gamma_of(g), heat)
               .in(units::day);
         }}},
       "de Bruin 1982, as in McMahon et al. 2013"},
  };
}

}  // namespace

std::vector<Entry> lake_entries() {
  std::vector<Entry> all = combination_entries();
  for (auto& group : {drying_entries(), equilibrium_entries()}) all.insert(all.end(), group.begin(), group.end());
  return all;
}

}  // namespace leat::science::heat_entry
