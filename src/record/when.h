// Times as people say them: "07:30", "yesterday", "this morning", "20 min ago", "2026-11-24 18:00".
#pragma once

#include "base/time/civil.h"
#include "record/entry.h"
#include "record/tokens.h"

namespace leat::record {

/// From and to; equal for an exact time.
struct Span {
  Moment from = 0, to = 0;
  friend bool operator==(const Span&, const Span&) = default;
};

Moment moment_of(const Clock& clock, const CivilDate& date, double hour);
/// "2026-11-25 07:41" by a clock; "2026-11-24 05:00 to 12:00"; a whole day is its date.
std::string span_text(const Clock& clock, Span span);

/// Takes a time off the front of [at, end). A time of day alone is the last one that was. Nothing is taken when no time
/// stands there. A time that lies ahead of now is taken as it was said: the caller looks.
std::optional<Span> take_when(const Tokens& tokens, std::size_t& at, std::size_t end, const Clock& clock, Moment now);

/// A whole text as a time, for flags; the clause says what is wrong.
std::variant<Span, Trouble> read_when(std::string_view text, const Clock& clock, Moment now);

}  // namespace leat::record
