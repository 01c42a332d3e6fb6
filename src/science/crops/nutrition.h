// What feed brings, what plants take, and what has to be added.
#pragma once

#include <cmath>

#include "base/units/quantity.h"
#include "science/crops/growth.h"
#include "science/fish/nitrogen.h"
#include "science/light/plant_light.h"

namespace leat::science {

/// Element per fresh mass from what a harvest removes: removal per area over yield per area, times the element's share
/// of the form it is stated in (P2O5 0.436 P, K2O 0.830 K).
inline Number<> content_from_removal(ArealMass<> removal, ArealMass<> yield, Number<> element_in_form) {
  return Number<>((removal / yield).si() * element_in_form.si());
}

/// Nitrogen per fresh mass from protein: protein / 6.25. Misses nitrate: 0.3 to 0.6 g/kg more in leaves.
inline Number<> nitrogen_from_protein(Number<> protein) {
  return Number<>(protein.si() * nitrogen_of_protein);
}

/// Content of dry mass from content of fresh mass: c / (1 - water).
inline Number<> content_of_dry_mass(Number<> fresh, Number<> water) {
  return Number<>(fresh.si() / (1.0 - water.si()));
}

/// Share of the feed's nitrogen that a bed takes up.
inline Number<> feed_nitrogen_taken(ArealMassRate<> uptake, ArealMassRate<> feed, Number<> protein) {
  return Number<>((uptake / feed).si() / (protein.si() * nitrogen_of_protein));
}

/// Element that has to be added to a bed: uptake less what the feed brings. Positive when it is short.
inline ArealMassRate<> nutrient_shortfall(ArealMassRate<> uptake, ArealMassRate<> feed, Number<> in_feed) {
  return uptake - feed * in_feed;
}

/// Product to dissolve for a rise of an element in a volume of water: rise x volume / share.
inline Mass<> product_for_rise(Density<> rise, Volume<> water, Number<> share) {
  return Mass<>((rise * water).si() / share.si());
}

/// Plants to a square metre at a spacing.
inline Quantity<Dimension{.length = -2}> plants_per_area(Length<> in_row, Length<> between_rows) {
  return Quantity<Dimension{.length = -2}>(1.0 / (in_row * between_rows).si());
}

/// Light for growth in energy from light in photons: photons / 4.57 umol/J of sunlight.
inline Flux<> par_from_photons(PhotonFlux<> photons, PhotonYield yield = photons_per_par) {
  return photons / yield;
}

/// Global radiation that gives so much light for growth.
inline Flux<> global_from_photons(PhotonFlux<> photons, double share = par_share, PhotonYield yield = photons_per_par) {
  return par_from_photons(photons, yield) / share;
}

}  // namespace leat::science
