// The week to come, for the page of the week that was.
#pragma once

#include "answers/week.h"
#include "model/loop/loop.h"

namespace leat::answers {

/// The lowest oxygen that the model sees in the days after a week, in one line with what it rests on; nothing for a
/// loop without fish. `end` is the last moment that counts as known.
std::optional<WeekLine> oxygen_to_come(const model::Loop& described, const std::vector<record::Entry>& entries,
                                       const CivilDate& last, record::Moment end, int days = 7);

}  // namespace leat::answers
