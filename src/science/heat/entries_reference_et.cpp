#include "science/heat/entry_help.h"
#include "science/heat/wind.h"

namespace leat::science::heat_entry {
namespace {

const InputRow kHigh{"air_max", "degC", -30, 50, "highest air temperature of the day"};
const InputRow kLow{"air_min", "degC", -40, 40, "lowest air temperature of the day"};

std::vector<InputRow> ratio_rows() {
  return {maybe({"global_radiation", "MJ m-2 d-1", 0, 45, "Rs"}),
          maybe({"clear_sky_radiation", "MJ m-2 d-1", 0, 45, "Rso"}), maybe({"clear_ratio", "-", 0, 1, "Rs/Rso"}),
          maybe({"extraterrestrial_radiation", "MJ m-2 d-1", 0, 50, "Ra"})};
}

std::vector<InputRow> wind_rows() {
  return {maybe({"wind_at_2m", "m s-1", 0, 20, "at 2 m"}), maybe({"wind", "m s-1", 0, 40, "at another height"}),
          maybe({"height", "m", 0.2, 50, "of that wind"})};
}

Velocity<> wind2_of(const Given& g) {
  if (g.has("wind_at_2m")) return Velocity<>(g("wind_at_2m"));
  return wind_to_2m(Velocity<>(g("wind")), Length<>(g("height")));
}

/// Heat into the ground: a flux, "0.1 Rn", or the share for the step when it is not given.
Flux<> ground_of(const Given& g, Flux<> net, double share, std::string_view bare_unit) {
  if (!g.has("ground_heat_flux")) return share * net;
  const std::string_view text = g.word("ground_heat_flux");
  if (const std::size_t rn = text.find("Rn"); rn != std::string_view::npos)
    return si_of(text.substr(0, text.find_last_of("0123456789", rn) + 1), "-", "ground_heat_flux") * net;
  return Flux<>(si_of(text, bare_unit, "ground_heat_flux"));
}

GrassWeather grass_weather(const Given& g, Flux<> net, Flux<> ground) {
  return {air_of(g), saturation_of(g), vapour_of(g), pressure_of(g), wind2_of(g), net, ground};
}

/// Net radiation as a flux: the rows state the unit of the day, and a flux is a flux.
Flux<> net_of(const Given& g, double albedo = 0.23) {
  if (g.has("net_radiation")) return mj_per_day(g, "net_radiation");
  const Flux<> lost =
      net_longwave_fao_day(celsius(g, "air_max"), celsius(g, "air_min"), vapour_of(g), clear_ratio_of(g));
  return net_shortwave(mj_per_day(g, "global_radiation"), albedo) - lost;
}

/// The hour's net radiation is stated per hour.
Flux<> net_of_hour(const Given& g) {
  return g("net_radiation") * megajoule_per_square_metre_hour;
}

double share_by_sign(Flux<> net) {
  return net.si() > 0.0 ? 0.1 : 0.5;
}

std::vector<InputRow> grass_rows(std::string_view radiation_unit) {
  return rows({air_rows(),
               vapour_rows(),
               pressure_rows(),
               wind_rows(),
               {maybe({"net_radiation", radiation_unit, -5, 40, "of the grass"}),
                maybe({"ground_heat_flux", "", 0, 0, "with its unit, or as a share such as 0.1 Rn"})}});
}

std::vector<Entry> net_entries() {
  return {
      {"energy_to_water_depth",
       "depth of water that a flux would evaporate",
       {{"heat", "MJ m-2 d-1", -10, 50, "of the day"},
        assume({"fraction", "-", 0, 1, "that goes into evaporation"}, 1.0),
        assume({"latent_heat", "MJ kg-1", 2.3, 2.6, "of evaporation"}, 2.45)},
       {{"depth", "mm d-1",
         [](const Given& g) {
           return energy_to_water_depth(g("fraction") * mj_per_day(g, "heat"),
                                        g("latent_heat") * megajoule_per_kilogram)
               .in(mm_per_day);
         }}},
       "FAO-56 equation 20"},
      {"net_shortwave",
       "global radiation that is not thrown back",
       {{"global_radiation", "MJ m-2 d-1", 0, 45, "Rs"}, assume({"albedo", "-", 0, 1, "of the surface"}, 0.23)},
       {{"net_shortwave", "MJ m-2 d-1",
         [](const Given& g) {
           return net_shortwave(mj_per_day(g, "global_radiation"), g("albedo")).in(megajoule_per_square_metre_day);
         }}},
       "FAO-56 equation 38"},
      {"net_radiation",
       "net short-wave less net long-wave",
       {maybe({"net_shortwave", "MJ m-2 d-1", 0, 45, "gained"}),
        {"net_longwave", "MJ m-2 d-1", -5, 15, "lost"},
        maybe({"global_radiation", "MJ m-2 d-1", 0, 45, "Rs"}),
        assume({"albedo", "-", 0, 1, "of the surface"}, 0.23)},
       {{"net_radiation", "MJ m-2 d-1",
         [](const Given& g) {
           const Flux<> gained = g.has("net_shortwave") ? mj_per_day(g, "net_shortwave")
                                                        : net_shortwave(mj_per_day(g, "global_radiation"), g("albedo"));
           return (gained - mj_per_day(g, "net_longwave")).in(megajoule_per_square_metre_day);
         }}},
       "FAO-56 equation 40"},
      {"net_longwave_fao_day",
       "net loss of long-wave of grass over a day",
       rows({{kHigh, kLow, assume({"kelvin_at_0_c", "K", 273, 273.2, "as the source has it"}, 273.16)},
             vapour_rows(),
             ratio_rows(),
             day_rows(),
             {maybe({"altitude", "m", -400, 5000, "above the sea"})}}),
       {{"net_longwave", "MJ m-2 d-1",
         [](const Given& g) {
           return net_longwave_fao_day(celsius(g, "air_max"), celsius(g, "air_min"), vapour_of(g), clear_ratio_of(g),
                                       g("kelvin_at_0_c"))
               .in(megajoule_per_square_metre_day);
         }}},
       "FAO-56 equation 39"},
  };
}

std::vector<InputRow> hour_longwave_rows() {
  return rows({{{"temperature", "degC", -30, 50, "of the air"},
                maybe({"global_radiation", "MJ m-2 h-1", 0, 5, "Rs"}),
                maybe({"clear_sky_radiation", "MJ m-2 h-1", 0, 5, "Rso"}),
                maybe({"clear_ratio", "-", 0, 1, "Rs/Rso; by night that of the hours before sunset"})},
               vapour_rows()});
}

std::vector<Entry> hour_net_entries() {
  return {
      {"net_longwave_fao_hour",
       "net loss of long-wave of grass over an hour",
       hour_longwave_rows(),
       {{"net_longwave", "MJ m-2 h-1",
         [](const Given& g) {
           return net_longwave_fao_hour(celsius(g, "temperature"), vapour_of(g), clear_ratio_of(g))
               .in(megajoule_per_square_metre_hour);
         }}},
       "FAO-56 equation 39 per hour"},
      {"net_longwave_asce_hour",
       "the same with the cloud factor held within bounds",
       hour_longwave_rows(),
       {{"net_longwave", "MJ m-2 h-1",
         [](const Given& g) {
           return net_longwave_asce_hour(celsius(g, "temperature"), vapour_of(g), clear_ratio_of(g))
               .in(megajoule_per_square_metre_hour);
         }}},
       "ASCE-EWRI 2005"},
      {"soil_heat_flux_month",
       "heat into the ground from the months before and after",
       {{"previous_month", "degC", -40, 45, "mean air"}, {"next_month", "degC", -40, 45, "mean air"}},
       {{"ground_heat_flux", "MJ m-2 d-1",
         [](const Given& g) {
           return soil_heat_flux_month(celsius(g, "previous_month"), celsius(g, "next_month"))
               .in(megajoule_per_square_metre_day);
         }}},
       "FAO-56 equation 43"},
      {"soil_heat_flux_month_backward",
       "heat into the ground from this month and the one before",
       {{"previous_month", "degC", -40, 45, "mean air"}, {"temperature", "degC", -40, 45, "mean air of this month"}},
       {{"ground_heat_flux", "MJ m-2 d-1",
         [](const Given& g) {
           return soil_heat_flux_month_backward(celsius(g, "previous_month"), celsius(g, "temperature"))
               .in(megajoule_per_square_metre_day);
         }}},
       "FAO-56 equation 44"},
  };
}

std::vector<Entry> et_entries() {
  const InputRow albedo = assume({"albedo", "-", 0, 1, "of the grass"}, 0.23);
  return {
      {"reference_et_day",
       "evapotranspiration of short grass over a day",
       rows({grass_rows("MJ m-2 d-1"), ratio_rows(), day_rows(), {albedo}}),
       {{"reference_et", "mm d-1",
         [](const Given& g) {
           const Flux<> net = net_of(g, g("albedo"));
           return reference_et_day(grass_weather(g, net, ground_of(g, net, 0.0, "MJ m-2 d-1"))).in(mm_per_day);
         }}},
       "FAO-56 equation 6"},
      {"reference_et_hour",
       "evapotranspiration of short grass over an hour",
       grass_rows("MJ m-2 h-1"),
       {{"reference_et", "mm h-1",
         [](const Given& g) {
           const Flux<> net = net_of_hour(g);
           const Flux<> ground = ground_of(g, net, share_by_sign(net), "MJ m-2 h-1");
           return reference_et_hour(grass_weather(g, net, ground)).in(mm_per_hour);
         }}},
       "FAO-56 equation 53"},
      {"reference_et_hour_asce_short",
       "standardised short reference of an hour",
       rows({grass_rows("MJ m-2 h-1"), {maybe({"denominator", "-", 0.24, 0.96, "Cd: 0.24 by day, 0.96 by night"})}}),
       {{"reference_et", "mm h-1",
         [](const Given& g) {
           const Flux<> net = net_of_hour(g);
           const Flux<> ground = ground_of(g, net, share_by_sign(net), "MJ m-2 h-1");
           const double cd = g.get("denominator", net.si() > 0.0 ? 0.24 : 0.96);
           return reference_et_hour_asce_short(grass_weather(g, net, ground), cd).in(mm_per_hour);
         }}},
       "ASCE-EWRI 2005"},
      {"reference_et_day_missing_data",
       "evapotranspiration of short grass from the day's extremes alone",
       rows({{kHigh,
              kLow,
              {"altitude", "m", -400, 5000, "above the sea"},
              maybe({"extraterrestrial_radiation", "MJ m-2 d-1", 0, 50, "Ra"}),
              assume({"wind_at_2m", "m s-1", 0, 20, "at 2 m"}, 2.0),
              assume({"hargreaves_k", "-", 0.1, 0.25, "K^-0.5"}, 0.16),
              albedo,
              assume({"ground_heat_flux", "MJ m-2 d-1", -5, 5, "into the ground"}, 0.0)},
             day_rows()}),
       {{"reference_et", "mm d-1",
         [](const Given& g) {
           const SparseDay day{celsius(g, "air_max"), celsius(g, "air_min"), outside_of(g), Length<>(g("altitude")),
                               Velocity<>(g("wind_at_2m"))};
           return reference_et_day_missing_data(day, g("hargreaves_k"), g("albedo"), mj_per_day(g, "ground_heat_flux"))
               .in(mm_per_day);
         }}},
       "FAO-56 example 20"},
      {"hargreaves_et",
       "evapotranspiration of short grass from the day's extremes and latitude",
       rows({{kHigh, kLow, maybe({"extraterrestrial_radiation", "MJ m-2 d-1", 0, 50, "Ra"})}, day_rows()}),
       {{"reference_et", "mm d-1",
         [](const Given& g) {
           return hargreaves_et(celsius(g, "air_max"), celsius(g, "air_min"), outside_of(g)).in(mm_per_day);
         }}},
       "FAO-56 equation 52"},
  };
}

}  // namespace

std::vector<Entry> reference_et_entries() {
  std::vector<Entry> all = net_entries();
  for (auto& group : {hour_net_entries(), et_entries()}) all.insert(all.end(), group.begin(), group.end());
  return all;
}

}  // namespace leat::science::heat_entry
