// Ranks: how far two rows of numbers go together whatever their units, how sure that is, and how drawn numbers are made
// to go together.
#pragma once

#include <cstdint>
#include <vector>

#include "science/statistics/intervals.h"

namespace leat::science {

/// Rank of each value, from 0; ties share their mean rank.
std::vector<double> ranks_of(const std::vector<double>& values);

/// Spearman's rank correlation.
///
/// returns  -1 to 1; 0 where one side does not vary
/// source   Spearman 1904; ties by their mean rank
double rank_correlation(const std::vector<double>& x, const std::vector<double>& y);

/// Percentile interval of the rank correlation over resampled pairs (bootstrap).
///
/// level      confidence, such as 0.9
/// seed       the same seed, the same interval
/// returns    within -1 and 1
/// error      of its ends, by 400 resamples: about a tenth of its width
/// source     Efron 1979, from memory
Interval rank_correlation_interval(const std::vector<double>& x, const std::vector<double>& y, double level,
                                   std::uint64_t seed, int resamples = 400);

/// Two columns that are to go together, by rank correlation.
struct RankPair {
  std::size_t one = 0, other = 0;
  double correlation = 0.0;
};

/// Changes the order within columns so that their ranks go together as wanted; what stands in a column stays the same.
/// Columns that are in no pair stay as they are. False, and nothing changed, where the wanted numbers exclude each
/// other.
///
///   R* = R (P Q^-1)^T; each column takes the order of its R*
///   R normal scores of the ranks, Q Q^T their correlation, P P^T the wanted one, 2 sin(pi r / 6) for rank correlation
///   r
///
/// rows     [row][column]
/// error    of the rank correlation that is reached: a few hundredths with fifty rows
/// beyond   with no more than twice as many rows as go together, Q is left out and chance adds to what is wanted
/// source   Iman & Conover 1982, from memory; r of normal numbers from their rank correlation: Pearson 1907
bool correlate_by_rank(std::vector<std::vector<double>>& rows, const std::vector<RankPair>& wanted);

}  // namespace leat::science
