#include <fmt/core.h>

#include "tell/round_text.h"

namespace leat::tell {
namespace {

/// Commas, semicolons, backslashes and line ends as RFC 5545 section 3.3.11 wants them.
std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (c == ',' || c == ';' || c == '\\') out += '\\';
    if (c == '\n')
      out += "\\n";
    else if (c != '\r')
      out += c;
  }
  return out;
}

/// At most 75 bytes a line, never within a character (section 3.1).
std::string folded(std::string_view line) {
  std::string out;
  std::size_t room = 75;
  while (line.size() > room) {
    std::size_t cut = room;
    while (cut > 0 && (static_cast<unsigned char>(line[cut]) & 0xC0) == 0x80) --cut;
    out += std::string(line.substr(0, cut)) + "\r\n ";
    line.remove_prefix(cut);
    room = 74;
  }
  return out + std::string(line) + "\r\n";
}

/// The time on the wall, without a zone.
std::string floating(record::Moment at, const Clock& clock) {
  const CivilTime t = clock.local(Instant{1e-3 * static_cast<double>(at)});
  const int minutes = std::min(1439, static_cast<int>(60.0 * t.hour + 0.5));
  return fmt::format("{:04}{:02}{:02}T{:02}{:02}00", t.date.year, t.date.month, t.date.day, minutes / 60, minutes % 60);
}

std::string stamp(record::Moment at) {
  std::string text = record::utc_text(at).substr(0, 19);
  std::erase_if(text, [](char c) { return c == '-' || c == ':'; });
  return text + "Z";
}

/// What repeats must not name today's grams.
std::string summary_of(const answers::Task& t) {
  if (t.cadence != answers::Cadence::meal || !t.id.starts_with("meal-")) return t.what;
  return "feed " + t.id.substr(5, t.id.rfind('-') - 5) + " (leat feed tells how much)";
}

/// Letters and digits of a name, for identities that stay the same.
std::string slug(std::string_view name) {
  std::string out;
  for (const char c : name)
    out += std::isalnum(static_cast<unsigned char>(c)) ? static_cast<char>(std::tolower(static_cast<unsigned char>(c)))
                                                       : '-';
  return out;
}

struct Item {
  std::string uid, summary, description;
  record::Moment at;
  int every = 0;
  bool urgent = false;
};

std::string component(const Item& item, record::Moment now, const Clock& clock, bool as_event) {
  const char* kind = as_event ? "VEVENT" : "VTODO";
  std::string out = folded(fmt::format("BEGIN:{}", kind));
  out += folded("UID:" + item.uid);
  out += folded("DTSTAMP:" + stamp(now));
  out += folded("DTSTART:" + floating(item.at, clock));
  out += folded("DURATION:PT15M");
  out += folded("SUMMARY:" + escaped(item.summary));
  out += folded("DESCRIPTION:" + escaped(item.description));
  if (item.every > 0) out += folded(fmt::format("RRULE:FREQ=DAILY;INTERVAL={}", item.every));
  if (item.urgent) {
    out += folded("PRIORITY:1");
    out += "BEGIN:VALARM\r\nACTION:DISPLAY\r\nTRIGGER:-PT30M\r\n" + folded("DESCRIPTION:" + escaped(item.summary)) +
           "END:VALARM\r\n";
  }
  if (as_event) out += folded("TRANSP:TRANSPARENT");
  return out + folded(fmt::format("END:{}", kind));
}

}  // namespace

std::string round_ical(const answers::RoundAnswer& a, const Clock& clock, bool as_events) {
  std::string out = "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//leat//round//EN\r\nCALSCALE:GREGORIAN\r\n";
  const std::string loop = slug(a.loop_name);
  for (const answers::Urgent& u : a.urgent)
    out += component({fmt::format("{}-{}@{}", u.key, floating(u.at.value_or(a.now), clock), loop), u.what,
                      u.reason + ". To do: " + u.action, u.at.value_or(a.now), 0, true},
                     a.now, clock, as_events);
  for (const auto* tasks : {&a.due, &a.later})
    for (const answers::Task& t : *tasks)
      out += component({fmt::format("{}@{}", slug(t.id), loop), summary_of(t), t.why, t.due, t.every, false}, a.now,
                       clock, as_events);
  return out + "END:VCALENDAR\r\n";
}

}  // namespace leat::tell
