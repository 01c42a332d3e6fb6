// The loop as the record last saw it: the newest readings, the fish that are left, and how old each of these is.
#pragma once

#include "learn/history.h"
#include "model/loop/loop.h"

namespace leat::learn {

/// Something that was taken from the record in place of what the loop file says, or left because it is too old.
struct Taken {
  std::string path;    ///< "water.temperature", "fish.trout.count"
  std::string value;   ///< "9.5 degC"
  std::string reason;  ///< "read 3 h ago, entry 12"
  std::int64_t entry = 0;
  bool used = true;  ///< false: too old, or it cannot be told what it means
};

/// The newest readings that still say something, by kind; the whole loop is taken as one water.
struct Present {
  Moment now = 0;
  std::vector<Reading> readings;
  std::vector<Taken> taken;
  std::optional<Moment> last_fed{};
  double fed_today = 0.0;               ///< g, on this civil day
  std::optional<Deed> power{}, pump{};  ///< the last that was said of each

  const Reading* of(std::string_view what) const;
};

/// How old a reading of a kind may be to stand for now.
Moment good_for(std::string_view what);
/// "20 min ago", "3 h ago", "4 days ago"
std::string age_words(Moment age);

Present present_of(const History& history, const Clock& clock, Moment now);

/// The loop with the water and the fish that the record last saw; what was taken goes to `present.taken` and, with its
/// reason, to the loop's assumptions.
model::Loop loop_at_present(const model::Loop& loop, const History& history, Present& present);

}  // namespace leat::learn
