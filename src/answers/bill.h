// What a plan takes: the parts that differ, and the pieces to get and left over.
#pragma once

#include <string>
#include <vector>

#include "model/loop/loop.h"

namespace leat::answers {

/// One loop, as it was written and made whole.
struct Side {
  const model::Description& description;
  const model::Loop& loop;
};

/// A part that is new, gone or other than before.
struct PartChange {
  enum class What { added, removed, changed } what = What::changed;
  std::string path;
  /// Of a changed part each key that differs; of a new one, or one that is gone, each that it says.
  struct Key {
    std::string name, now, plan;
  };
  std::vector<Key> keys;
};

std::vector<PartChange> part_changes(const model::Description& now, const model::Description& plan);

/// Pieces of one sort and size. Only what a part says is counted.
struct BillItem {
  std::string what;  ///< "pipe, 27 mm inside"
  std::string unit;  ///< "m", or "" for pieces
  double now = 0.0, plan = 0.0;

  double to_get() const { return plan - now; }
};

struct Bill {
  std::vector<BillItem> items;           ///< of which the plan has more, or fewer
  std::vector<std::string> not_counted;  ///< parts of the plan whose sizes or fittings do not say what to get
};

/// All pieces of the plan against all of today's: what becomes free is counted against what is needed.
Bill bill_of(const Side& now, const Side& plan);

}  // namespace leat::answers
