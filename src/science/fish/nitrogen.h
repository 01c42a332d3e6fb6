// Where the nitrogen and phosphorus of feed go. Flows of any group of fish: of one, of a tank, per kilogram.
#pragma once

#include "base/units/quantity.h"

namespace leat::science {

/// Nitrogen in protein by mass.
inline constexpr double nitrogen_of_protein = 1.0 / 6.25;

/// Composition and digestibility that a nitrogen balance needs.
struct NitrogenShares {
  double protein = 0.45;        ///< of feed, by mass
  double digestible = 0.90;     ///< of feed nitrogen; 0.85 to 0.93, about 0.73 for trout under 20 g below 7 °C
  double body = 0.027;          ///< nitrogen in live fish, kg/kg: trout 0.027, tilapia 0.025
  double ammonia_share = 0.79;  ///< ammonia in the dissolved nitrogen, 0.71 to 0.87
};

/// Nitrogen per time. fed = uneaten + faeces + gained + dissolved; ammonia is part of dissolved.
template <class N>
struct NitrogenBudget {
  MassRate<N> fed, uneaten, faeces, gained, dissolved, ammonia;
};

/// Balance of the nitrogen that is offered.
///
///   fed = F p / 6.25;  faeces = eaten (1 - d);  gained = dW/dt n;  dissolved = eaten - faeces - gained;
///   ammonia = s dissolved
///
/// offered   feed given per time
/// uneaten   share of it that nobody eats      0 to 0.05 with care
/// gain      live mass gained per time, negative when fish waste away (their nitrogen then dissolves)
/// shares    composition
/// returns   nitrogen per time
/// error     10 % when gain is known; the rule 0.092 x protein overstates modern trout feeds by more
/// beyond    a gain richer in nitrogen than the digested feed gives a negative dissolved share: the gain was impossible
/// source    balance after Cho & Bureau; ammonia share 0.71 (Danish trout filter trial) to 0.87 (Water Sci. Technol.
///           31(10):185)
template <class N>
NitrogenBudget<N> nitrogen_budget(MassRate<N> offered, Number<N> uneaten, MassRate<N> gain,
                                  const NitrogenShares& shares) {
  const MassRate<N> fed = offered * (shares.protein * nitrogen_of_protein);
  const MassRate<N> wasted(fed.si() * uneaten.si());
  const MassRate<N> eaten = fed - wasted;
  const MassRate<N> faeces = eaten * (1.0 - shares.digestible);
  const MassRate<N> gained = gain * shares.body;
  const MassRate<N> dissolved = eaten - faeces - gained;
  return {fed, wasted, faeces, gained, dissolved, dissolved * shares.ammonia_share};
}

/// Phosphorus per time. fed = uneaten + solid + gained + dissolved.
template <class N>
struct PhosphorusBudget {
  MassRate<N> fed, uneaten, solid, gained, dissolved;
};

/// Composition for a phosphorus balance.
struct PhosphorusShares {
  double feed = 0.0115;      ///< kg/kg, 0.009 to 0.014
  double body = 0.0043;      ///< kg/kg live trout, 0.0036 to 0.0048
  double digestible = 0.50;  ///< of feed phosphorus; what is not leaves as solids (40 to 60 %)
};

/// Balance of phosphorus, as for nitrogen.
///
/// source   body 0.0043 back-calculated from budgets in Water Sci. Technol. 31(10):157; shares after Cho & Bureau
template <class N>
PhosphorusBudget<N> phosphorus_budget(MassRate<N> offered, Number<N> uneaten, MassRate<N> gain,
                                      const PhosphorusShares& shares) {
  const MassRate<N> fed = offered * shares.feed;
  const MassRate<N> wasted(fed.si() * uneaten.si());
  const MassRate<N> eaten = fed - wasted;
  const MassRate<N> solid = eaten * (1.0 - shares.digestible);
  const MassRate<N> gained = gain * shares.body;
  return {fed, wasted, solid, gained, eaten - solid - gained};
}

/// Ammonia nitrogen from feed by the rule of thumb.
///
///   TAN = 0.092 F p
///
/// feed      feed per time
/// protein   share of feed                    0.25 to 0.5
/// factor    g of TAN per g of protein        0.092 = 0.16 x 0.80 x 0.80 x 0.90
/// error     ignores growth, ration, temperature and species; above all the nitrogen released on modern trout feeds
/// source    Timmons & Ebeling 2007
template <class N>
MassRate<N> ammonia_from_feed_rule(MassRate<N> feed, Number<N> protein, double factor = 0.092) {
  return MassRate<N>(feed.si() * protein.si() * factor);
}

/// Dry solids that fish leave: faeces and uneaten feed.
///
///   eaten x dry x (1 - d) + wasted x dry
///
/// offered      feed given per time
/// uneaten      share of it
/// dry          dry share of feed               0.90 to 0.92
/// digestible   of dry matter                   0.70 to 0.80
/// source       mass balance; compare the rule of 25 % of feed (Timmons & Ebeling 2007)
template <class N>
MassRate<N> solids_from_feed(MassRate<N> offered, Number<N> uneaten, double dry = 0.91, double digestible = 0.75) {
  const N eaten = offered.si() * (1.0 - uneaten.si());
  return MassRate<N>(dry * (eaten * (1.0 - digestible) + offered.si() * uneaten.si()));
}

}  // namespace leat::science
