// What the verbs that compute take from the record: the newest readings, the fish, feed and weather, each told with its
// age.
#pragma once

#include "answers/ahead.h"
#include "doors/command/record_file.h"
#include "learn/present.h"

namespace leat::doors {

/// --record and --now of a verb.
struct FromFlags {
  std::string record;  ///< a file; "none"; empty: the one beside the loop's file, if it is there
  std::string now;
};

struct FromRecord {
  bool found = false;
  record::Moment now = 0;
  learn::History history;
  learn::Present present;
  model::Loop loop;  ///< as the record last saw it; as described where there is none

  /// The newest reading of a kind as the text of a flag, "9.6 degC"; "" when there is none that still stands.
  std::string flag_text(std::string_view what) const;
  /// What was taken and what not, for people; "" without a record.
  std::string text() const;
};

/// Looks at the record for a moment: now, or an earlier one when a run starts before.
FromRecord from_record(const std::string& loop_file, const model::Loop& described, const FromFlags& flags,
                       std::optional<record::Moment> earlier, Problems& problems);

/// Feed that the record has from a day on, and up to when it is known: a replay is fed what was given.
void take_given(const FromRecord& from, const CivilDate& first, answers::AheadRequest& request);

}  // namespace leat::doors
