#include "science/carbonate/ion_pairs.h"

namespace leat::science {
namespace {

struct CarbonAt {
  double bicarbonate, carbonate;  // free, mol/m3
};

/// Free bicarbonate and carbonate of a carbon total that is shared with the pairs.
CarbonAt free_carbon(const MixedConstants<>& bare, const MixedConstants<>& paired, Number<> acidity, double carbon) {
  const double h = acid_base::proton_activity(acidity.si());
  const double dioxide = carbon * carbon_shares(acidity, paired).carbon_dioxide;
  const double bicarbonate = dioxide * bare.carbonic1 / h;
  return {bicarbonate, bicarbonate * bare.carbonic2 / h};
}

}  // namespace

PairedWater paired_water(Temperature<> water, Concentration<> ionic_strength, const AcidBaseTotals<>& totals,
                         Concentration<> calcium, Concentration<> magnesium) {
  const MixedConstants<> bare = mixed_constants(water, ionic_strength);
  const PairConstants<> pair = pair_constants(water, ionic_strength);
  PairedWater w{Number<>(7.0), calcium, magnesium, Concentration<>(0.0)};
  // The free ions fall from the totals to their fixed point; each round takes off a factor of about ten.
  for (int round = 0; round < 60; ++round) {
    const MixedConstants<> k = with_ion_pairs(bare, pair, w.calcium_free, w.magnesium_free);
    w.acidity = acidity_closed(k, totals, w.acidity.si());
    const CarbonAt c = free_carbon(bare, k, w.acidity, totals.inorganic_carbon.si());
    const Concentration<> last = w.calcium_free + w.magnesium_free;
    w.calcium_free = calcium / (1.0 + pair.calcium_bicarbonate * c.bicarbonate + pair.calcium_carbonate * c.carbonate);
    w.magnesium_free =
        magnesium / (1.0 + pair.magnesium_bicarbonate * c.bicarbonate + pair.magnesium_carbonate * c.carbonate);
    w.carbonate_free = Concentration<>(c.carbonate);
    if (std::abs((w.calcium_free + w.magnesium_free - last).si()) < 1e-12) break;
  }
  return w;
}

}  // namespace leat::science
