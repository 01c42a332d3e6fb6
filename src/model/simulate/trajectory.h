// What a run leaves behind.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "base/time/civil.h"
#include "model/books/layout.h"
#include "numerics/integrator.h"

namespace leat::model {

/// Something that happened at an instant, in words.
struct Happening {
  Instant when;
  std::string path, words;
};

/// The lowest and highest of a quantity within one local day, from the run's own curve and not from samples.
struct Extremes {
  double low = 1e300, high = -1e300;
  Instant low_at, high_at;
  void take(double value, Instant when);
  double swing() const { return high - low; }
};

/// One body of water on one local day.
struct BodyDay {
  Extremes temperature;  ///< degC
  Extremes oxygen;       ///< mol/m3
};

/// One local day of the whole loop.
struct Day {
  CivilDate date;
  std::vector<BodyDay> bodies;
  std::vector<double> fed_kg;  ///< of each group of fish
};

/// Fish that came from one water into another, and both waters at that moment.
struct FishMoved {
  Instant when;
  std::size_t move = 0;  ///< of the loop's moves
  double count = 0.0;
  Temperature<> from, to;
  double pH_from = 7.0, pH_to = 7.0;
};

/// Plants that were cut.
struct Harvest {
  Instant when;
  std::size_t planting;
  Mass<> fresh;
  bool whole = true;  ///< else the rest grows on
};

/// What all outside accounts and stocks did over a run.
struct Books {
  std::vector<double> opening, closing;           ///< the state at both ends
  std::array<double, kLedgers.size()> closure{};  ///< of each ledger, relative
};

struct Trajectory {
  std::vector<Instant> hours;               ///< whole hours, the start included
  std::vector<std::vector<double>> states;  ///< at each of them
  std::vector<std::vector<double>> pH;      ///< of each body, at each of them
  std::vector<Day> days;
  std::vector<Happening> happenings;
  std::vector<Happening> deeds;  ///< of the loop file, as they came out
  std::vector<FishMoved> moved;
  std::vector<Harvest> harvests;
  Books books;
  numerics::Counts counts;
  bool finished = false;
  std::string said;           ///< when it did not finish: when, which slot, why
  std::string not_by_cycles;  ///< why its pulsed water could not be taken by whole cycles, or not to the end
};

}  // namespace leat::model
