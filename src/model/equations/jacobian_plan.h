// Where each slope of the rates goes, worked out once from the loop's own structure. Every process reads a few numbers
// of one body's state; what water flows couples bodies only through what each of them gains. So slopes are taken
// process by process in those numbers, handed on to the slots by the chain rule, and the gains stand in the linear
// system as unknowns of their own: no body's rates then depend on all that lies upstream of it.
#pragma once

#include <cstdint>
#include <vector>

#include "model/equations/equations.h"
#include "numerics/elimination.h"

namespace leat::model {

using Spot = std::uint32_t;
inline constexpr Spot nowhere = 0xffffffff;

/// Most numbers that one process reads.
inline constexpr std::size_t widest_term = 12;

/// One slope of a term: of what it posts to a row by one of its inputs.
struct TermSlope {
  Spot row, input, into;
  bool local;  ///< into the slopes by the numbers of a body, not by a slot
};
struct TermPlan {
  Term term;
  std::vector<Spot> numbers;    ///< of the body's state that it reads
  std::vector<Spot> slots;      ///< that it reads besides; their inputs come after
  bool reads_flow = false;      ///< the last input is the flow that falls
  std::vector<Spot> rows;       ///< slots that it posts to
  std::vector<TermSlope> each;  ///< row: place in `rows`, or rows.size() for the body's gain
  std::size_t inputs() const { return numbers.size() + slots.size() + (reads_flow ? 1 : 0); }
};

/// Water that takes all that it carries from one body to another or to the outside. Rows: water, heat, what is carried.
struct StreamPlan {
  std::size_t body;                          ///< that the water is of
  std::vector<Spot> from_by_own, to_by_own;  ///< local slopes by each row's own concentration
  std::vector<Spot> from_by_flow, to_by_flow;
  Spot gain_by_flow = nowhere;  ///< what the body that it flows into gains
};

/// One slope by a number of a body's state, handed on to slots.
struct HandOn {
  std::size_t body;
  Spot number, by_slot, by_water;
};
/// What a derived number's slope adds to those of the numbers that it follows from.
struct Fold {
  Spot from, into;
  std::size_t body;
  Spot derived, seed;
};

struct JacobianPlan {
  explicit JacobianPlan(const Equations& equations);

  std::size_t bodies = 0, inner = 0, slots = 0, unknowns = 0;
  std::vector<Spot> gain_unknown;  ///< of each body whose gain others depend on; or nowhere
  std::vector<TermPlan> terms;
  std::vector<Spot> derived_seeds;  ///< numbers of a state that acidity and its forms follow from
  std::vector<StreamPlan> paths, spills, sources;
  std::vector<Spot> gain_by_water;  ///< of each body: slope of its gain unknown by its water, for overflows
  std::vector<Fold> folds;
  std::vector<HandOn> hand_on;

  struct Entry {
    Spot row, column;  ///< unknowns; rows from `unknowns` on are the accounts
  };
  std::vector<Entry> entries;
  std::size_t locals = 0;
  std::vector<std::size_t> read_slots;  ///< that any term reads by itself

  numerics::Elimination elimination;
  std::vector<Spot> in_matrix;  ///< of each entry; nowhere for those of the accounts
  std::vector<Spot> diagonal;   ///< of each unknown, in the matrix

 private:
  struct Builder;
};

}  // namespace leat::model
