// Min/max readings as windows: what was lowest and highest from one reset of the thermometer to the next.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/time/civil.h"
#include "record/entry.h"

namespace leat::answers {

enum class WindowKind {
  whole_day,  ///< 20 to 28 hours
  night,      ///< up to 16 hours with 03:00 in it
  other       ///< a part of the day without the night, or more than a day
};
std::string_view window_word(WindowKind kind);

struct Window {
  record::Moment from = 0, to = 0;  ///< from the reset to the reading
  double low = 0, high = 0;         ///< degC
  WindowKind kind = WindowKind::other;
  std::vector<std::int64_t> entries{};

  double swing() const { return high - low; }
};

/// Celsius of a reading; nothing when it is no temperature.
std::optional<double> celsius_of(const record::Amount& amount);

/// What became of the min/max readings of one thing in one place.
struct WindowsFound {
  std::vector<Window> windows;    ///< in order of their ends
  std::size_t without_reset = 0;  ///< pairs whose window has no known start
  std::size_t upside_down = 0;    ///< min above max
};
WindowsFound windows_in(const std::vector<record::Entry>& entries, const Clock& clock, std::string_view what,
                        const std::string& where);

}  // namespace leat::answers
