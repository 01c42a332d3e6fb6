#include <string_view>

#include "science/heat/entry_help.h"
#include "science/heat/lake_evaporation.h"
#include "science/heat/longwave.h"

namespace leat::science::heat_entry {
namespace {

/// Clear emissivity by the law whose author a text names; Brutsaert when it names none of them.
Number<> emissivity_by(std::string_view law, const Given& g) {
  const auto names = [&](std::string_view author, std::string_view lower) {
    return law.find(author) != std::string_view::npos || law.find(lower) != std::string_view::npos;
  };
  const Temperature<> air = celsius(g, "temperature");
  if (names("Brunt ", "brunt ") || law == "Brunt" || law == "brunt") return sky_emissivity_brunt(vapour_of(g));
  if (names("Swinbank", "swinbank")) return sky_emissivity_swinbank(air);
  if (names("Idso", "idso")) return sky_emissivity_idso_jackson(air);
  if (names("Prata", "prata")) return sky_emissivity_prata(air, vapour_of(g));
  if (names("Berdahl", "berdahl")) return sky_emissivity_berdahl_martin(dew_point(vapour_of(g)));
  return sky_emissivity_brutsaert(air, vapour_of(g));
}

const InputRow kAir{"temperature", "degC", -30, 45, "of the air"};

std::vector<Entry> surface_entries() {
  return {
      {"black_body",
       "radiation of a black body, or of a grey one",
       {{"temperature", "degC", -60, 100, "of the surface"}, assume({"emissivity", "-", 0, 1, "of the surface"}, 1.0)},
       {{"radiation", "W m-2",
         [](const Given& g) { return outgoing_longwave(celsius(g, "temperature"), g("emissivity")).si(); }}},
       "Stefan-Boltzmann law, CODATA 2018"},
      {"stefan_boltzmann_day",
       "radiation of a black body with hydrology's constant",
       {{"temperature", "", -60, 100, "of the surface, with its unit"}},
       {{"radiation", "MJ m-2 d-1",
         [](const Given& g) {
           const double ratio = stefan_boltzmann_fao / stefan_boltzmann;
           const auto t = Temperature<>::from_kelvin(si_of_text(g, "temperature", "degC"));
           return ratio * outgoing_longwave(t, 1.0).in(megajoule_per_square_metre_day);
         }}},
       "FAO-56 annex 2 table 2.8"},
      {"outgoing_longwave_water",
       "radiation of a water surface, with hydrology's constant",
       {{"water_temperature", "degC", 0, 50, "of the surface"},
        assume({"emissivity", "-", 0.9, 1, "of the surface"}, water_emissivity),
        assume({"stefan_boltzmann", "W m-2 K-4", 5.6e-8, 5.7e-8, "constant"}, stefan_boltzmann_fao)},
       {{"radiation", "MJ m-2 d-1",
         [](const Given& g) {
           const Flux<> flux = outgoing_longwave(celsius(g, "water_temperature"), g("emissivity"));
           return g("stefan_boltzmann") / stefan_boltzmann * flux.in(megajoule_per_square_metre_day);
         }}},
       "McJannet et al. 2008, as in McMahon et al. 2013"},
  };
}

std::vector<Entry> sky_entries() {
  return {
      {"sky_emissivity_clear",
       "emissivity of a cloudless sky; law = Brutsaert, Brunt, Swinbank, Idso, Prata or Berdahl",
       rows({{kAir, maybe({"law", "", 0, 0, "author of the law"}), maybe({"source", "", 0, 0, "what names the law"})},
             vapour_rows()}),
       {{"emissivity", "-",
         [](const Given& g) {
           const std::string_view law = g.has("law") ? g.word("law") : g.has("source") ? g.word("source") : "Brutsaert";
           return emissivity_by(law, g).si();
         }}},
       "Brutsaert 1975 and others"},
      {"sky_temperature",
       "temperature of a black body that shines as the sky does",
       {kAir, {"emissivity", "-", 0.4, 1, "of the sky"}},
       {{"sky_temperature", "degC",
         [](const Given& g) {
           return sky_temperature(celsius(g, "temperature"), Number<>(g("emissivity"))).celsius();
         }}},
       "definition"},
      {"incoming_longwave_idso_jackson",
       "radiation of a cloudy sky, with hydrology's constant",
       {kAir, {"cloud", "-", 0, 1, "covered share"}},
       {{"radiation", "MJ m-2 d-1",
         [](const Given& g) {
           return incoming_longwave_idso_jackson(celsius(g, "temperature"), Number<>(g("cloud")))
               .in(megajoule_per_square_metre_day);
         }}},
       "McJannet et al. 2008, as in McMahon et al. 2013"},
      {"sky_longwave",
       "radiation of the sky, by the default law",
       rows({{kAir, {"cloud", "-", 0, 1, "covered share"}, assume({"altitude", "m", -400, 5000, "above the sea"}, 0.0)},
             vapour_rows()}),
       {{"radiation", "W m-2",
         [](const Given& g) {
           return sky_longwave(celsius(g, "temperature"), vapour_of(g), Number<>(g("cloud")), Length<>(g("altitude")))
               .si();
         }}},
       "Brutsaert 1975, Prata 1996, Crawford and Duchon 1999"},
  };
}

std::vector<Entry> cloud_entries() {
  const std::vector<InputRow> ratio{maybe({"global_radiation", "MJ m-2 d-1", 0, 45, "of the day"}),
                                    maybe({"clear_sky_radiation", "MJ m-2 d-1", 0, 45, "of the day without cloud"}),
                                    maybe({"clear_ratio", "-", 0, 1, "global over clear sky"})};
  return {
      {"cloud_from_radiation_ratio",
       "cloudiness from the radiation of the day, for lakes",
       ratio,
       {{"cloud", "-",
         [](const Given& g) { return cloud_mcjannet(Flux<>(clear_ratio_of(g).si()), Flux<>(1.0)).si(); }}},
       "McJannet et al. 2008, as in McMahon et al. 2013"},
      {"cloud_crawford_duchon",
       "share of the sky's window closed by cloud",
       ratio,
       {{"cloud", "-",
         [](const Given& g) { return cloud_crawford_duchon(Flux<>(clear_ratio_of(g).si()), Flux<>(1.0)).si(); }}},
       "Crawford and Duchon 1999"},
  };
}

}  // namespace

std::vector<Entry> longwave_entries() {
  std::vector<Entry> all = surface_entries();
  for (auto& group : {sky_entries(), cloud_entries()}) all.insert(all.end(), group.begin(), group.end());
  return all;
}

}  // namespace leat::science::heat_entry
