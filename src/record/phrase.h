// Plain phrases to entries: "fed 60 g", "min 9.1 max 11.4, ph 6.8", "yesterday moved 20 fish to tank 2".
#pragma once

#include "record/places.h"

namespace leat::record {

/// What was made of one part of a phrase. Words that are not plain become an entry of kind text: no note is refused.
struct Understood {
  std::vector<Entry> entries;
  std::string doubt;               ///< why it is kept as words only; empty when it was understood, or is a plain remark
  std::string offer;               ///< a phrase that would complete it
  std::vector<std::string> taken;  ///< what was assumed: "degC", "the water"
  std::string ask{};               ///< of what was understood and kept: a question that the offer would answer
};

/// Reads a phrase, or several with ";", "," or line ends between them. What follows a comma and is no phrase is a
/// remark. Every entry has its times, the words it came from, and `now` as the time it was noted.
std::vector<Understood> read_phrase(std::string_view text, const Context& context);

}  // namespace leat::record
