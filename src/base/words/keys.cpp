#include "base/words/key_rows.h"

namespace leat::words {
namespace {

// What may be dissolved in a water, whether the loop's own or a source's.
std::vector<Key> water_keys() {
  return {
      temperature("temperature", -0.5, 45.0, "\"11 degC\"", "temperature of the water"),
      number("pH", 4.0, 11.0, "7.1", "pH"),
      quantity("alkalinity", dim::density, 0.0, 1.0, "\"60 mg/L as CaCO3\"",
               "alkalinity (KH); one degree is 17.8 mg/L as CaCO3", "CaCO3", "CaCO3 HCO3"),
      quantity("dissolved_oxygen", dim::density, 0.0, 0.03, "\"9.8 mg/L\"", "dissolved oxygen", "O2"),
      quantity("ammonia", dim::density, 0.0, 0.1, "\"0.2 mg/L as N\"", "total ammonia nitrogen (TAN)", "N",
               "N NH3 NH4"),
      quantity("nitrite", dim::density, 0.0, 0.1, "\"0.05 mg/L as N\"", "nitrite nitrogen", "N", "N NO2"),
      quantity("nitrate", dim::density, 0.0, 1.0, "\"20 mg/L as N\"", "nitrate nitrogen", "N", "N NO3"),
      quantity("phosphorus", dim::density, 0.0, 0.2, "\"2 mg/L as P\"", "phosphate phosphorus", "P", "P PO4"),
      quantity("potassium", dim::density, 0.0, 1.0, "\"5 mg/L\"", "potassium", "K"),
      quantity("calcium", dim::density, 0.0, 1.0, "\"40 mg/L\"", "calcium", "Ca"),
      quantity("magnesium", dim::density, 0.0, 1.0, "\"4 mg/L\"", "magnesium", "Mg"),
      quantity("hardness", dim::density, 0.0, 3.0, "\"120 mg/L as CaCO3\"",
               "calcium and magnesium together (GH), when they were not read apart", "CaCO3"),
      quantity("sodium", dim::density, 0.0, 4.0, "\"10 mg/L\"", "sodium", "Na"),
      quantity("chloride", dim::density, 0.0, 6.0, "\"15 mg/L\"", "chloride", "Cl"),
      quantity("sulphate", dim::density, 0.0, 3.0, "\"15 mg/L as SO4\"", "sulphate", "SO4", "SO4 S"),
      quantity("iron", dim::density, 0.0, 0.02, "\"0.5 mg/L\"", "iron that stays in the water, as a chelate", "Fe"),
      quantity("chlorophyll", dim::density, 0.0, 2e-3, "\"5 ug/L\"",
               "chlorophyll of algae; 5 ug/L is clear, 100 is green"),
  };
}

std::vector<Key> vessel_keys() {
  return {
      quantity("volume", dim::volume, 1e-3, 500.0, "\"1000 L\"", "water it holds, up to the rim"),
      quantity("area", dim::area, 1e-3, 1000.0, "\"1.1 m2\"", "water surface, seen from above"),
      length("length", 0.02, 100.0, "\"1.2 m\"", "inside length of a rectangular one"),
      length("width", 0.02, 50.0, "\"1.0 m\"", "inside width of a rectangular one"),
      length("diameter", 0.02, 50.0, "\"1.1 m\"", "inside diameter of a round one"),
      length("depth", 0.02, 10.0, "\"1.0 m\"", "from its floor to its rim"),
      length("floor", -10.0, 50.0, "\"0.40 m\"", "height of its floor above a fixed mark (any mark, the same for all)"),
      length("rim", -10.0, 50.0, "\"1.40 m\"", "height of its brim above the same mark"),
      length("level", -10.0, 50.0, "\"0.35 m\"", "height of the water with the pumps off, above the same mark"),
      length("held_level", -10.0, 50.0, "\"0.40 m\"", "height at which a float valve or a large body holds the water"),
      word("wall", "polyethylene clear_polyethylene fibreglass steel concrete timber", "\"polyethylene\"",
           "what the wall is made of; clear_polyethylene lets sun in"),
      length("wall_thickness", 0.0005, 0.5, "\"2 mm\"", "thickness of the wall"),
      word("cladding", "none timber foam", "\"timber\"", "what is fixed outside the wall"),
      length("cladding_thickness", 0.001, 0.5, "\"50 mm\"", "thickness of the cladding"),
      share("cladding_share", "0.5", "share of the wall's height that is clad, from the bottom"),
      word("lid", "none clear board timber foam", "\"board\"", "what covers the water"),
      length("lid_thickness", 0.0005, 0.5, "\"25 mm\"", "thickness of the lid"),
      share("cover", "0.9", "share of the surface that the lid or raft covers"),
      length("buried", 0.0, 5.0, "\"0.5 m\"", "depth of the vessel below the ground outside"),
      share("shade", "0.3", "share of the sun that something above keeps off"),
      share("sun_through_wall", "0.6", "share of the sun on a clear wall or lid that ends in the water"),
      quantity("film_area", dim::area, 0.0, 1e6, "\"12 m2\"",
               "wetted surface on which nitrifiers live, if you know it"),
      quantity("limestone", dim::area, 0.0, 1e4, "\"0.5 m2\"",
               "clean surface of limestone, coral sand or shell grit in the water"),
      quantity("sludge", dim::area, 0.0, 1e4, "\"0.8 m2\"",
               "floor on which solids lie undisturbed, as in a settler, a net tank or under rafts: nitrate turns to "
               "gas there"),
  };
}

std::vector<Kind> make_kinds() {
  std::vector<Kind> k;
  k.push_back({"loop",
               true,
               false,
               "the loop as a whole",
               {text("name", "\"Netherby trial\"", "what you call it"),
                quantity("water", dim::volume, 1e-3, 1e4, "\"1795 L\"",
                         "all water in the loop, when the levels at rest are not known"),
                word("film", "grown new", "\"new\"", "whether nitrifiers live on its surfaces already")}});
  k.push_back(
      {"place",
       true,
       false,
       "where it stands",
       {number("latitude", -90.0, 90.0, "54.6", "degrees, north positive"),
        number("longitude", -180.0, 180.0, "-2.8", "degrees, east positive"),
        word("hemisphere", "north south", "\"south\"", "when the latitude is given without a sign"),
        length("altitude", -430.0, 5000.0, "\"120 m\"", "height above the sea"),
        text("time_zone", "\"Europe/London\"", "name in the time zone database, or \"+01:00\""),
        share("wind_shelter", "0.5", "share of the open ground's wind that reaches the vessels"),
        temperature("ground_temperature", -5.0, 35.0, "\"9 degC\"", "mean temperature of the soil beside and below")}});
  k.push_back({"water", true, false, "the loop's water at the start", water_keys()});
  k.push_back(
      {"limits",
       true,
       false,
       "limits to keep",
       {temperature("temperature_high", 0.0, 45.0, "\"18 degC\"", "warmest water wanted"),
        temperature("temperature_low", -1.0, 40.0, "\"4 degC\"", "coldest water wanted"),
        quantity("dissolved_oxygen_low", dim::density, 0.0, 0.02, "\"6 mg/L\"", "least dissolved oxygen", "O2"),
        quantity("unionised_ammonia_high", dim::density, 0.0, 0.01, "\"0.0125 mg/L as N\"", "most un-ionised ammonia",
                 "N", "N NH3"),
        quantity("nitrite_high", dim::density, 0.0, 0.1, "\"0.1 mg/L as N\"", "most nitrite", "N", "N NO2"),
        quantity("nitrate_high", dim::density, 0.0, 1.0, "\"75 mg/L as N\"", "most nitrate", "N", "N NO3"),
        quantity("alkalinity_low", dim::density, 0.0, 1.0, "\"40 mg/L as CaCO3\"", "least alkalinity (KH)", "CaCO3",
                 "CaCO3 HCO3"),
        number("pH_low", 4.0, 10.0, "6.5", "lowest pH"), number("pH_high", 4.0, 11.0, "8.5", "highest pH"),
        share("gas_pressure_high", "\"110 %\"", "highest pressure of all dissolved gases, of that of the air", 1.0,
              1.5),
        length("freeboard", 0.0, 1.0, "\"50 mm\"", "least space between water and rim"),
        quantity("turnover_low", dim::frequency, 0.0, 100.0 / kHour, "\"1 1/h\"", "least turnover of a fish tank")}});
  k.push_back(
      {"laws",
       true,
       false,
       "constants of the hydraulics, for those who must match a calculation made elsewhere",
       {quantity("gravity", dim::acceleration, 9.7, 9.9, "\"9.81 m/s2\"", "acceleration of gravity"),
        quantity("viscosity", dim::kinematic_viscosity, 5e-7, 2e-6, "\"1.0e-6 m2/s\"",
                 "kinematic viscosity of the water"),
        quantity("density", dim::density, 950.0, 1050.0, "\"998 kg/m3\"", "density of the water"),
        length("roughness", 0.0, 0.005, "\"0.0015 mm\"", "roughness of every pipe that does not state its own")}});
  for (const std::string_view kind : {"tank", "sump"})
    k.push_back({kind, false, true, kind == "tank" ? "a vessel for fish" : "the lowest vessel, where pumps sit",
                 vessel_keys()});
  k.push_back(
      {"raft_bed", false, true, "a floating board over water",
       joined({vessel_keys(), {length("raft_thickness", 0.002, 0.3, "\"30 mm\"", "thickness of the foam raft")}})});
  k.push_back(
      {"gravel_bed", false, true, "stones that hold plants and nitrifiers",
       joined({vessel_keys(),
               {share("porosity", "0.40", "share of the bed's volume that water can fill", 0.05, 0.95),
                length("grain", 0.001, 0.1, "\"14 mm\"", "typical size of a stone"),
                quantity("hydraulic_conductivity", dim::velocity, 1e-4, 10.0, "\"0.09 m/s\"",
                         "flow through its stones under a slope of one, per area: given, the far end of a draining "
                         "bed lags behind its siphon")}})});
  for (Kind& kind : plumbing_kinds()) k.push_back(std::move(kind));
  k.push_back({"air",
               false,
               false,
               "air blown into the water",
               {reference("to", kVessels, "\"tank.nursery\"", "the vessel"),
                quantity("flow", dim::flow, 1e-6, 0.1, "\"20 L/min\"", "air through the stones"),
                length("depth", 0.02, 5.0, "\"0.6 m\"", "depth of the stones"),
                share("transfer", "\"2 %\"", "share of the air's oxygen taken up per metre of depth"),
                quantity("power", dim::power, 0.5, 5000.0, "\"20 W\"", "electric power of the blower")}});
  k.push_back({"fish",
               false,
               false,
               "a group of fish",
               {reference("in", "tank", "\"tank.nursery\"", "the tank they live in"),
                text("species", "\"rainbow trout\"", "which fish"),
                count("count", 1e6, "45", "how many"),
                quantity("mass", dim::mass, 1e-4, 20.0, "\"60 g\"", "mean mass of one fish"),
                quantity("feed", dim::mass_rate, 0.0, 1e-2, "\"35 g/d\"",
                         "feed a day, for all of them; without it the table and the growth rule decide"),
                share("feed_protein", "0.45", "protein in the feed", 0.1, 0.9),
                {"meals", Form::times, dim::none, 0, 0, "[\"08:00\", \"17:00\"]", "when they are fed"},
                share("spread", "\"25 %\"", "spread (standard deviation) of the masses of single fish, over their mean",
                      0.0, 1.5)}});
  k.push_back({"planting",
               false,
               false,
               "plants in a bed",
               {reference("in", "raft_bed gravel_bed", "\"raft_bed.north\"", "the bed"),
                text("crop", "\"lettuce\"", "which plant"), count("places", 1e5, "40", "how many"),
                quantity("area", dim::area, 1e-3, 1e4, "\"1.6 m2\"", "area they take"),
                quantity("age", dim::time, 0.0, 400.0 * 86400.0, "\"12 days\"", "time since they were planted out"),
                word("harvest", "whole picked", "\"picked\"",
                     "how a season harvests them: cut whole when ready, or a share again and again")}});
  for (Kind& kind : deed_kinds()) k.push_back(std::move(kind));
  k.push_back({"source", false, false, "water added from outside",
               joined({water_keys(),
                       {reference("to", kVessels, "\"sump.main\"", "where it is added"),
                        word("top_up", "float daily none", "\"float\"", "how losses are made good"),
                        length("level", -10.0, 50.0, "\"0.30 m\"", "height at which its float valve shuts"),
                        quantity("flow", dim::flow, 1e-7, 0.1, "\"600 L/h\"", "flow of the open float valve"),
                        length("bore", 0.002, 0.2, "\"15 mm\"", "inside diameter of its end"),
                        length("outlet_level", -10.0, 50.0, "\"0.70 m\"", "height of its end above the mark"),
                        flag("stuck_open", "false", "true when it does not shut")}})});
  k.push_back({"prices",
               true,
               false,
               "what things cost, in one currency; only sums are made of it",
               {text("currency", "\"EUR\"", "how the sums are marked"),
                number("energy", 0.0, 100.0, "0.32", "one kWh of electricity"),
                number("water", 0.0, 1000.0, "2.50", "one m3 of water from outside"),
                number("feed", 0.0, 1000.0, "2.20", "one kg of feed")}});
  k.push_back(
      {"plan",
       true,
       false,
       "what a plan does to a loop; only in a patch, the second file of leat compare",
       {{"copy", Form::words, dim::none, 0, 0, "[\"gravel_bed.west as gravel_bed.south\"]",
         "vessels that are there once more, each with its own pipes, outlets and air"},
        {"remove", Form::words, dim::none, 0, 0, "[\"pipe.west\", \"gravel_bed.west\"]", "parts that are taken out"},
        {"move", Form::words, dim::none, 0, 0, "[\"tank.nursery 0.20 m\"]",
         "vessels that are set higher, or lower with a minus, with all that hangs on them"}}});
  return k;
}

}  // namespace

std::span<const Kind> kinds() {
  static const std::vector<Kind> all = make_kinds();
  return all;
}

const Kind* find_kind(std::string_view name) {
  for (const Kind& kind : kinds())
    if (kind.name == name) return &kind;
  return nullptr;
}

const Key* find_key(const Kind& kind, std::string_view name) {
  for (const Key& key : kind.keys)
    if (key.name == name) return &key;
  return nullptr;
}

std::vector<std::string_view> split_words(std::string_view list) {
  std::vector<std::string_view> words;
  while (!list.empty()) {
    const std::size_t end = list.find(' ');
    if (end != 0) words.push_back(list.substr(0, end));
    if (end == std::string_view::npos) break;
    list.remove_prefix(end + 1);
  }
  return words;
}

}  // namespace leat::words
