#include "science/algae/growth.h"
#include "science/algae/light.h"
#include "science/algae/needs.h"
#include "science/water/entry_help.h"

namespace leat::science::water_entry {
namespace {

constexpr Extinction<> per_metre{1.0};

const InputRow kSurface{"surface_light", "umol/m2/s", 0, 3000, "just below the surface"};
const InputRow kParameter{"light_parameter", "umol/m2/s", 10, 1000, "of the algae"};
const InputRow kExtinction{"extinction", "1/m", 0, 100, "of light by the water"};
const InputRow kDepth{"depth", "m", 0, 5, "of the layer, or of the point"};
const InputRow kCarbon{"carbon_ratio", "-", 20, 100, "carbon over chlorophyll by mass"};

std::vector<InputRow> layer_rows() {
  return {kSurface, kParameter, kExtinction, kDepth};
}

Number<> ratio_of(const Given& g) {
  return Number<>(g("surface_light") / g("light_parameter"));
}

Number<> depth_of(const Given& g) {
  return optical_depth(g("extinction") * per_metre, Length<>(g("depth")));
}

std::vector<Entry> light_entries() {
  return {
      {"light_extinction",
       "loss of light in water with algae and solids",
       {assume({"background", "1/m", 0, 10, "of the bare water"}, 0.2),
        {"chlorophyll", "ug/L", 0, 2000, "of the algae"},
        assume({"mineral_solids", "mg/L", 0, 500, "dry"}, 0.0),
        assume({"organic_solids", "mg/L", 0, 500, "dry, not alive"}, 0.0)},
       {{"extinction", "1/m",
         [](const Given& g) {
           return light_extinction(g("background") * per_metre, g("chlorophyll") * microgram_per_litre,
                                   g("mineral_solids") * milligram_per_litre, g("organic_solids") * milligram_per_litre)
               .si();
         }}},
       "Riley 1956; Chapra & Pelletier, QUAL2K"},
      {"light_limitation_smith",
       "growth over growth in full light, mean over a layer, by Smith",
       layer_rows(),
       {{"share", "-", [](const Given& g) { return light_limitation_smith(ratio_of(g), depth_of(g)).si(); }}},
       "Chapra & Pelletier, QUAL2K"},
      {"light_limitation_steele",
       "growth over growth in the best light, mean over a layer, by Steele",
       layer_rows(),
       {{"share", "-", [](const Given& g) { return light_limitation_steele(ratio_of(g), depth_of(g)).si(); }}},
       "Chapra & Pelletier, QUAL2K"},
      {"light_limitation_half",
       "growth over growth in full light, mean over a layer, by half-saturation",
       layer_rows(),
       {{"share", "-", [](const Given& g) { return light_limitation_half(ratio_of(g), depth_of(g)).si(); }}},
       "Chapra & Pelletier, QUAL2K"},
      {"light_limitation_steele_point",
       "growth over growth in the best light at one depth, by Steele",
       {{"light_ratio", "-", 0, 20, "light over the best light"}},
       {{"share", "-", [](const Given& g) { return light_limitation_steele_point(Number<>(g("light_ratio"))).si(); }}},
       "Steele 1962"},
      {"light_at_depth",
       "light left at a depth",
       {kSurface, kExtinction, kDepth},
       {{"light", "umol/m2/s", [](const Given& g) { return g("surface_light") * light_share_at(depth_of(g)).si(); }}},
       "Beer and Lambert"},
  };
}

std::vector<Entry> growth_entries() {
  return {
      {"algae_growth_ceiling",
       "fastest growth of algae",
       {temperature_row},
       {{"growth", "1/d", [](const Given& g) { return algae_growth_ceiling(temperature_of(g)).in(per_day); }}},
       "Bissinger et al. 2008"},
      {"algae_growth_ceiling_eppley",
       "fastest growth of algae, the older line",
       {temperature_row},
       {{"growth", "1/d", [](const Given& g) { return algae_growth_ceiling_eppley(temperature_of(g)).in(per_day); }}},
       "Eppley 1972"},
      {"oxygen_per_chlorophyll",
       "oxygen held as demand in the carbon of algae",
       {{"chlorophyll", "mg", 0, 1e9, "of the algae"}, assume(kCarbon, 40.0)},
       {{"oxygen", "mg", [](const Given& g) { return g("chlorophyll") * g("carbon_ratio") * oxygen_for_carbon.si(); }}},
       "atomic weights"},
      {"collapse_oxygen_demand",
       "oxygen that a collapsed bloom takes, its nitrogen with it",
       {{"chlorophyll", "ug/L", 0, 2000, "of the algae"},
        assume(kCarbon, 40.0),
        assume({"nitrogen_ratio", "-", 2, 20, "nitrogen over chlorophyll by mass"}, 7.2)},
       {{"oxygen_demand", "mg/L",
         [](const Given& g) {
           return collapse_oxygen_demand(g("chlorophyll") * microgram_per_litre, Number<>(g("carbon_ratio")),
                                         Number<>(g("nitrogen_ratio")))
               .in(milligram_per_litre);
         }}},
       "Chapra & Pelletier, QUAL2K"},
      {"algae_chlorophyll",
       "chlorophyll of algae that hold so much carbon",
       {{"carbon", "mg/L", 0, 200, "of the algae"}},
       {{"chlorophyll", "ug/L",
         [](const Given& g) {
           return algae_chlorophyll(g("carbon") * milligram_per_litre / molar_mass::carbon).in(microgram_per_litre);
         }}},
       "Chapra & Pelletier, QUAL2K"},
      {"algae_ammonium_preference",
       "share of their nitrogen that algae take as ammonium",
       {amount_row("ammonia", "total, mg/L as N"), amount_row("nitrate", "mg/L as N")},
       {{"share", "-",
         [](const Given& g) {
           return algae_ammonium_preference(amount_of(g, "ammonia", molar_mass::nitrogen, "mg/L"),
                                            amount_of(g, "nitrate", molar_mass::nitrogen, "mg/L"))
               .si();
         }}},
       "Chapra & Pelletier, QUAL2K (half value from memory)"},
      {"algae_carbon_share",
       "share of growth that carbon dioxide and bicarbonate in reach allow algae",
       {{"carbon", "mmol/L", 0, 50, "carbon dioxide and bicarbonate"}, {"acidity", "-", 5, 12, "pH"}},
       {{"share", "-",
         [](const Given& g) { return algae_carbon_share(Concentration<>(g("carbon")), Number<>(g("acidity"))).si(); }}},
       "Chapra & Pelletier, QUAL2K (from memory); common practice above pH 9.5"},
      {"half_sine_daily_mean",
       "mean over the day of a rate that follows a half sine while the sun is up",
       {{"peak", "mg/L/d", 0, 1e4, "at noon"}, {"photoperiod", "h", 0, 24, "sun up"}},
       {{"daily_mean", "mg/L/d",
         [](const Given& g) {
           return half_sine_daily_mean(Number<>(g("peak")), g("photoperiod") * units::hour).si();
         }}},
       "Chapra 1997"},
  };
}

}  // namespace

std::vector<Entry> algae_entries() {
  std::vector<Entry> all = light_entries();
  for (Entry& entry : growth_entries()) all.push_back(std::move(entry));
  return all;
}

}  // namespace leat::science::water_entry
