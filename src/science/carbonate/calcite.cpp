#include "science/carbonate/calcite.h"

#include "numerics/root.h"

namespace leat::science {
namespace {

/// Calcium over a water of known carbonate at the solubility product, mol/m3.
double calcium_at_saturation(Temperature<> water, Concentration<> ionic_strength, double carbonate) {
  const double g = log_activity_davies(water, ionic_strength).si();
  return ten_to(calcite_log_ksp(water).si() - 8.0 * g) * 1e6 / carbonate;
}

/// The water at one ionic strength, and the ionic strength it then has.
CalciteWater at_ionic_strength(Temperature<> water, Concentration<> dissolved_gas, Concentration<> ionic_strength) {
  const MixedConstants<> k = mixed_constants(water, ionic_strength);
  const auto state = [&](double ph) {
    const double h = acid_base::proton_activity(ph);
    const double bicarbonate = dissolved_gas.si() * k.carbonic1 / h, carbonate = bicarbonate * k.carbonic2 / h;
    const double calcium = calcium_at_saturation(water, ionic_strength, carbonate);
    const double alkalinity = bicarbonate + 2.0 * carbonate + k.water / h - k.proton * h;
    const double strength = 0.5 * (4.0 * calcium + bicarbonate + 4.0 * carbonate);
    return CalciteWater{Number<>(ph), Concentration<>(alkalinity), Concentration<>(calcium), Concentration<>(strength)};
  };
  const auto excess = [&](double ph) {
    const CalciteWater w = state(ph);
    return w.alkalinity.si() - 2.0 * w.calcium.si();
  };
  return state(numerics::bracketed_root(excess, 5.0, 11.0, 1e-12));
}

}  // namespace

Number<> calcite_index_without_pairs(Temperature<> water, Concentration<> ionic_strength,
                                     const AcidBaseTotals<>& totals, Concentration<> calcium) {
  const MixedConstants<> k = mixed_constants(water, ionic_strength);
  const Number<> acidity = acidity_closed(k, totals);
  return calcite_index(water, ionic_strength, calcium, carbon_shares(acidity, k).carbonate * totals.inorganic_carbon);
}

Number<> calcite_index_with_pairs(Temperature<> water, Concentration<> ionic_strength, const AcidBaseTotals<>& totals,
                                  Concentration<> calcium, Concentration<> magnesium) {
  const PairedWater w = paired_water(water, ionic_strength, totals, calcium, magnesium);
  return calcite_index(water, ionic_strength, w.calcium_free, w.carbonate_free);
}

CalciteWater calcite_equilibrium_open(Temperature<> water, Pressure<> carbon_dioxide) {
  const Concentration<> gas = carbon_dioxide_saturation(water, carbon_dioxide);
  CalciteWater w{Number<>(8.0), Concentration<>(1.0), Concentration<>(0.5), Concentration<>(1.5)};
  for (int round = 0; round < 50; ++round) {
    const double last = w.ionic_strength.si();
    w = at_ionic_strength(water, gas, w.ionic_strength);
    if (std::abs(w.ionic_strength.si() - last) < 1e-10) break;
  }
  return w;
}

}  // namespace leat::science
