// The loop's plumbing made ready to solve: which flows belong to which levels.
#pragma once

#include <functional>
#include <memory>
#include <span>
#include <vector>

#include "model/loop/loop.h"
#include "science/hydraulics/pipe_law.h"

namespace leat::model {

/// What may be different from the description for one question, and what is switched how just now. An empty list means
/// the usual: nothing tripped, nothing stopped, nothing primed, the levels decide, the first turn.
struct Setting {
  bool power = true;              ///< false: every pump stands still
  std::vector<bool> tripped{};    ///< pumps that have stopped because they ran dry
  std::vector<bool> stopped{};    ///< pumps that a timer or a float holds off
  std::vector<bool> drowned{};    ///< pipes whose open end counts as under water
  std::vector<bool> primed{};     ///< siphons that run full
  std::vector<bool> siphoning{};  ///< overflows without a vent that run full
  std::vector<int> turn{};        ///< which outlet of each sequencing valve is open
  std::vector<double> share{};    ///< of the time that a hunting siphon is primed; below 0: it does not hunt
  std::vector<double> running{};  ///< of the time that a pump whose float hunts runs; below 0: it does not hunt
  std::vector<bool> slurping{};   ///< pipes whose end hunts at the surface: they draw what the pool above it lets in
  bool outside = false;           ///< brims spill to the ground, floats of known height top up, the sun takes water
  Velocity<> evaporation{};       ///< depth a time lost from open water

  bool operator==(const Setting&) const = default;
};

/// Flows at one moment. Positive from -> to as described.
struct Flows {
  bool solved = true;
  std::vector<Flow<>> pumps, pipes, overflows, siphons, drain_holes, weirs, returns;  ///< as in the loop
  std::vector<Flow<>> spills;       ///< over the brim of each vessel to the ground
  std::vector<Flow<>> top_ups;      ///< of each source
  std::vector<Flow<>> evaporation;  ///< of each vessel
  std::vector<Length<>> junction_heads, pump_outlet_heads, valve_inlet_heads, valve_outlet_heads;
};

/// A passage between vessels that needs no pump, with what it carries. `to` is -1 for the ground.
struct Passage {
  const std::string* path = nullptr;
  int from = 0, to = 0;
  Flow<> flow;
};

class Plumbing {
 public:
  /// Memory of one thread: it makes the next solution start from the last.
  class Work;

  explicit Plumbing(const Loop& loop);
  ~Plumbing();
  Plumbing(const Plumbing&) = delete;

  std::unique_ptr<Work, void (*)(Work*)> make_work() const;
  /// All flows for given water levels.
  void flows(std::span<const Length<>> levels, const Setting& setting, Work& work, Flows& out) const;
  /// The same from nothing: the levels alone decide.
  Flows flows(std::span<const Length<>> levels, const Setting& setting) const;
  /// How the change of each vessel's water moves with each level, after `flows` has been called for these levels with
  /// this memory: (of vessel i, with level j) at j * vessels + i, the world outside left out.
  void slopes(std::span<const Length<>> levels, const Setting& setting, Work& work, std::span<double> entries) const;
  /// How what spills over a vessel's brim and what its floats let in move with its level.
  struct OutsideSlopes {
    double spill = 0.0, top_up = 0.0;
  };
  OutsideSlopes outside_slopes(std::size_t vessel, double level, const Setting& setting) const;
  /// Change of each vessel's water per time under these flows; none in a held vessel.
  std::vector<Flow<>> net(const Flows& flows) const;
  /// What each vessel gains, a held one too.
  void net(const Flows& flows, std::span<double> net) const;
  /// Overflows, siphons, drain holes, weirs, returns and spills.
  std::vector<Passage> passages(const Flows& flows) const;

