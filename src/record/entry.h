// One thing that the grower noted. It is never changed: a correction is another entry that supersedes it.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

namespace leat::record {

/// Why something could not be done, in one sentence that says what happened, what it means for the record and what to
/// do.
struct Trouble {
  std::string said;
};

/// Milliseconds since 1970-01-01T00:00 UTC.
using Moment = std::int64_t;

/// A number as it was written, in its own unit. A kit with steps gives an interval; "below 0.25" has no low side.
struct Amount {
  std::optional<double> low, high;
  std::string unit;    ///< as written: "g", "mg/L", "dKH"; empty for pH and counts
  std::string basis;   ///< "N", "NH3", "CaCO3"; empty: not said
  bool about = false;  ///< the grower said "about"
  friend bool operator==(const Amount&, const Amount&) = default;
};

enum class Kind {
  reading,   ///< a number read off something
  deed,      ///< something done or seen to happen
  chapter,   ///< the plumbing changed: from here on another loop; its description is kept whole
  text,      ///< words kept as they are
  withdrawn  ///< a correction that says: this never was
};
std::string_view word_for(Kind kind);
std::optional<Kind> kind_of(std::string_view word);

struct Entry {
  std::int64_t number = 0;  ///< from 1, without gaps
  Moment noted = 0;         ///< when it was put in
  Moment from = 0, to = 0;  ///< when it was so; equal for an exact time, wide for "this morning"
  Kind kind = Kind::text;
  std::string what;     ///< "temperature", "fed", "died"
  std::string where;    ///< path of the loop file, "tank.nursery"; empty: the loop, or not said
  std::string towards;  ///< path that fish or plants were moved to
  std::string subject;  ///< "rocket", "potassium bicarbonate", "trout"
  std::optional<double> count;
  Amount amount;
  std::string extreme;          ///< "min", "max" or empty; such a reading carries its window
  std::optional<Moment> since;  ///< start of the window: the last reset. Its end is `from`
  std::string instrument;
  std::string said;  ///< the words as they were typed
  std::optional<std::int64_t> supersedes;
  std::string why;          ///< of a correction
  std::string description;  ///< of a chapter: the loop file as it was
  friend bool operator==(const Entry&, const Entry&) = default;
};

/// An entry as name and text, always in the same order: the columns of every table and what the chain is made over.
using Fields = std::vector<std::pair<std::string_view, std::string>>;
Fields fields_of(const Entry& entry);
/// Names of all fields.
const std::vector<std::string_view>& field_names();
/// Whether a field holds a number, in tables.
bool is_number(std::string_view field);
/// Sets one field from its text; an empty text leaves it unset. What is wrong comes back as a clause.
std::optional<Trouble> set_field(Entry& entry, std::string_view name, const std::string& text);

/// What makes an entry from elsewhere one that no record can hold, if anything does.
std::optional<Trouble> fault_of(const Entry& entry);

/// "2026-11-25T07:41:00.000Z", and back.
std::string utc_text(Moment moment);

/// Bytes that are no UTF-8 and control characters but line ends and tabs become U+FFFD, so that every reader can show
/// it.
std::string clean_text(std::string_view text);

}  // namespace leat::record
