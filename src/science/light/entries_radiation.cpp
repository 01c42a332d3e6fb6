#include <algorithm>

#include "science/heat/entry_help.h"
#include "science/light/plant_light.h"

namespace leat::science::heat_entry {
namespace {

const InputRow kOutside = maybe({"extraterrestrial_radiation", "MJ m-2 d-1", 0, 50, "outside the air"});

double mj(Flux<> flux) {
  return flux.in(megajoule_per_square_metre_day);
}

std::vector<Entry> day_entries() {
  return {
      {"clear_sky_radiation_simple",
       "radiation of a cloudless day",
       rows({{kOutside, {"altitude", "m", -400, 5000, "above the sea"}}, day_rows()}),
       {{"clear_sky_radiation", "MJ m-2 d-1",
         [](const Given& g) { return mj(clear_sky_radiation_simple(outside_of(g), Length<>(g("altitude")))); }}},
       "FAO-56 equation 37"},
      {"hargreaves_radiation",
       "radiation of a day from the span of its air temperature",
       rows({{maybe({"air_max", "degC", -30, 50, "highest"}), maybe({"air_min", "degC", -40, 40, "lowest"}),
              maybe({"span", "K", 0, 30, "highest less lowest"}), kOutside,
              assume({"hargreaves_k", "-", 0.1, 0.25, "K^-0.5; 0.16 inland, 0.19 at a coast"}, 0.16)},
             day_rows()}),
       {{"global_radiation", "MJ m-2 d-1",
         [](const Given& g) {
           const TemperatureDifference<> span =
               g.has("span") ? TemperatureDifference<>(g("span")) : celsius(g, "air_max") - celsius(g, "air_min");
           return mj(radiation_hargreaves(span, outside_of(g), g("hargreaves_k")));
         }}},
       "FAO-56 equation 50"},
      {"angstrom_radiation",
       "radiation of a day from its hours of sunshine",
       rows({{{"sunshine", "h", 0, 24, "of the day"},
              maybe({"day_length", "h", 0, 24, "possible sunshine"}),
              kOutside,
              assume({"intercept", "-", 0, 0.5, "a"}, 0.25),
              assume({"slope", "-", 0.2, 0.7, "b"}, 0.50)},
             day_rows()}),
       {{"global_radiation", "MJ m-2 d-1",
         [](const Given& g) {
           return mj(radiation_angstrom(g("sunshine") * units::hour, day_length_of(g), outside_of(g), g("intercept"),
                                        g("slope")));
         }}},
       "FAO-56 equation 35"},
      {"clear_sky_global",
       "radiation of a cloudless moment",
       {maybe({"elevation", "deg", -90, 90, "of the sun"}), maybe({"zenith", "deg", 0, 180, "distance from overhead"})},
       {{"global_radiation", "W m-2",
         [](const Given& g) {
           const Angle elevation =
               g.has("elevation") ? degrees(g, "elevation") : Angle::from_degrees(90.0) - degrees(g, "zenith");
           return clear_sky_radiation_haurwitz(elevation).si();
         }}},
       "Haurwitz 1945"},
  };
}

Angle clock_angle(double hour) {
  return Angle::from_degrees(15.0 * (hour - 12.0));
}

Angle hour_angle_of(const Given& g) {
  return g.has("hour_angle") ? Angle::from_radians(g("hour_angle")) : clock_angle(g("solar_clock"));
}

Angle sunset_of(const Given& g) {
  if (g.has("sunset_angle")) return Angle::from_radians(g("sunset_angle"));
  return Angle::from_radians(day_length_of(g).in(units::hour)*std::numbers::pi / 24.0);
}

using ShareLaw = double (*)(Angle, Angle);

double sum_of_shares(const Given& g, ShareLaw share) {
  double sum = 0.0;
  const double step_h = g("step");
  for (int i = 0; i < static_cast<int>(g("count")); ++i)
    sum += step_h * share(clock_angle(g("first_hour") + i * step_h), sunset_of(g));
  return sum;
}

Entry share_entry(std::string_view name, std::string_view meaning, ShareLaw share, std::string_view source) {
  const auto one = [share](const Given& g) { return share(hour_angle_of(g), sunset_of(g)); };
  const auto sum = [share](const Given& g) { return sum_of_shares(g, share); };
  return {
      name,
      meaning,
      rows({{maybe({"sunset_angle", "rad", 0, 3.1416, "hour angle of sunset"}),
             maybe({"day_length", "h", 0, 24, "in place of the sunset angle"}),
             maybe({"hour_angle", "rad", -3.1416, 3.1416, "of the moment"}),
             maybe({"solar_clock", "h", 0, 24, "of the moment, by the sun"}),
             maybe({"first_hour", "h", 0, 24, "middle of the first step"}),
             assume({"step", "h", 0.01, 24, "between steps"}, 1.0), assume({"count", "-", 1, 1000, "of steps"}, 24.0)},
            day_rows()}),
      {{"share", "-", one}, {"sum", "-", sum}},
      source};
}

std::vector<Entry> hour_entries() {
  return {
      share_entry("hourly_share_of_daily_global", "radiation of a moment as a share of the day's, per hour",
                  hourly_share_collares_pereira_rabl, "Collares-Pereira and Rabl 1979"),
      share_entry("hourly_share_of_daily_diffuse", "diffuse radiation of a moment as a share of the day's, per hour",
                  hourly_share_liu_jordan, "Liu and Jordan 1960"),
      {"diffuse_fraction_hourly",
       "diffuse part of global radiation from the clearness of the hour",
       {maybe({"global_radiation", "W m-2", 0, 1400, "on the level"}),
        {"clearness", "-", 0, 1, "global over extraterrestrial"}},
       {{"diffuse_radiation", "W m-2",
         [](const Given& g) { return diffuse_fraction_erbs(g("clearness")) * g("global_radiation"); }},
        {"diffuse_fraction", "-", [](const Given& g) { return diffuse_fraction_erbs(g("clearness")); }}},
       "Erbs, Klein and Duffie 1982"},
      {"ground_reflected_on_plane",
       "radiation from the ground on a tilted plane",
       {{"tilt", "deg", 0, 90, "of the plane"},
        {"global_radiation", "W m-2", 0, 1400, "on the level"},
        assume({"albedo", "-", 0, 1, "of the ground"}, 0.2)},
       {{"irradiance", "W m-2",
         [](const Given& g) {
           return ground_reflected_on_plane(Flux<>(g("global_radiation")), degrees(g, "tilt"), g("albedo")).si();
         }}},
       "even ground"},
      {"sky_diffuse_on_plane",
       "radiation of an even sky on a tilted plane",
       {{"tilt", "deg", 0, 90, "of the plane"}, {"diffuse_radiation", "W m-2", 0, 800, "on the level"}},
       {{"irradiance", "W m-2",
         [](const Given& g) { return sky_diffuse_on_plane(Flux<>(g("diffuse_radiation")), degrees(g, "tilt")).si(); }}},
       "Liu and Jordan 1963"},
  };
}

std::vector<Entry> water_light_entries() {
  return {
      {"ppfd_from_global",
       "photons for growth from global radiation",
       {{"global_radiation", "MJ m-2 d-1", 0, 45, "of the day"},
        assume({"par_fraction", "-", 0.4, 0.55, "share between 400 and 700 nm"}, par_share),
        assume({"photon_yield", "umol J-1", 4, 5, "photons in that light"}, 4.57)},
       {{"photons", "mol m-2 d-1",
         [](const Given& g) {
           return ppfd_from_global(mj_per_day(g, "global_radiation"), g("par_fraction"),
                                   g("photon_yield") * micromole_per_joule)
               .in(mole_per_square_metre_day);
         }}},
       "McCree 1972"},
      {"shortwave_at_depth",
       "share of the light left at a depth",
       {{"red_share", "-", 0, 1, "R"},
        {"red_length", "m", 0.1, 5, "in which the red falls to 1/e"},
        {"other_length", "m", 1, 40, "in which the rest falls to 1/e"},
        {"depth", "m", 0, 100, "below the surface"}},
       {{"share", "-",
         [](const Given& g) {
           return light_left_at_depth(Length<>(g("depth")), g("red_share"), Length<>(g("red_length")),
                                      Length<>(g("other_length")))
               .si();
         }}},
       "Paulson and Simpson 1977"},
      {"mean_light_in_column",
       "mean light between the surface and a depth over light at the surface",
       {{"attenuation", "m-1", 0, 50, "Kd"}, {"depth", "m", 0, 10, "of the water"}},
       {{"share", "-",
         [](const Given& g) { return mean_light_in_column(Number<>(g("attenuation") * g("depth"))).si(); }}},
       "Beer-Lambert law"},
  };
}

}  // namespace

std::vector<Entry> radiation_entries() {
  std::vector<Entry> all = day_entries();
  for (auto& group : {hour_entries(), water_light_entries()}) all.insert(all.end(), group.begin(), group.end());
  return all;
}

}  // namespace leat::science::heat_entry