  /// Level above the rim of an overflow that carries a flow, its sleeve included, and the height at which the water
  /// stands in its standpipe.
  Length<> head_over_rim(const Overflow& overflow, Flow<> flow) const;
  Length<> sleeve_loss(const Overflow& overflow, Flow<> flow) const;
  Length<> standpipe_level(const Overflow& overflow, Flow<> flow, Length<> receiving) const;
  /// Flow at which the water in the standpipe reaches its rim, given the level it runs into at each flow.
  Flow<> drowning_flow(const Overflow& overflow, const std::function<Length<>(Flow<>)>& receiving) const;
  Length<> loss(const PipeRun& run, Flow<> flow) const;
  Length<> pump_head(const Pump& pump, Flow<> flow) const;
  /// What an idle siphon of this loop lets over its rim; what a primed one carries; the flow that primes it.
  Flow<> idle_flow(std::size_t siphon, Length<> up, Length<> down) const;
  Flow<> full_flow(std::size_t siphon, Length<> up, Length<> down) const;
  Flow<> priming_flow(const Siphon& siphon) const;
  /// The level that a primed siphon sees: lower than its bed's mean level by what drives its flow through the stones.
  Length<> level_before(std::size_t siphon, Length<> up, Length<> down) const;
  /// The level at which that flow runs over its rim.
  Length<> priming_level(const Siphon& siphon) const;
  Flow<> priming_flow(const Overflow& overflow) const;
  /// Head above the bottom of its mouth that a gravity return needs, its end free.
  Length<> mouth_head(const GravityReturn& r, Flow<> flow) const;
  /// The flow of a gravity return between two levels.
  Flow<> return_flow(std::size_t index, Length<> up, Length<> down) const;

  const Loop& loop() const { return loop_; }

 private:
  struct HeadTable;
  const Loop& loop_;
  std::vector<science::PipeLaw> pipe_laws_, stopped_pump_laws_, valve_laws_, back_laws_, siphon_laws_,
      return_laws_;  ///< as in the loop
  std::vector<std::unique_ptr<HeadTable>> return_heads_;

  Length<> outlet_height(const Overflow& overflow, Length<> receiving) const;
  void pressurised(std::span<const Length<>> levels, const Setting& setting, Work& work, Flows& out) const;
  void with_outside(std::span<const Length<>> levels, const Setting& setting, Flows& out) const;

  /// A flow between two levels, and how it moves with each.
  struct Passing {
    double flow = 0.0, by_up = 0.0, by_down = 0.0;
  };
  /// Calls see(list of Flows, index, from, to, passing) for every passage that levels alone decide.
  template <class See>
  void by_gravity(std::span<const Length<>> levels, const Setting& setting, See&& see) const;
  void gravity_flows(std::span<const Length<>> levels, const Setting& setting, Flows& out) const;
  /// A full pipe with fittings of k Q^2 before it.
  static Passing through(const science::PipeLaw& law, double k, double up, double end);
  static bool carries(const science::PipeLaw& law, double flow, double up, double end);
  Passing over_rim(const Overflow& overflow, double over) const;
  Passing overflow(std::size_t index, double up, double down) const;
  Passing full_overflow(std::size_t index, double up, double down) const;
  Passing idle_siphon(std::size_t index, double up, double down) const;
  Passing full_siphon(std::size_t index, double up, double down) const;
  Passing primed_siphon(std::size_t index, double up, double down) const;
  Passing drain_hole(std::size_t index, double up, double down) const;
  Passing weir(std::size_t index, double up, double down) const;
  Passing gravity_return(std::size_t index, double up, double down) const;
};

/// Levels at which nothing changes any more.
struct Settled {
  bool settled = false;
  std::vector<Length<>> levels;
  Flows flows;
  std::vector<bool> tripped;      ///< pumps that ran dry on the way and stay off
  std::vector<double> running{};  ///< share of the time that each pump runs; empty: all of it
  int steps = 0;
};

/// Follows the levels to where they stay, keeping the water: implicit steps that grow until nothing moves.
Settled settle(const Loop& loop, const Plumbing& plumbing, std::vector<Length<>> start, const Setting& setting);

/// Levels with the pumps off and every vessel filled as the description says: at its level, else at its lowest way out;
/// the lowest vessel takes what remains of `loop.water`, if that is given.
std::vector<Length<>> levels_at_rest(const Loop& loop);

}  // namespace leat::model
