// Inside leat helped: windows of the water with the air's swing of the same time.
#pragma once

#include "answers/helped.h"

namespace leat::answers {

/// All windows of one kind that lie within a span, each with its air. What has no air is counted.
struct DaysFound {
  std::vector<Matched> days;
  std::size_t without_air = 0, other_kind = 0;
};
DaysFound days_in(const std::vector<Window>& water, const std::vector<Window>& air, WindowKind kind,
                  record::Moment from, record::Moment to, const model::DailyRecord* weather, const Clock& clock);

/// The change that was meant: by the request, or the last that the record names. Nothing when it names none.
struct Change {
  record::Moment at = 0;
  std::string words;
  std::int64_t entry = 0;
  std::string from, towards;  ///< of fish that were moved
};
std::optional<Change> change_in(const std::vector<record::Entry>& entries, const record::Context& context,
                                const HelpedRequest& request);

}  // namespace leat::answers
