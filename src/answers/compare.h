// leat compare: today's loop against a plan.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "answers/ahead.h"
#include "answers/check.h"
#include "answers/outage.h"
#include "model/loop/description.h"

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
  /// Of a changed part each key that differs; of a new one each that it says; empty of one that is gone.
  struct Key {
    std::string name, now, plan;
  };
  std::vector<Key> keys;
};

/// A check whose verdict or value is another in the plan.
struct CheckChange {
  std::string statement, path;
  std::optional<Finding> now, plan;  ///< none: it is not asked there
};

/// What one tank has, in both.
struct TankSides {
  std::string path;
  struct One {
    bool there = false;
    Flow<> flow{};
    Frequency<> turnover{};
    double warmest = 0.0, coldest = 0.0, swing = 0.0;  ///< K, over the days run
    double oxygen_low = 0.0;                           ///< mol/m3
    std::optional<Duration<>> to_danger;               ///< fed fish, power off
  } now, plan;
};

struct CompareAnswer {
  std::string now_name, plan_name;
  CheckAnswer now, plan;
  AheadAnswer now_ahead, plan_ahead;
  OutageAnswer now_outage, plan_outage;  ///< power
  std::vector<PartChange> parts;
  std::vector<CheckChange> checks;  ///< worse ones first
  std::vector<TankSides> tanks;
  Volume<> water_now{}, water_plan{};
  Verdict verdict = Verdict::good;   ///< good: yes; tight: yes if; bad: no
  std::vector<std::string> reasons;  ///< what makes it no, or what is to be accepted
};

CompareAnswer compare(const Side& now, const Side& plan, const model::Weather& weather, const AheadRequest& request);

}  // namespace leat::answers
