// The rates of a water run: levels, and what leaves the loop or comes to it.
#pragma once

#include <memory>
#include <vector>

#include "model/flow/switches.h"

namespace leat::model {

/// Levels, then what has left or come, by account.
struct WaterPlaces {
  std::size_t vessels;
  std::size_t spill(std::size_t v) const { return vessels + v; }
  std::size_t held(std::size_t v) const { return 2 * vessels + v; }
  std::size_t top_up() const { return 3 * vessels; }
  std::size_t evaporated() const { return 3 * vessels + 1; }
  std::size_t size() const { return 3 * vessels + 2; }
};

/// dy/dt and its slopes for the switches as they stand. One object serves one thread.
class WaterRates {
 public:
  WaterRates(const Plumbing& plumbing, const Switches& switches, WaterState& state)
      : plumbing_(plumbing),
        loop_(plumbing.loop()),
        switches_(switches),
        state_(state),
        places_{loop_.vessels.size()},
        work_(plumbing.make_work()),
        levels_(loop_.vessels.size()),
        net_(loop_.vessels.size()),
        vessel_slopes_(loop_.vessels.size() * loop_.vessels.size()) {}

  const WaterPlaces& places() const { return places_; }
  bool rates(std::span<const double> y, std::span<double> d);
  /// The rates must have been asked for at this very state just before.
  bool slopes(std::span<const double> y, std::span<double> entries);
  /// Flows at some levels, switches as they stand.
  void flows(std::span<const Length<>> levels, Flows& out);

 private:
  const Plumbing& plumbing_;
  const Loop& loop_;
  const Switches& switches_;
  WaterState& state_;
  WaterPlaces places_;
  std::unique_ptr<Plumbing::Work, void (*)(Plumbing::Work*)> work_;
  std::vector<Length<>> levels_;
  Flows flows_;
  std::vector<double> net_, vessel_slopes_;

  void read_levels(std::span<const double> y);
};

}  // namespace leat::model
