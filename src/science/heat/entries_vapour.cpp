#include "science/heat/entry_help.h"
#include "science/heat/plate_convection.h"

namespace leat::science::heat_entry {
namespace {

const InputRow kTemperature{"temperature", "degC", -30, 60, "of the surface or the air"};
const InputRow kHigh{"air_max", "degC", -30, 50, "highest air temperature of the day"};
const InputRow kLow{"air_min", "degC", -40, 40, "lowest air temperature of the day"};

double kpa(Pressure<> p) {
  return p.in(units::kilopascal);
}

std::vector<Entry> air_entries() {
  return {
      {"air_pressure_from_elevation",
       "pressure of the air at a height above the sea",
       {{"altitude", "m", -400, 5000, "above the sea"}},
       {{"air_pressure", "kPa",
         [](const Given& g) { return kpa(air_pressure_from_elevation(Length<>(g("altitude")))); }}},
       "FAO-56 equation 7"},
      {"psychrometric_constant",
       "psychrometric constant",
       pressure_rows(),
       {{"psychrometric_constant", "kPa K-1",
         [](const Given& g) { return psychrometric_constant(pressure_of(g)).in(kilopascal_per_kelvin); }}},
       "FAO-56 equation 8"},
      {"latent_heat",
       "heat to evaporate water",
       {kTemperature},
       {{"latent_heat", "MJ kg-1",
         [](const Given& g) { return latent_heat(celsius(g, "temperature")).in(megajoule_per_kilogram); }}},
       "FAO-56 annex 3"},
      {"wet_bulb",
       "temperature of a ventilated wet surface",
       rows({{kTemperature}, vapour_rows(), pressure_rows()}),
       {{"wet_bulb", "degC",
         [](const Given& g) { return wet_bulb(celsius(g, "temperature"), vapour_of(g), pressure_of(g)).celsius(); }}},
       "psychrometric equation of FAO-56 solved"},
      {"plate_convection_turbulent",
       "convection along a flat plate, turbulent from its edge",
       {{"wind", "m s-1", 0.1, 30, "along the plate"},
        {"length", "m", 0.1, 50, "of the plate along the wind"},
        assume({"temperature", "degC", -20, 50, "of the air"}, 20.0)},
       {{"conductance", "W m-2 K-1",
         [](const Given& g) {
           return plate_convection_turbulent(Velocity<>(g("wind")), Length<>(g("length")), celsius(g, "temperature"))
               .si();
         }}},
       "Incropera and DeWitt"},
  };
}

std::vector<Entry> saturation_entries() {
  return {
      {"saturation_vapour_pressure",
       "pressure of vapour over a flat surface of pure water",
       {kTemperature},
       {{"saturation_pressure", "kPa",
         [](const Given& g) { return kpa(saturation_vapour_pressure(celsius(g, "temperature"))); }}},
       "FAO-56 equation 11"},
      {"saturation_slope",
       "slope of the saturation pressure with temperature",
       {kTemperature},
       {{"saturation_slope", "kPa K-1",
         [](const Given& g) { return saturation_slope(celsius(g, "temperature")).in(kilopascal_per_kelvin); }}},
       "FAO-56 equation 13"},
      {"mean_saturation_vapour_pressure",
       "mean of the saturation pressures of the day's extremes",
       {kHigh, kLow},
       {{"saturation_pressure", "kPa", [](const Given& g) { return kpa(saturation_of(g)); }}},
       "FAO-56 equation 12"},
      {"dew_point",
       "temperature at which a vapour pressure saturates",
       rows({air_rows(), vapour_rows()}),
       {{"dew_point", "degC", [](const Given& g) { return dew_point(vapour_of(g)).celsius(); }}},
       "FAO-56 equation 11 turned round"},
      {"vapour_pressure_deficit",
       "saturation pressure less vapour pressure",
       rows({air_rows(), vapour_rows()}),
       {{"vapour_pressure_deficit", "kPa", [](const Given& g) { return kpa(saturation_of(g) - vapour_of(g)); }}},
       "FAO-56 chapter 3"},
  };
}

std::vector<Entry> humidity_entries() {
  return {
      {"vapour_pressure_from_psychrometer",
       "vapour pressure from a dry and a wet thermometer",
       rows({{{"dry_bulb", "degC", -10, 50, "dry thermometer"},
              {"wet_bulb", "degC", -10, 40, "wet thermometer"},
              assume({"coefficient", "K-1", 0.0006, 0.0012, "of the psychrometer"}, 0.000662)},
             pressure_rows()}),
       {{"vapour_pressure", "kPa",
         [](const Given& g) {
           return kpa(vapour_pressure_from_psychrometer(celsius(g, "dry_bulb"), celsius(g, "wet_bulb"), pressure_of(g),
                                                        g("coefficient")));
         }}},
       "FAO-56 equations 15 and 16"},
      {"vapour_pressure_from_rh_extremes",
       "vapour pressure from the humidity extremes of a day",
       rows({air_rows(), vapour_rows()}),
       {{"vapour_pressure", "kPa", [](const Given& g) { return kpa(vapour_of(g)); }}},
       "FAO-56 equation 17"},
      {"vapour_pressure_from_rh_max",
       "vapour pressure from the highest humidity and the lowest temperature",
       rows({air_rows(), vapour_rows()}),
       {{"vapour_pressure", "kPa", [](const Given& g) { return kpa(vapour_of(g)); }}},
       "FAO-56 equation 18"},
      {"vapour_pressure_from_rh_mean",
       "vapour pressure from the mean humidity of a day",
       rows({air_rows(), vapour_rows()}),
       {{"vapour_pressure", "kPa", [](const Given& g) { return kpa(vapour_of(g)); }}},
       "FAO-56 equation 19"},
      {"vapour_pressure_from_tmin",
       "vapour pressure when the dew point is the lowest air, less a deduction in dry places",
       {kLow, assume({"deduction", "K", 0, 6, "0 where dew is common, 3, or 6 where it hardly forms"}, 0.0)},
       {{"vapour_pressure", "kPa",
         [](const Given& g) {
           return kpa(saturation_vapour_pressure(celsius(g, "air_min") - TemperatureDifference<>(g("deduction"))));
         }}},
       "FAO-56 equation 48"},
  };
}

}  // namespace

std::vector<Entry> vapour_entries() {
  std::vector<Entry> all = air_entries();
  for (auto& group : {saturation_entries(), humidity_entries()}) all.insert(all.end(), group.begin(), group.end());
  return all;
}

}  // namespace leat::science::heat_entry
