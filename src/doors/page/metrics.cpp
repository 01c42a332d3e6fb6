#include "doors/page/metrics.h"

#include <fmt/core.h>

namespace leat::doors {
namespace {

std::string head(std::string_view name, std::string_view type, std::string_view help) {
  return fmt::format("# TYPE {} {}\n# HELP {} {}\n", name, type, name, help);
}

/// A label's value: backslash, quote and line end are escaped, as the format asks.
std::string label(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (c == '\\' || c == '"') out += '\\';
    out += c == '\n' ? std::string("\\n") : std::string(1, c);
  }
  return out;
}

std::string answered(const WorkCounts& work) {
  std::string out = head("leat_answers", "counter", "Answers worked out, by question.");
  for (const auto& [name, n] : work.answered)
    out += fmt::format("leat_answers_total{{question=\"{}\"}} {}\n", label(name), n.first);
  out += head("leat_answer_seconds", "counter", "Time spent on answers, by question.");
  for (const auto& [name, n] : work.answered)
    out += fmt::format("leat_answer_seconds_total{{question=\"{}\"}} {:.6f}\n", label(name), n.second);
  return out;
}

std::string readings(const Served& served) {
  if (served.readings.empty()) return "";
  const auto labels = [](const LastReading& r) {
    return fmt::format("what=\"{}\",where=\"{}\",unit=\"{}\"", label(r.what), label(r.where), label(r.unit));
  };
  std::string out = head("leat_reading", "gauge", "The last reading noted, in the unit it was written in.");
  for (const LastReading& r : served.readings) out += fmt::format("leat_reading{{{}}} {}\n", labels(r), r.value);
  out += head("leat_reading_time_seconds", "gauge", "When it was so, in seconds since 1970 UTC.");
  for (const LastReading& r : served.readings)
    out += fmt::format("leat_reading_time_seconds{{{}}} {:.3f}\n", labels(r), r.at_s);
  return out;
}

}  // namespace

std::string metrics_text(const Served& served, const WorkCounts& work, std::size_t waiting) {
  std::string out;
  const auto one = [&](std::string_view name, std::string_view type, std::string_view help, double value) {
    out += head(name, type, help) + fmt::format("{}{} {}\n", name, type == "counter" ? "_total" : "", value);
  };
  one("leat_requests", "counter", "Requests that came in.", static_cast<double>(served.requests));
  one("leat_requests_refused", "counter", "Requests that were not from the page.", static_cast<double>(served.refused));
  one("leat_requests_too_large", "counter", "Requests with too large a body.", static_cast<double>(served.too_large));
  one("leat_connections", "gauge", "Connections that are open.", static_cast<double>(served.connections));
  one("leat_listeners", "gauge", "Pages that listen for what is new.", static_cast<double>(served.listeners));
  one("leat_questions_waiting", "gauge", "Questions that wait or are worked on.", static_cast<double>(waiting));
  one("leat_questions_refused", "counter", "Questions refused because too many waited.",
      static_cast<double>(work.refused));
  one("leat_questions_stopped", "counter", "Questions that were stopped.", static_cast<double>(work.stopped));
  one("leat_answers_remembered", "counter", "Answers given from memory.", static_cast<double>(work.from_memory));
  one("leat_answers_shared", "counter", "Answers given to several who asked the same at the same time.",
      static_cast<double>(work.shared));
  out += answered(work);
  if (served.entries >= 0)
    one("leat_record_entries", "gauge", "Entries in the record.", static_cast<double>(served.entries));
  out += readings(served);
  one("leat_start_time_seconds", "gauge", "When this server began, in seconds since 1970 UTC.", served.since_s);
  return out + "# EOF\n";
}

}  // namespace leat::doors
