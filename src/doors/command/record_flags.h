// What the verbs that read the record ask for alike: times, places, and all that stands in it.
#pragma once

#include "doors/command/record_file.h"
#include "record/when.h"

namespace leat::doors {

/// A time that a flag says; nothing when it is empty, and a problem when it cannot be read.
std::optional<record::Span> time_flag(const std::string& text, const char* flag, const record::Context& context,
                                      Problems& problems);

/// The path of a part that a flag names as in a note; a problem when none is meant.
std::string place_flag(const std::string& text, const char* flag, const record::Context& context, Problems& problems);

/// A loop with all entries of its record that stand. Problems and trouble are told on stderr; nothing then.
struct RecordRead {
  LoopOfRecord loop;
  std::vector<record::Entry> entries;
  std::optional<record::Verified> verified{};  ///< the chain, if it was asked for
};
std::optional<RecordRead> read_whole_record(const std::string& loop_file, const std::string& now, const char* verb,
                                            bool verify = false);

}  // namespace leat::doors
