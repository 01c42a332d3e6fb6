#include "base/time/civil.h"

#include <date/tz.h>
#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <exception>
#include <vector>

#include "base/result/problem.h"
#include "base/words/letters.h"

namespace leat {
namespace {

constexpr std::string_view kDateForm = R"(; write year-month-day, such as "2026-01-05")";
constexpr std::string_view kTimeForm = R"(; write such as "2026-01-05T14:30")";
constexpr std::array<std::string_view, 12> kMonths = {"January",   "February", "March",    "April",
                                                      "May",       "June",     "July",     "August",
                                                      "September", "October",  "November", "December"};

std::string_view trim(std::string_view s) {
  const auto blank = [](char c) { return c == ' ' || c == '\t' || c == '\r'; };
  while (!s.empty() && blank(s.front())) s.remove_prefix(1);
  while (!s.empty() && blank(s.back())) s.remove_suffix(1);
  return s;
}

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

/// Takes one to `most` digits off the front.
std::optional<int> take_whole(std::string_view& text, std::size_t most) {
  std::size_t n = 0;
  int value = 0;
  while (n < text.size() && n < most && is_digit(text[n])) value = 10 * value + (text[n++] - '0');
  if (n == 0) return std::nullopt;
  text.remove_prefix(n);
  return value;
}

bool take(std::string_view& text, char c) {
  if (text.empty() || text.front() != c) return false;
  text.remove_prefix(1);
  return true;
}

int days_in_month(int year, int month) {
  const auto last = date::year_month_day_last(date::year(year), date::month_day_last(date::month(unsigned(month))));
  return static_cast<int>(unsigned(last.day()));
}

Unreadable no_date() {
  return {"is not a date" + std::string(kDateForm)};
}

/// A date off the front of a text.
std::variant<CivilDate, Unreadable> take_date(std::string_view& text) {
  if (text.size() < 5 || !std::all_of(text.begin(), text.begin() + 4, is_digit)) return no_date();
  CivilDate d{*take_whole(text, 4), 0, 0};
  const char separator = text.front();
  if (separator != '-' && separator != '/') return no_date();
  text.remove_prefix(1);
  const auto month = take_whole(text, 2);
  if (!month || !take(text, separator)) return no_date();
  const auto day = take_whole(text, 2);
  if (!day) return no_date();
  d.month = *month;
  d.day = *day;
  if (d.month < 1 || d.month > 12) return Unreadable{fmt::format("has no month {}{}", d.month, kDateForm)};
  if (d.day < 1 || d.day > days_in_month(d.year, d.month))
    return Unreadable{fmt::format("is no day: {} {} has {} days{}", kMonths[static_cast<std::size_t>(d.month - 1)],
                                  d.year, days_in_month(d.year, d.month), kDateForm)};
  return d;
}

/// ":30", ":30:15" or ":30:15.5" behind an hour; returns hours.
std::optional<double> take_minutes(std::string_view& text) {
  double minutes = 0.0, seconds = 0.0;
  if (!take(text, ':')) return std::nullopt;
  if (text.size() < 2 || !is_digit(text[1])) return std::nullopt;
  minutes = take_whole(text, 2).value_or(99);
  if (take(text, ':')) {
    seconds = take_whole(text, 2).value_or(99);
    double place = 0.1;
    if (take(text, '.'))
      for (; !text.empty() && is_digit(text.front()); text.remove_prefix(1), place *= 0.1)
        seconds += place * (text.front() - '0');
  }
  if (minutes >= 60.0 || seconds >= 60.0) return std::nullopt;
  return (minutes * 60.0 + seconds) / 3600.0;
}

/// "Z", "+01:00", "+0100", "+1", or nothing.
struct Offset {
  bool readable = true;
  std::optional<double> hours;
};
Offset read_offset(std::string_view text) {
  if (text.empty()) return {};
  if (text == "Z" || text == "z") return {true, 0.0};
  const double sign = text.front() == '-' ? -1.0 : 1.0;
  if (text.front() != '+' && text.front() != '-') return {false, {}};
  text.remove_prefix(1);
  const auto hours = take_whole(text, 2);
  if (!hours || *hours > 14) return {false, {}};
  double minutes = 0.0;
  if (!text.empty()) {
    take(text, ':');
    if (text.size() != 2) return {false, {}};
    minutes = take_whole(text, 2).value_or(99);
    if (minutes >= 60.0 || !text.empty()) return {false, {}};
  }
  return {true, sign * (*hours + minutes / 60.0)};
}

date::local_seconds local_floor(double seconds) {
  return date::local_seconds(std::chrono::seconds(static_cast<long long>(std::floor(seconds))));
}

date::sys_seconds sys_floor(Instant t) {
  return date::sys_seconds(std::chrono::seconds(static_cast<long long>(std::floor(t.seconds))));
}

const date::time_zone& zone_of(const void* zone) {
  return *static_cast<const date::time_zone*>(zone);
}

/// The zone that a wrong name may have meant: the same letters, the same town, or nearly the same spelling.
std::string zone_hint(std::string_view wrong) {
  std::string town = words::in_small_letters(trim(wrong));
  std::replace(town.begin(), town.end(), ' ', '_');
  std::vector<std::string_view> names;
  for (const date::time_zone& zone : date::get_tzdb().zones) names.push_back(zone.name());
  for (const std::string_view name : names) {
    const std::string low = words::in_small_letters(name);
    if (low == town || low.ends_with('/' + town)) return fmt::format(R"(; did you mean "{}"?)", name);
  }
  return did_you_mean(wrong, names);
}

Unreadable no_zone(std::string_view text) {
  std::string hint = zone_hint(text);
  if (hint.empty()) hint = R"(; write a name such as "Europe/London", or an offset such as "+01:00")";
  return {"is no time zone" + hint};
}

}  // namespace

CivilDate CivilDate::plus_days(int n) const {
  const date::year_month_day ymd{date::sys_days(date::days(serial() + n))};
  return {int(ymd.year()), static_cast<int>(unsigned(ymd.month())), static_cast<int>(unsigned(ymd.day()))};
}

int CivilDate::serial() const {
  const date::year_month_day ymd{date::year(year), date::month(unsigned(month)), date::day(unsigned(day))};
  return static_cast<int>(date::sys_days(ymd).time_since_epoch().count());
}

int CivilDate::day_of_year() const {
  return serial() - CivilDate{year, 1, 1}.serial() + 1;
}

int CivilDate::weekday() const {
  return static_cast<int>(date::weekday(date::sys_days(date::days(serial()))).iso_encoding());
}

std::string CivilDate::text() const {
  return fmt::format("{:04}-{:02}-{:02}", year, month, day);
}

std::variant<CivilDate, Unreadable> read_date(std::string_view text) {
  text = trim(text);
  if (text.empty()) return Unreadable{"is empty" + std::string(kDateForm)};
  auto date = take_date(text);
  if (std::holds_alternative<CivilDate>(date) && !text.empty()) return no_date();
  return date;
}

std::variant<ReadTime, Unreadable> read_time(std::string_view text) {
  text = trim(text);
  if (text.empty()) return Unreadable{"is empty" + std::string(kTimeForm)};
  auto date = take_date(text);
  if (auto* bad = std::get_if<Unreadable>(&date)) return *bad;
  ReadTime read{{std::get<CivilDate>(date), 0.0}, std::nullopt};
  if (text.empty()) return read;
  const Unreadable no_time{"has no time of day that can be read" + std::string(kTimeForm)};
  if (!take(text, 'T') && !take(text, ' ')) return no_time;
  const auto hour = take_whole(text, 2);
  if (!hour) return no_time;
  const auto minutes = take_minutes(text);
  if (!minutes) return no_time;
  read.local.hour = *hour + *minutes;
  if (read.local.hour > 24.0) return Unreadable{fmt::format("has no hour {}{}", *hour, kTimeForm)};
  const std::string suffix = words::in_small_letters(trim(text));
  if (suffix == "am" || suffix == "pm") return Unreadable{"has a clock of twelve hours" + std::string(kTimeForm)};
  const Offset offset = read_offset(trim(text));
  if (!offset.readable)
    return Unreadable{"has an offset that cannot be read" + std::string(R"(; write "Z" or "+01:00")")};
  read.utc_offset_hours = offset.hours;
  return read;
}

Clock Clock::fixed(double hours, std::string name) {
  Clock clock;
  clock.name_ = std::move(name);
  clock.fixed_hours_ = hours;
  return clock;
}

std::variant<Clock, Unreadable> Clock::named(std::string_view zone) {
  zone = trim(zone);
  std::string_view offset_text = zone;
  if (offset_text.starts_with("UTC") || offset_text.starts_with("GMT")) offset_text.remove_prefix(3);
  if (const Offset offset = read_offset(offset_text); offset.readable && (offset.hours || !zone.empty()))
    return fixed(offset.hours.value_or(0.0), std::string(zone));
  try {
    const auto& zones = date::get_tzdb().zones;
    const auto found = std::find_if(zones.begin(), zones.end(), [&](const auto& z) { return z.name() == zone; });
    if (found == zones.end()) return no_zone(zone);
    Clock clock;
    clock.name_ = std::string(zone);
    clock.zone_ = &*found;
    (void)clock.utc_offset_hours({0.0});  // reads the zone's file now, so that nothing can fail later
    return clock;
  } catch (const std::exception&) {
    return Unreadable{
        R"(cannot be looked up: this computer has no time zone database; write an offset such as "+01:00")"};
  }
}

Instant Clock::instant(const CivilTime& local) const {
  const double seconds = 86400.0 * local.date.serial() + 3600.0 * local.hour;
  if (!zone_) return {seconds - 3600.0 * fixed_hours_};
  const date::local_info info = zone_of(zone_).get_info(local_floor(seconds));
  if (info.result == date::local_info::nonexistent)
    return {static_cast<double>(info.first.end.time_since_epoch().count())};
  return {seconds - static_cast<double>(info.first.offset.count())};
}

bool Clock::skips(const CivilTime& local) const {
  if (!zone_) return false;
  const double seconds = 86400.0 * local.date.serial() + 3600.0 * local.hour;
  return zone_of(zone_).get_info(local_floor(seconds)).result == date::local_info::nonexistent;
}

CivilTime Clock::local(Instant t) const {
  const double seconds = t.seconds + 3600.0 * utc_offset_hours(t);
  const double day = std::floor(seconds / 86400.0);
  return {CivilDate{}.plus_days(static_cast<int>(day)), (seconds - 86400.0 * day) / 3600.0};
}

double Clock::utc_offset_hours(Instant t) const {
  if (!zone_) return fixed_hours_;
  return static_cast<double>(zone_of(zone_).get_info(sys_floor(t)).offset.count()) / 3600.0;
}

double Clock::standard_offset_hours(int year) const {
  const auto on_first_of = [&](int month) { return utc_offset_hours({86400.0 * CivilDate{year, month, 1}.serial()}); };
  return std::min(on_first_of(1), on_first_of(7));
}

}  // namespace leat
