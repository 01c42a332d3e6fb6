// What one cycle of pulsed water does to something that the water carries, that comes at steady rates and goes in
// proportion to what is there: its means over the cycle change as a plain linear system, which is found here exactly.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "model/flow/pulses.h"

namespace leat::model {

/// A small matrix, row by row.
struct Square {
  std::size_t n = 0;
  std::vector<double> entries;

  explicit Square(std::size_t size = 0) : n(size), entries(size * size, 0.0) {}
  double& operator()(std::size_t to, std::size_t from) { return entries[to * n + from]; }
  double operator()(std::size_t to, std::size_t from) const { return entries[to * n + from]; }
};

/// How things go with the water that are one made of another, or go alone. All that is per thing and vessel stands
/// thing by thing.
struct Carried {
  std::size_t things = 1;
  std::vector<double> leaves;   ///< of each path: share of what its water holds that it takes along
  std::vector<double> arrives;  ///< of each thing and path: the same, for what reaches the next vessel
  std::vector<double> gains;    ///< of each thing and path: what each m3 takes up on the way besides
  std::vector<double> goes;     ///< of each vessel a matrix (thing, by thing), row by row: first-order loss, 1/s
};

/// With means m over a cycle and steady sources s, both one a thing and vessel:
///
///   dm/dt = (own - goes) m + shared s + taken_up
///
/// `own` is what the water moves, with what changes on the way; where nothing does, its columns add to 0, and those of
/// `shared` to 1, over all vessels of each thing. With flows that never change, `own` is the plain matrix of flows over
/// volumes and `shared` is 1.
struct OneCycle {
  Square own, shared;
  std::vector<double> taken_up;
  Square start_by_mean, start_by_source;  ///< of what is there when the cycle begins: the part by m and that by s
  std::vector<double> start_taken_up;
  std::vector<Square> later, later_by_source;  ///< at the end of each stretch, by what was there at its beginning, by s
  std::vector<std::vector<double>> later_taken_up;
};

/// The exact result of a linear system over a cycle: means m, ends and beginnings are all linear in what was there when
/// it began, x, and in the sources: after the cycle P x + S s, mean Q x + R s. So
///
///   dm/dt = (P - 1) Q^-1 (m - R s) / T + S s / T
///
/// which has the same steady state as the cycle repeated for ever, and its slow modes to first order in T.
///
/// Nothing, and why in `said`: where the means do not tell what was there at the beginning.
std::optional<OneCycle> over_one_cycle(const Pulses& pulses, const Carried& carried, std::string& said);

}  // namespace leat::model
