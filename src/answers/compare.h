// leat compare: today's loop against a plan.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "answers/ahead.h"
#include "answers/bill.h"
#include "answers/check.h"
#include "answers/outage.h"

namespace leat::answers {

/// A check whose verdict is another in the plan, or that only one of the two is asked.
struct CheckChange {
  enum class What { worse, added, better, gone } what = What::worse;
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
    bool ran = false;                                  ///< false: its days could not be followed
    double warmest = 0.0, coldest = 0.0, swing = 0.0;  ///< K, over the days run
    double oxygen_low = 0.0;                           ///< mol/m3
    std::optional<Duration<>> to_danger;               ///< fed fish, power off
  } now, plan;
};

/// One number of one tank over runs of both sides, each pair of runs with the same draws of what is not known.
struct SureSides {
  std::string path, what, quantity;
  bool wants_high = false;  ///< more is better
  Spread now, plan, difference;
  int better = 0, pairs = 0;  ///< pairs in which the plan does better
  std::vector<Owed> owed{};   ///< what the difference owes most to
};
/// A limit that some runs of either side go beyond.
struct CrossedSides {
  std::string path, quantity;
  double limit = 0.0;
  bool wants_above = false;
  std::optional<int> now, plan;  ///< runs; nothing where the tank is not there
};
struct SureHowFar {
  int now_runs = 0, plan_runs = 0;
  HowDrawn how;  ///< of both sides together
  std::vector<SureSides> tanks;
  std::vector<CrossedSides> crossed;
};

/// What one vessel, pump or pipe does, in both. None: it is not there.
struct Difference {
  enum class Of { vessel, pump, pipe } of = Of::vessel;
  std::string path, what;  ///< "sump.main", "level"
  std::string quantity;    ///< row of the vocabulary
  std::optional<double> now, plan;
};

struct CompareAnswer {
  std::string now_name, plan_name;
  CheckAnswer now, plan;
  AheadAnswer now_ahead, plan_ahead;
  OutageAnswer now_outage, plan_outage;              ///< power
  std::vector<Finding> now_findings, plan_findings;  ///< of the plumbing, then of the days
  std::vector<PartChange> parts;
  Bill bill;
  std::vector<CheckChange> checks;  ///< worse ones first
  std::vector<Difference> differences;
  std::vector<TankSides> tanks;
  std::optional<SureHowFar> sure;  ///< when members were asked for, and both sides ran
  Volume<> water_now{}, water_plan{};
  Verdict verdict = Verdict::good;   ///< good: yes; tight: yes if; bad: no
  bool whole = true;                 ///< false: a part of it could not be run to its end
  std::vector<std::string> reasons;  ///< what makes it no, or what is to be accepted
  std::vector<std::string> assumed{};
};

CompareAnswer compare(const Side& now, const Side& plan, const model::Weather& weather, const AheadRequest& request);

}  // namespace leat::answers
