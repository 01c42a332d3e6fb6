// Inside leat week: the figures, by subject.
#pragma once

#include "answers/week.h"

namespace leat::answers {

using Entries = std::vector<const record::Entry*>;

/// Min, max and swing of every place, this week and the one before.
void add_windows(WeekAnswer& week, const std::vector<record::Entry>& entries, const Clock& clock);
/// What was fed, by day and in all.
void add_feed(WeekAnswer& week, const std::vector<record::Entry>& entries, const Clock& clock);
/// Fish and plants that died, harvests, weighings.
void add_lives(WeekAnswer& week, const std::vector<record::Entry>& entries, const record::Context& context,
               const std::vector<FishAtStart>& fish);
/// Lowest and highest of each thing that was tested.
void add_tests(WeekAnswer& week, const std::vector<record::Entry>& entries);
/// What does not fit, and what was not looked at.
void add_odd_and_next(WeekAnswer& week, const std::vector<record::Entry>& entries, const record::Context& context);

/// Whether any part of an entry's time lies in the week.
bool in_week(const WeekAnswer& week, const record::Entry& entry);

}  // namespace leat::answers
