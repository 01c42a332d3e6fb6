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
constexpr std::size_t widest_of(Process process) {
  switch (process) {
    case Process::air_lines:
      return 1;
    case Process::gas:
      return 4;
    case Process::fall:
      return 5;
    case Process::fish:
      return 7;
    case Process::rotting:
    case Process::limestone:
      return 8;
    case Process::film:
      return 9;
    case Process::crop:
      return 10;
    case Process::algae:
      return 11;
    default:
      return widest_term;
  }
}

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

/// The slopes of one row by the numbers of one body's state, which stand side by side: those by derived numbers are
/// folded into those that they follow from, and all of these are handed on to slots.
struct LocalRow {
  std::size_t body;
  Spot by_water;  ///< entry
  struct One {
    Spot local, number, by_slot;
  };
  std::vector<One> numbers;
  std::vector<One> derived;  ///< number: which of the derived; no entry
  std::vector<Spot> seeds;   ///< locals that those are folded into; none where there are no derived ones
};

struct JacobianPlan {
  explicit JacobianPlan(const Equations& equations);

  std::size_t bodies = 0, inner = 0, slots = 0, unknowns = 0;
  std::vector<Spot> gain_unknown;  ///< of each body whose gain others depend on; or nowhere
  std::vector<TermPlan> terms;
  std::vector<Spot> derived_seeds;  ///< numbers of a state that acidity and its forms follow from
  std::vector<StreamPlan> paths, spills, sources;
  std::vector<Spot> gain_by_water;  ///< of each body: slope of its gain unknown by its water, for overflows
  std::vector<LocalRow> rows;

  struct Entry {
    Spot row, column;  ///< unknowns; rows from `unknowns` on are the accounts
  };
  std::vector<Entry> entries;  ///< as they stand in the matrix, then those of the accounts, row by row
  std::size_t locals = 0;

  numerics::Elimination elimination;
  std::size_t in_matrix = 0;   ///< so many of the entries; the rest are of the accounts
  std::vector<Spot> of_gains;  ///< entries of the rows of the bodies' gains, what is upstream first
  std::vector<Spot> at_place;  ///< entry at each place of the matrix; nowhere for what fills in
  std::vector<Spot> diagonal;  ///< of each unknown, in the matrix

 private:
  struct Builder;
  void sort_entries();
};

}  // namespace leat::model
