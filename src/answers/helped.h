// leat helped: did a change make the water steadier, once the weather is taken out?
#pragma once

#include "answers/windows.h"
#include "model/weather/weather.h"
#include "record/places.h"
#include "science/statistics/comparison.h"
#include "science/statistics/through_origin.h"

namespace leat::answers {

struct HelpedRequest {
  std::optional<record::Moment> change{};  ///< when; unless said the last re-plumbing, or the last move of fish
  std::string where{};                     ///< the vessel; unless said, where the fish are
  std::optional<record::Moment> since{}, until{};
  std::optional<WindowKind> kind{};       ///< which windows; unless said, whole days if there are enough
  double standard_swing = 10.0;           ///< of the air, K: the day for which both are told
  std::optional<double> heat_capacity{};  ///< of the loop, J/K: gives losses in W/K
  bool capacity_said = true;              ///< false: worked out from the loop's file
  double level = 0.95;
  const model::DailyRecord* weather = nullptr;  ///< air where the record has none
};

/// One window of the water with the air of the same time.
struct Matched {
  record::Moment from = 0, to = 0;
  double air = 0, water = 0;  ///< swings, K
  std::vector<std::int64_t> entries;
};

struct Period {
  std::string where;
  std::vector<Matched> days;
  std::optional<science::Proportion> line;
  double least_air = 0, most_air = 0;
};

/// Days before and after whose air swung alike, each used once.
struct Alike {
  Matched before, after;
};

enum class HelpedVerdict { steadier, less_steady, cannot_tell, not_comparable };

struct HelpedAnswer {
  HelpedVerdict verdict = HelpedVerdict::not_comparable;
  std::string why_not;  ///< of not_comparable, a sentence
  record::Moment change = 0;
  std::string change_words;
  std::int64_t change_entry = 0;  ///< 0: said by a flag
  WindowKind kind = WindowKind::whole_day;
  Period before, after;
  double standard_swing = 10.0, level = 0.95;
  std::optional<science::SlopesApart> apart;
  std::optional<science::SlopesApart> apart_alike;  ///< the same, days as alike as they are: it decides
  std::optional<science::Interval> blocks;          ///< of the slopes' difference
  int block = 0;
  double independent_days = 0;  ///< that both periods are worth, by the correlation of what the lines leave
  std::optional<science::Shares> shares;
  bool overlap = false;  ///< the air's swings before and after have a part in common
  std::vector<Alike> alike;
  std::optional<science::Rearranged> alike_chance;
  std::optional<double> hours_before, hours_after;  ///< time constants
  std::optional<double> loss_before, loss_after;    ///< W/K
  std::vector<std::string> left_out, taken;         ///< sentences
};

HelpedAnswer helped(const std::vector<record::Entry>& entries, const record::Context& context,
                    const HelpedRequest& request);

}  // namespace leat::answers
