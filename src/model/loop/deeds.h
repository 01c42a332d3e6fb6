// What the grower means to do within a run: fish that are moved, plants that are cut; and algae that die.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/time/civil.h"
#include "base/units/quantity.h"

namespace leat::model {

/// Which of a group are taken.
enum class Taken { any, largest, smallest };

/// Fish that leave their group: for another tank, for another group, or out of the loop.
struct FishMove {
  std::string path;
  std::size_t from = 0;             ///< of the loop's fish, and then of those to come
  std::optional<std::size_t> into;  ///< as `from`; none: they leave the loop
  CivilTime when;
  std::optional<double> count;  ///< at most so many; none: all that are meant
  Taken taken = Taken::any;
  std::optional<Mass<>> larger_than, smaller_than;  ///< of one fish
  Duration<> tempering{};                           ///< over which they come to the new water
};

/// Algae that die all at once.
struct AlgaeDeath {
  std::string path;
  CivilTime when;
  double share = 0.9;
  std::optional<int> vessel;  ///< none: in all of them
};

/// Plants that are cut: all of them, and seedlings set in their place, or a share of each, which then grows on.
struct Cut {
  std::string path;
  std::size_t planting = 0;
  CivilTime when;
  double share = 1.0;
};

struct Deeds {
  std::vector<FishMove> moves;  ///< in the order of time
  std::vector<AlgaeDeath> algae_deaths;
  std::vector<Cut> cuts;

  bool any() const { return !moves.empty() || !algae_deaths.empty() || !cuts.empty(); }
};

}  // namespace leat::model
