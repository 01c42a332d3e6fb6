// One year of what a loop carries: what `leat carry` and each member of its ensemble are made of.
#pragma once

#include <optional>

#include "answers/ahead.h"
#include "answers/carry.h"
#include "science/fish/species.h"

namespace leat::answers {

inline constexpr int kCarryWeeks = 52;

/// What does not change with the week.
struct CarryStock {
  model::FishGroup group;
  const science::Species& species;
  double protein = 0.45;
};
CarryStock stock_of(const model::Loop& loop);

/// The loop's own water. Fish and film hardly warm it, so they are left out; what dries up is made good.
model::Loop water_alone(model::Loop loop);

struct CarryYear {
  std::vector<CarryWeek> weeks;
  std::size_t tightest = 0;
  int weeks_of_air = 0;
};

/// The weeks of a loop, fish and film as they stand in it, whose water ran as in `year`.
CarryYear carry_year(const model::Loop& loop, const CheckAnswer& check, const model::Weather& weather, CivilDate first,
                     const AheadAnswer& year, const BesideLoop& beside = {});

/// Many such years; nothing where fewer than three could be run.
std::optional<CarrySure> carry_surely(const model::Loop& loop, const CheckAnswer& check, CivilDate first,
                                      const CarryDraws& draws, const CarryAnswer& middle);

}  // namespace leat::answers
