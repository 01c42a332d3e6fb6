// What is done to a loop within a run: each changes the state at an instant, with both sides of the books.
#pragma once

#include <optional>
#include <set>
#include <vector>

#include "model/equations/equations.h"
#include "model/simulate/trajectory.h"
#include "science/fish/grading.h"

namespace leat::model {

/// The deeds of one run. It works on the run's own state, guesses of pH and trajectory.
class Doing {
 public:
  Doing(const Loop& loop, const Equations& equations, Instant start, std::vector<double>& state,
        const std::vector<double>& pH, Trajectory& out);

  /// The moments, within the run, at which the loop file has something done; seconds from the start.
  std::set<double> moments(Instant to) const;
  /// Does what the loop file wants at this moment. True if the state was changed.
  bool due(Instant now);
  /// Harvests what is ready: picks a share of it, or cuts it whole and plants seedlings in its place. True if anything
  /// was.
  bool harvest(Instant now);
  /// Doses base for the day where alkalinity is short. True if any was.
  bool dose_base(Concentration<> wanted, Instant now);

  /// The fish of a group as they are now: their number, and their share of a stated feed.
  FishGroup group_now(std::size_t g) const;

 private:
  const Loop& loop_;
  const Equations& equations_;
  const Layout& layout_;
  Instant start_;
  std::vector<double>& y_;
  const std::vector<double>& pH_;
  Trajectory& out_;
  std::vector<double> spreads_;                   ///< of each group's fish
  std::vector<std::optional<MassRate<>>> feeds_;  ///< as stated for each group, less what moved fish took along
  std::vector<int> picked_;                       ///< how often each planting was, since it was set

  double& slot(int i) { return y_[static_cast<std::size_t>(i)]; }
  double slot(int i) const { return y_[static_cast<std::size_t>(i)]; }
  Instant at_clock(const CivilTime& when) const { return loop_.site.place.clock.instant(when); }

  struct Lot {
    double count = 0.0, share = 0.0;  ///< fish; of the group's mass
    science::SizeSpread size{}, left{};
  };
  Lot lot_of(const FishMove& move) const;
  void move(const FishMove& move, std::size_t index, Instant now);
  void carry(const FishMove& move, const Lot& lot);
  void let_go(const FishMove& move, double share);
  void tell(const FishMove& move, std::size_t index, const Lot& lot, Instant now);
  void kill_algae(const AlgaeDeath& death, Instant now);
  bool cut(std::size_t planting, double share, Instant now);
};

}  // namespace leat::model
