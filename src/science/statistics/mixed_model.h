// Plants within beds: a treatment's difference when plants of one bed are alike.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "science/statistics/intervals.h"

namespace leat::science {

/// One measured plant: its value, the fixed part that it belongs to, and its bed.
struct Grouped {
  double value;
  std::vector<double> fixed;  ///< columns of the design, the same number for all: 1, treatment, cycles
  std::size_t group;          ///< from 0
};

struct MixedFit {
  std::vector<double> effects;  ///< one a column
  std::vector<double> errors;   ///< their standard errors
  double between;               ///< standard deviation of beds
  double within;                ///< standard deviation of plants in a bed
  double groups;
  /// Degrees of freedom of what differs between beds: beds less columns.
  double degrees;

  double intraclass() const;
  Interval interval(std::size_t column, double level) const;
};

/// Random intercept of beds, by restricted likelihood.
///
///   y = X b + u(bed) + e,  u ~ N(0, between^2), e ~ N(0, within^2)
///   with l = between^2 / within^2 each bed's values lose (1 - 1/sqrt(1 + n l)) of their mean, then least squares;
///   l minimises (N - p) ln(RSS) + sum ln(1 + n l) + ln det(X'X), found along ln l, or 0
///
/// returns  nothing when the columns are not independent, or there are no more beds than columns
/// error    few beds give a rough `between`; 0 is common with two or three
/// source   Patterson & Thompson 1971; Laird & Ware 1982
std::optional<MixedFit> mixed_model(std::span<const Grouped> plants);

}  // namespace leat::science
