// Clock and calendar: local dates in a named zone, and instants that physics can count.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <variant>

#include "base/units/parse.h"

namespace leat {

/// Seconds since 1970-01-01T00:00 UTC. Leap seconds are not counted.
struct Instant {
  double seconds = 0.0;
  friend bool operator==(Instant, Instant) = default;
  friend auto operator<=>(Instant, Instant) = default;
};

/// A calendar day in no particular zone.
struct CivilDate {
  int year = 1970;
  int month = 1;  ///< 1 to 12
  int day = 1;    ///< 1 to 31
  friend bool operator==(const CivilDate&, const CivilDate&) = default;
  friend auto operator<=>(const CivilDate&, const CivilDate&) = default;
  CivilDate plus_days(int n) const;
  /// Days since 1970-01-01.
  int serial() const;
  /// 1 to 366.
  int day_of_year() const;
  /// 1 Monday to 7 Sunday.
  int weekday() const;
  std::string text() const;  ///< "2026-01-05"
};

struct CivilTime {
  CivilDate date;
  double hour = 0.0;  ///< 0 to 24, by the local clock
};

/// "2026-01-05"; also "2026-1-5" and "2026/01/05". Anything else, or a day that does not exist, is refused with words.
std::variant<CivilDate, Unreadable> read_date(std::string_view text);
/// "2026-01-05T14:30", "2026-01-05 14:30:00", a date alone (midnight), with an optional "Z" or "+01:00".
struct ReadTime {
  CivilTime local;
  std::optional<double> utc_offset_hours;
};
std::variant<ReadTime, Unreadable> read_time(std::string_view text);

/// A clock: a zone of the time zone database ("Europe/London"), or a fixed offset such as "+01:00" or "local solar".
/// The database ends in 2037; after that a zone keeps its last offset.
class Clock {
  std::string name_;
  double fixed_hours_ = 0.0;
  const void* zone_ = nullptr;

 public:
  /// Fixed offset from UTC.
  static Clock fixed(double hours, std::string name);
  static std::variant<Clock, Unreadable> named(std::string_view zone);
  const std::string& name() const { return name_; }
  /// In a gap (spring) the instant of the gap's end; in an overlap (autumn) the earlier one.
  Instant instant(const CivilTime& local) const;
  CivilTime local(Instant t) const;
  double utc_offset_hours(Instant t) const;
  /// Whether the clock jumps over this time in spring.
  bool skips(const CivilTime& local) const;
  /// Offset without summer time: the smaller of those in January and July.
  double standard_offset_hours(int year) const;
};

}  // namespace leat
