// The record as numbers in one unit each, in the order of time: what an answer reasons on. Nothing here changes the
// record; each number keeps the entry that it came from.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "record/entry.h"

namespace leat::learn {

using record::Moment;

inline constexpr Moment kHour = 3'600'000, kDay = 24 * kHour;

/// A reading in the unit of its kind: degC, pH, mg/L (ammonia, nitrite and nitrate as N, alkalinity and hardness as
/// CaCO3), L/h, cm. An interval where the kit or a basis that was not said leaves one.
struct Reading {
  std::int64_t entry = 0;
  Moment at = 0;  ///< the middle of its time
  std::string what{}, where{}, extreme{}, instrument{};
  std::optional<Moment> since{};
  double low = 0.0, high = 0.0;
  bool basis_said = true;
  double typed = 0.0;  ///< the number as it was written
  std::string unit{};  ///< with its basis, as it was written: "mg/L as N"
  double value() const { return 0.5 * (low + high); }
};

/// Something done or seen to happen; grams and litres where it says them, of all together.
struct Deed {
  std::int64_t entry = 0;
  Moment at = 0;
  std::string what{}, where{}, towards{}, subject{};
  std::optional<double> count{}, grams{}, grams_each{}, litres{};
  double share = 0.0;  ///< of the water, where a change says per cent
  double typed = 0.0;
  std::string unit{}, said{};
};

/// The loop file as it was from a time on.
struct Chapter {
  std::int64_t entry = 0;
  Moment at = 0;
  std::string description{};
};

struct History {
  std::vector<Reading> readings;
  std::vector<Deed> deeds;  ///< chapters ("replumbed") as well
  std::vector<Chapter> chapters;
  std::vector<record::Entry> remarks;  ///< words kept as they are
  std::vector<Moment> moments;         ///< of everything that was noted by somebody, in order

  bool empty() const { return moments.empty(); }
  /// Readings of one kind at one place (empty: everywhere), without minima and maxima.
  std::vector<const Reading*> of(std::string_view what, std::string_view where = "") const;
  std::vector<const Deed*> done(std::string_view what, std::string_view where = "") const;
  /// Deeds after one moment, up to and with another.
  std::span<const Deed> deeds_between(Moment from, Moment to) const;
  std::span<const Reading> readings_between(Moment from, Moment to) const;
  /// Places at which a kind was read, in the order of their first reading.
  std::vector<std::string> places_of(std::string_view what) const;
  /// The same as it was known at a moment.
  History until(Moment now) const;
};

/// Entries that stand, in the order of time. Readings in a unit that says no amount ("%" of oxygen) are left out.
History history_of(const std::vector<record::Entry>& entries);

/// What one unit of a kind is in the unit of its kind; nothing where it is none. "mg/L as NO3" of nitrate is 0.2259.
std::optional<double> factor_of(std::string_view what, std::string_view unit, std::string_view basis);

}  // namespace leat::learn
