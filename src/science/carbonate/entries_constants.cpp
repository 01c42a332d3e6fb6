#include "science/carbonate/constants.h"
#include "science/water/entry_help.h"

namespace leat::science::water_entry {
namespace {

double activity_coefficient(const Given& g) {
  const Concentration<> strength = ionic_strength_of(g, Concentration<>(0.0));
  const double charge = g("charge");
  return ten_to(charge * charge * log_activity_davies(temperature_of(g), strength).si());
}

}  // namespace

std::vector<Entry> constant_entries() {
  return {
      {"carbonic_pk1",
       "-log10 of the first constant of carbonic acid at zero ionic strength",
       {temperature_row},
       {{"pk1", "-", [](const Given& g) { return carbonic_pk1(temperature_of(g)).si(); }}},
       "Plummer & Busenberg 1982"},
      {"carbonic_pk2",
       "-log10 of the second constant of carbonic acid at zero ionic strength",
       {temperature_row},
       {{"pk2", "-", [](const Given& g) { return carbonic_pk2(temperature_of(g)).si(); }}},
       "Plummer & Busenberg 1982"},
      {"calcite_log_ksp",
       "log10 of the solubility product of calcite",
       {temperature_row},
       {{"log_ksp", "-", [](const Given& g) { return calcite_log_ksp(temperature_of(g)).si(); }}},
       "Plummer & Busenberg 1982"},
      {"water_pkw",
       "-log10 of the ion product of water",
       {temperature_row},
       {{"pkw", "-", [](const Given& g) { return water_pkw(temperature_of(g)).si(); }}},
       "wateq4f.dat of PHREEQC"},
      {"activity_coefficient_davies",
       "activity of an ion over its concentration",
       rows({{{"charge", "-", -3, 3, "of the ion"}}, ionic_strength_rows(), {temperature_row}}),
       {{"activity_coefficient", "-", activity_coefficient}},
       "Davies 1962"},
      {"debye_huckel_a",
       "A of Debye and Hueckel's law",
       {temperature_row},
       {{"a", "-", [](const Given& g) { return debye_huckel_a(temperature_of(g)).si(); }}},
       "definition; Malmberg & Maryott 1956; Tanaka et al. 2001"},
  };
}

}  // namespace leat::science::water_entry
