#include "record/when.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace leat::record {
namespace {

struct Part {
  std::string_view name;
  double from, to;  ///< hours of a day; past 24 the day after
};
// Common practice: what these words mean to most people; wide on purpose.
constexpr std::array kParts = {Part{"morning", 5, 12}, Part{"afternoon", 12, 18}, Part{"evening", 18, 23},
                               Part{"night", 18, 30},  Part{"dawn", 4, 9},        Part{"dusk", 15.5, 22},
                               Part{"noon", 12, 12},   Part{"midday", 11, 14},    Part{"lunchtime", 11, 14}};
constexpr std::array<std::string_view, 7> kWeekdays = {"monday", "tuesday",  "wednesday", "thursday",
                                                       "friday", "saturday", "sunday"};

struct Taker {
  const Tokens& tokens;
  std::size_t at, end;
  const Clock& clock;
  Moment now;

  std::string_view plain(std::size_t ahead = 0) const {
    return at + ahead < end ? std::string_view(tokens[at + ahead].plain) : std::string_view();
  }
  bool take(std::string_view word) {
    if (plain() != word) return false;
    ++at;
    return true;
  }
  CivilDate today() const { return clock.local({static_cast<double>(now) / 1000.0}).date; }
  Moment on(const CivilDate& day, double hour) const { return moment_of(clock, day, hour); }

  std::optional<Span> ago() {
    std::size_t back = at;
    double n = 0.0;
    if (take("half")) {
      n = 0.5;
      take("an");
    } else if (at < end && tokens[at].number) {
      n = *tokens[at++].number;
    } else if (const auto word = number_word(plain()); word && at < end) {
      n = *word;
      ++at;
    }
    const std::string_view unit = plain();
    double ms = 0.0;
    if (unit == "min" || unit == "mins" || unit == "minutes" || unit == "minute") ms = 60e3;
    if (unit == "h" || unit == "hour" || unit == "hours" || unit == "hrs") ms = 3600e3;
    if (unit == "d" || unit == "day" || unit == "days") ms = 86400e3;
    if (unit == "week" || unit == "weeks") ms = 7 * 86400e3;
    if (ms > 0.0 && n > 0.0 && n * ms < 4e12 && plain(1) == "ago") {
      at += 2;
      const Moment then = now - std::llround(n * ms);
      if (ms < 86400e3) return Span{then, then};
      const CivilDate day = clock.local({static_cast<double>(then) / 1000.0}).date;
      return Span{on(day, 0.0), on(day.plus_days(1), 0.0)};
    }
    at = back;
    return std::nullopt;
  }

  std::optional<CivilDate> day() {
    const std::size_t back = at;
    take("on");
    take("last");
    const std::string_view word = plain();
    if (word == "today" || word == "yesterday") {
      ++at;
      return today().plus_days(word == "today" ? 0 : -1);
    }
    for (int i = 0; i < 7; ++i)
      if (const auto name = kWeekdays[static_cast<std::size_t>(i)];
          word == name || (word.size() == 3 && word == name.substr(0, 3) && word != "sun")) {
        ++at;
        const int behind = (today().weekday() - (i + 1) + 7) % 7;
        return today().plus_days(-(behind == 0 ? 7 : behind));
      }
    if (const auto date = read_date(word); std::holds_alternative<CivilDate>(date)) {
      ++at;
      return std::get<CivilDate>(date);
    }
    at = back;
    return std::nullopt;
  }

  std::optional<double> hour() {
    const std::size_t back = at;
    take("at");
    const std::string_view word = plain();
    std::optional<double> h;
    if (word.find(':') != std::string_view::npos && word.size() >= 4) {
      const auto read = read_time("2000-01-01 " + std::string(word));
      if (const auto* time = std::get_if<ReadTime>(&read)) h = time->local.hour;
      if (h) ++at;
    } else if (at < end && tokens[at].number && (plain(1) == "am" || plain(1) == "pm")) {
      const double n = *tokens[at].number;
      if (n >= 1.0 && n < 13.0 && n == std::floor(n)) h = n;
      if (h) ++at;
    } else if (word == "midnight") {
      ++at;
      return 0.0;
    }
    if (h && (plain() == "am" || plain() == "pm")) {
      if (*h >= 13.0)
        h.reset();
      else
        *h = std::fmod(*h, 12.0) + (plain() == "pm" ? 12.0 : 0.0);
      ++at;
    }
    if (!h) at = back;
    return h;
  }

