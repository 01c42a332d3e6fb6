// leat season: how often does something go wrong, when is what ready, and what runs short, over months of weather that
// nobody knows?
#pragma once

#include <cstdint>

#include "answers/ahead.h"
#include "answers/spread.h"

namespace leat::answers {

/// A limit, and in how many of the years some hour of a week goes beyond it.
struct SeasonRisk {
  std::string statement, path, quantity;
  double limit = 0.0;
  std::vector<int> years_by_week;
  int years = 0;  ///< in which it happens at all
};

/// A date that differs from year to year; `years` of them have it within the run.
struct SeasonDate {
  int years = 0;
  CivilDate early, middle, late;
};

struct SeasonFish {
  std::string path, species;
  double size = 0.0;         ///< kg, of one fish
  SeasonDate reaches_size;   ///< when the mean fish weighs that
  Spread mass_at_end, feed;  ///< kg; feed over the run
};

struct SeasonCrop {
  std::string path, crop;
  std::vector<SeasonDate> harvests;  ///< the first, the second; of whole ones the next is sown on the same day
  std::vector<bool> whole;           ///< as `harvests`; else it was picked and grew on
  Spread fresh;                      ///< kg cut within the run
};

/// Something that plants want and that falls below the least of it.
struct SeasonShortage {
  std::string word;
  double least = 0.0;    ///< SI
  bool assumed = false;  ///< nobody said how much there was at the start
  SeasonDate falls_below;
  Spread at_end;
};

struct SeasonBill {
  Spread top_up;                  ///< m3
  double energy = 0.0;            ///< J
  Spread bicarbonate, hydroxide;  ///< kg of potassium bicarbonate and of calcium hydroxide
  Spread cost;                    ///< in the currency of the loop file; nothing when no price is said
  bool priced = false;
};

struct SeasonAnswer {
  std::string loop_name, currency;
  CivilDate first;
  int days = 0, years = 0, stopped = 0;
  std::string why_stopped;
  std::vector<CivilDate> weeks;
  std::vector<Spread> warmest, coldest;  ///< kelvin, of the first fish tank (or vessel), each week
  std::vector<SeasonRisk> risks;         ///< that happen in any year, worst first
  std::vector<SeasonFish> fish;
  std::vector<SeasonCrop> crops;
  std::vector<SeasonShortage> shortages;
  SeasonBill bill;
  std::vector<model::Assumption> assumptions;
  HowDrawn how;                ///< anew in each year, beside its weather; the years are its runs
  std::vector<OwedMost> owed;  ///< numbers of the first tank and of fish and crops
  double seconds = 0.0;
};

struct SeasonRequest {
  CivilDate first;
  int days = 182;
  Mass<> size{0.250};      ///< of a fish to eat
  bool drawn = true;       ///< what nobody knows of the loop differs from year to year as well
  std::uint64_t seed = 1;  ///< of those draws
  double budget = 3.0;     ///< seconds that the number of years was chosen for
  bool base_dosed = true;  ///< the keeper holds the alkalinity half above its limit
};

/// Runs the loop under each of the years of weather, on all cores; the answer does not depend on how many there are.
SeasonAnswer season(const model::Loop& loop, const std::vector<model::Weather>& years, const SeasonRequest& request);

}  // namespace leat::answers
