#include "base/words/quantities.h"

#include <fmt/core.h>

#include <array>
#include <cstdio>
#include <cstdlib>

namespace leat::words {
namespace {

// Molar masses as science/water/substances.h has them; a test holds the two together.
constexpr double kN = 14.007, kO2 = 31.998, kCaCO3PerEq = 50.043, kC = 12.011, kCO2 = 44.009, kP = 30.973762,
                 kK = 39.0983, kCa = 40.078, kMg = 24.305, kNa = 22.98977, kCl = 35.45, kSO4 = 96.056, kFe = 55.845,
                 kN2 = 28.014;

// clang-format off
constexpr std::array kRows = {
  //           name                 held             si        shown              scale  shift     places nominal low    high    label                 meaning
  QuantityRow{"water",              Held::volume,    "m3",     "L",               1e3,   0.0,      0, 1.0,   0.0,   1e4,   "water",               "volume of water"},
  QuantityRow{"heat",               Held::energy,    "J",      "MJ",              1e-6,  0.0,      2, 4e7,  -1e12,  1e12,  "heat",                "heat above 0 degC, in the water and what shares its temperature"},
  QuantityRow{"dissolved_oxygen",   Held::amount,    "mol/m3", "mg/L",            kO2,   0.0,      1, 0.3,   0.0,   2.0,   "dissolved oxygen",    "oxygen dissolved in the water"},
  QuantityRow{"inorganic_carbon",   Held::amount,    "mol/m3", "mg/L as C",       kC,    0.0,      1, 1.0,   0.0,   50.0,  "inorganic carbon",    "carbon dioxide, bicarbonate and carbonate"},
  QuantityRow{"ammonia",            Held::amount,    "mol/m3", "mg/L as N",       kN,    0.0,      2, 0.02,  0.0,   20.0,  "ammonia (TAN)",       "total ammonia nitrogen"},
  QuantityRow{"nitrite",            Held::amount,    "mol/m3", "mg/L as N",       kN,    0.0,      3, 0.01,  0.0,   20.0,  "nitrite",             "nitrite nitrogen"},
  QuantityRow{"nitrate",            Held::amount,    "mol/m3", "mg/L as N",       kN,    0.0,      1, 1.0,   0.0,   100.0, "nitrate",             "nitrate nitrogen"},
  QuantityRow{"phosphorus",         Held::amount,    "mol/m3", "mg/L as P",       kP,    0.0,      2, 0.03,  0.0,   10.0,  "phosphorus",          "phosphate phosphorus"},
  QuantityRow{"potassium",          Held::amount,    "mol/m3", "mg/L",            kK,    0.0,      1, 0.1,   0.0,   50.0,  "potassium",           "potassium"},
  QuantityRow{"calcium",            Held::amount,    "mol/m3", "mg/L",            kCa,   0.0,      0, 1.0,   0.0,   50.0,  "calcium",             "calcium"},
  QuantityRow{"magnesium",          Held::amount,    "mol/m3", "mg/L",            kMg,   0.0,      1, 0.2,   0.0,   50.0,  "magnesium",           "magnesium"},
  QuantityRow{"hardness",           Held::amount,    "eq/m3",  "mg/L as CaCO3",   kCaCO3PerEq, 0.0, 0, 1.0, 0.0,  100.0, "hardness (GH)",       "calcium and magnesium together"},
  QuantityRow{"sodium",             Held::amount,    "mol/m3", "mg/L",            kNa,   0.0,      0, 0.5,   0.0,   200.0, "sodium",              "sodium"},
  QuantityRow{"chloride",           Held::amount,    "mol/m3", "mg/L",            kCl,   0.0,      0, 0.5,   0.0,   200.0, "chloride",            "chloride"},
  QuantityRow{"sulphate",           Held::amount,    "mol/m3", "mg/L as SO4",     kSO4,  0.0,      0, 0.2,   0.0,   50.0,  "sulphate",            "sulphate"},
  QuantityRow{"iron",               Held::amount,    "mol/m3", "mg/L",            kFe,   0.0,      2, 0.01,  0.0,   1.0,   "iron",                "iron in the water"},
  QuantityRow{"nitrogen_gas",       Held::amount,    "mol/m3", "mg/L",            kN2,   0.0,      1, 0.5,   0.0,   3.0,   "nitrogen gas",        "nitrogen dissolved as gas"},
  QuantityRow{"gas_pressure",       Held::intensive, "-",      "%",               100.0, 0.0,      0, 0.1,   0.0,   3.0,   "gas pressure",        "pressure of all dissolved gases over that of the air"},
  QuantityRow{"solids_carbon",      Held::amount,    "mol/m3", "mg/L as C",       kC,    0.0,      1, 0.2,   0.0,   1e3,   "solids",              "carbon in solids that rot"},
  QuantityRow{"solids_nitrogen",    Held::amount,    "mol/m3", "mg/L as N",       kN,    0.0,      2, 0.02,  0.0,   1e3,   "nitrogen in solids",  "nitrogen in solids that rot"},
  QuantityRow{"solids_phosphorus",  Held::amount,    "mol/m3", "mg/L as P",       kP,    0.0,      2, 0.01,  0.0,   1e3,   "phosphorus in solids", "phosphorus in solids that rot"},
  QuantityRow{"algae",              Held::amount,    "mol/m3", "mg/L as C",       kC,    0.0,      2, 0.05,  0.0,   100.0, "algae",               "carbon in algae"},
  QuantityRow{"chlorophyll",        Held::amount,    "kg/m3",  "ug/L",            1e6,   0.0,      0, 1e-5,  0.0,   0.01,  "chlorophyll",         "chlorophyll of the algae"},
  QuantityRow{"conductivity",       Held::intensive, "S/m",    "uS/cm",           1e4,   0.0,      0, 0.05,  0.0,   10.0,  "conductivity",        "electric conductivity at 25 degC"},
  QuantityRow{"ammonia_film",       Held::intensive, "-",      "%",               100.0, 0.0,      0, 0.1,   0.0,   1.5,   "ammonia film",        "nitrifiers of ammonia, as a share of a film grown in full"},
  QuantityRow{"nitrite_film",       Held::intensive, "-",      "%",               100.0, 0.0,      0, 0.1,   0.0,   1.5,   "nitrite film",        "nitrifiers of nitrite, as a share of a film grown in full"},
  QuantityRow{"temperature",        Held::intensive, "K",      "degC",            1.0,  -273.15,   1, 1.0,   271.0, 320.0, "temperature",         "temperature of the water"},
  QuantityRow{"swing",              Held::intensive, "K",      "K",               1.0,   0.0,      1, 1.0,   0.0,   40.0,  "swing",               "warmest less coldest of one day"},
  QuantityRow{"temperature_step",   Held::intensive, "K",      "K",               1.0,   0.0,      1, 1.0,   0.0,   40.0,  "step of temperature", "difference between two waters that fish are moved between"},
  QuantityRow{"pH_step",            Held::intensive, "-",      "",                1.0,   0.0,      2, 1.0,   0.0,   8.0,   "step of pH",          "difference of pH between two waters that fish are moved between"},
  QuantityRow{"pH",                 Held::intensive, "-",      "",                1.0,   0.0,      2, 1.0,   3.0,   12.0,  "pH",                  "acidity"},
  QuantityRow{"alkalinity",         Held::amount,    "eq/m3",  "mg/L as CaCO3",   kCaCO3PerEq, 0.0, 0, 1.0, -5.0,  50.0,  "alkalinity (KH)",     "power to soak up acid"},
  QuantityRow{"unionised_ammonia",  Held::amount,    "mol/m3", "mg/L as N",       kN,    0.0,      4, 1e-3,  0.0,   1.0,   "un-ionised ammonia",  "the poisonous part of the ammonia"},
  QuantityRow{"carbon_dioxide",     Held::amount,    "mol/m3", "mg/L",            kCO2,  0.0,      1, 0.05,  0.0,   10.0,  "carbon dioxide",      "carbon dioxide dissolved as gas"},
  QuantityRow{"biomass",            Held::mass,      "kg",     "g",               1e3,   0.0,      0, 1.0,   0.0,   1e5,   "fish",                "live mass of a group of fish"},
  QuantityRow{"mass",               Held::mass,      "kg",     "g",               1e3,   0.0,      1, 0.1,   0.0,   30.0,  "mean mass",           "mean mass of one fish"},
  QuantityRow{"gut_feed",           Held::mass,      "kg",     "g",               1e3,   0.0,      1, 0.01,  0.0,   1e3,   "feed in the gut",     "feed eaten and not yet used"},
  QuantityRow{"feed",               Held::mass,      "kg/s",   "g/d",             86400.0e3, 0.0,  0, 5e-7,  0.0,   1.0,   "feed",                "feed given per time"},
  QuantityRow{"feed_given",         Held::mass,      "kg",     "g",               1e3,   0.0,      0, 0.05,  0.0,   1e4,   "feed given",          "feed given over a while"},
  QuantityRow{"dry_mass",           Held::mass,      "kg",     "g",               1e3,   0.0,      0, 0.1,   0.0,   1e4,   "dry mass",            "dry mass of a planting"},
  QuantityRow{"fresh_mass",         Held::mass,      "kg",     "kg",              1.0,   0.0,      2, 1.0,   0.0,   1e5,   "fresh mass",          "fresh mass of a planting"},
  QuantityRow{"nitrogen",           Held::amount,    "mol",    "g",               kN,    0.0,      2, 0.1,   0.0,   1e5,   "nitrogen",            "nitrogen held"},
  QuantityRow{"thermal_time",       Held::intensive, "K s",    "degree-days",     1.0/86400.0, 0.0, 0, 1e6,  0.0,   1e9,   "thermal time",        "warmth summed over time above the crop's base"},
  QuantityRow{"flow",               Held::intensive, "m3/s",   "L/h",             3.6e6, 0.0,      0, 1e-4, -1.0,   1.0,   "flow",                "volume of water per time"},
  QuantityRow{"level",              Held::intensive, "m",      "m",               1.0,   0.0,      3, 1.0,  -10.0,  100.0, "level",               "height of the water above the mark"},
  QuantityRow{"head",               Held::intensive, "m",      "m",               1.0,   0.0,      2, 1.0,   0.0,   100.0, "head",                "height that a pump lifts, friction included"},
  QuantityRow{"freeboard",          Held::intensive, "m",      "mm",              1e3,   0.0,      0, 0.1,  -10.0,  10.0,  "freeboard",           "space between water and rim"},
  QuantityRow{"turnover",           Held::intensive, "1/s",    "per hour",        3600.0, 0.0,     2, 1e-3,  0.0,   1.0,   "turnover",            "flow over volume"},
  QuantityRow{"power",              Held::intensive, "W",      "W",               1.0,   0.0,      0, 50.0,  0.0,   1e5,   "power",               "electric power"},
  QuantityRow{"energy",             Held::energy,    "J",      "kWh",             1.0/3.6e6, 0.0,  0, 1e9,   0.0,   1e13,  "energy",              "electric energy of a year"},
  QuantityRow{"velocity",           Held::intensive, "m/s",    "m/s",             1.0,   0.0,      2, 1.0,   0.0,   20.0,  "velocity",            "speed of the water in a pipe"},
  QuantityRow{"duration",           Held::intensive, "s",      "min",             1.0/60.0, 0.0,   0, 600.0, 0.0,   1e9,   "time",                "time until something happens"},
  QuantityRow{"share",              Held::intensive, "-",      "%",               100.0, 0.0,      0, 0.1,   0.0,   1e3,   "share",               "part of a whole"},
};
// clang-format on

}  // namespace

std::span<const QuantityRow> quantities() {
  return kRows;
}

bool has_quantity(std::string_view name) {
  for (const QuantityRow& row : kRows)
    if (row.name == name) return true;
  return false;
}

const QuantityRow& quantity_row(std::string_view name) {
  for (const QuantityRow& row : kRows)
    if (row.name == name) return row;
  std::fprintf(stderr, "no quantity is called %.*s\n", static_cast<int>(name.size()), name.data());
  std::abort();
}

double shown(const QuantityRow& row, double si) {
  return si * row.shown_scale + row.shown_shift;
}

std::string shown_number(std::string_view name, double si) {
  const QuantityRow& row = quantity_row(name);
  const double value = shown(row, si);
  const std::string text = fmt::format("{:.{}f}", value, row.places);
  // "-0.0" is no number that anybody wants to read.
  return text.find_first_of("123456789") == std::string::npos && text.starts_with('-') ? text.substr(1) : text;
}

std::string shown_text(std::string_view name, double si) {
  const QuantityRow& row = quantity_row(name);
  const std::string number = shown_number(name, si);
  return row.shown_unit.empty() ? number : fmt::format("{} {}", number, row.shown_unit);
}

}  // namespace leat::words