  const Part* part() {
    for (const Part& p : kParts)
      if (plain() == p.name) {
        ++at;
        return &p;
      }
    return nullptr;
  }

  Span part_of(const CivilDate& date, const Part& p) const {
    Span span{on(date, p.from), on(date, p.to)};
    if (span.from < now) span.to = std::min(span.to, now);
    return span;
  }

  std::optional<Span> named_part() {
    const std::size_t back = at;
    if (take("last") && take("night")) return part_of(today().plus_days(-1), kParts[3]);
    at = back;
    const bool said = take("this") || take("at");
    const Part* p = part();
    if (p && (said || p->name == "dawn" || p->name == "dusk" || p->name == "noon" || p->name == "midday")) {
      const CivilDate date = today().plus_days(!said && on(today(), p->from) > now ? -1 : 0);
      return part_of(date, *p);
    }
    at = back;
    return std::nullopt;
  }

  std::optional<Span> all() {
    if (take("now")) return Span{now, now};
    if (plain() == "just" && plain(1) == "now") return at += 2, Span{now, now};
    if (const auto span = ago()) return span;
    if (const auto span = named_part()) return span;
    if (at < end) {
      // A date and a time in one word.
      const auto read = read_time(tokens[at].text);
      if (const auto* t = std::get_if<ReadTime>(&read); t && tokens[at].plain.find('t') != std::string::npos) {
        ++at;
        const Moment m = on(t->local.date, t->local.hour);
        return Span{m, m};
      }
    }
    const auto early = hour();
    const auto date = day();
    take(",");
    if (!date && !early) return std::nullopt;
    const auto h = early ? early : hour();
    if (date && !h)
      if (const Part* p = part()) return part_of(*date, *p);
    if (!h) {
      Span span{on(*date, 0.0), on(date->plus_days(1), 0.0)};
      if (*date == today()) span.to = now;
      return span;
    }
    CivilDate when = date.value_or(today());
    if (!date && on(when, *h) > now) when = when.plus_days(-1);
    return Span{on(when, *h), on(when, *h)};
  }
};

}  // namespace

Moment moment_of(const Clock& clock, const CivilDate& date, double hour) {
  return std::llround(clock.instant({date, hour}).seconds * 1000.0);
}

std::string span_text(const Clock& clock, Span span) {
  const auto minutes = [&](Moment m) {
    const CivilTime t = clock.local({std::floor(static_cast<double>(m) / 60'000.0) * 60.0});
    const int whole = static_cast<int>(std::floor(t.hour * 60.0 + 0.5));
    return std::pair(t.date, fmt::format("{:02}:{:02}", whole / 60, whole % 60));
  };
  const auto [day, hour] = minutes(span.from);
  if (span.to == span.from) return day.text() + " " + hour;
  const auto [last, until] = minutes(span.to);
  if (hour == "00:00" && until == "00:00" && last == day.plus_days(1)) return day.text();
  return fmt::format("{} {} to {}{}", day.text(), hour, last == day ? "" : last.text() + " ", until);
}

std::optional<Span> take_when(const Tokens& tokens, std::size_t& at, std::size_t end, const Clock& clock, Moment now) {
  Taker taker{tokens, at, end, clock, now};
  const auto span = taker.all();
  if (!span) return std::nullopt;
  // The comma after a time may belong to the next clause.
  at = taker.at > at && tokens[taker.at - 1].plain == "," ? taker.at - 1 : taker.at;
  return span;
}

std::variant<Span, Trouble> read_when(std::string_view text, const Clock& clock, Moment now) {
  const Tokens tokens = tokens_of(text);
  std::size_t at = 0;
  const auto span = take_when(tokens, at, tokens.size(), clock, now);
  if (span && at == tokens.size()) return *span;
  return Trouble{
      fmt::format("\"{}\" is no time that can be read; write such as \"2026-11-25 07:30\", \"yesterday\", "
                  "\"this morning\" or \"20 min ago\"",
                  text)};
}

}  // namespace leat::record
