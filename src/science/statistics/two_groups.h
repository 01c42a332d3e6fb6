// Two groups of plants: how far apart their means are, whether as many lived, and how many it takes to tell.
#pragma once

#include <span>

#include "science/statistics/intervals.h"

namespace leat::science {

/// Difference of two means when their spreads may differ.
struct MeanDifference {
  double difference;      ///< first less second
  double standard_error;  ///< sqrt(s1^2/n1 + s2^2/n2)
  double degrees;         ///< of freedom, Satterthwaite
  Interval interval;
  double p;  ///< two-sided
};

/// Welch's interval and test.
///
///   df = (s1^2/n1 + s2^2/n2)^2 / ((s1^2/n1)^2/(n1 - 1) + (s2^2/n2)^2/(n2 - 1))
///
/// first, second  at least two values each, and not both without spread
/// error          normal values within each group; few plants with zeros among them are not
/// source         Welch 1947; Satterthwaite 1946
MeanDifference mean_difference_welch(const Sample& first, const Sample& second, double level);

/// Two-sided p that two shares are alike: all tables with the same margins that are no likelier than the one seen.
///
/// k1 of n1, k2 of n2    whole numbers
/// source                Fisher 1935; two-sided by probability, as most tables print it
double shares_alike_fisher(double k1, double n1, double k2, double n2);

/// Plants in each of two groups so that a true difference is found with the wanted power.
///
///   n = 2 (t(1 - a/2) + t(power))^2 (variation / difference)^2, t with 2 n - 2 degrees, n solved
///
/// variation    standard deviation over mean within a group     above 0
/// difference   wanted difference over the mean                 above 0
/// level        1 - a, two-sided                                0.95
/// power        chance to find it                               0.80
/// returns      not rounded; with normal quantiles in the place of t it is about 1 lower
/// error        within 0.1 plants of the noncentral t from 10 plants on
/// source       Snedecor & Cochran 1967, section 4.13
double plants_needed(double variation, double difference, double level, double power);

/// The same with normal quantiles, as tables for the field have it.
double plants_needed_normal(double variation, double difference, double level, double power);

}  // namespace leat::science
