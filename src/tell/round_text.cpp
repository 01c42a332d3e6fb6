#include "tell/round_text.h"

#include <fmt/core.h>

#include "learn/present.h"
#include "record/when.h"
#include "tell/odd_text.h"
#include "tell/table.h"

namespace leat::tell {
namespace {

std::string when_words(record::Moment at, const Clock& clock) {
  return record::span_text(clock, {at, at});
}

std::string late_words(const answers::Task& t, record::Moment now) {
  const double days = static_cast<double>(now - t.due) / static_cast<double>(learn::kDay);
  if (t.last && t.every >= 7) return fmt::format("; last {}", learn::age_words(now - *t.last));
  if (!t.last && t.every >= 7) return "; not in the record yet";
  return days >= 1.0 ? fmt::format("; {:.0f} days late", days) : "";
}

std::string task_text(const answers::Task& t, record::Moment now, const Clock& clock) {
  return wrapped(fmt::format("  [ ] {}  {}", when_words(t.due, clock).substr(11), t.what), 100, "             ") +
         wrapped(fmt::format("             {}{}.", t.why, late_words(t, now)), 100, "             ");
}

}  // namespace

std::string urgent_text(const answers::RoundAnswer& a, const Clock& clock) {
  std::string out;
  for (const answers::Urgent& u : a.urgent) {
    const std::string at = u.at ? fmt::format(" (about {})", when_words(*u.at, clock)) : "";
    out += wrapped(fmt::format("URGENT: {}{}", u.what, at), 100, "  ");
    out += wrapped("  because " + u.reason + ".", 100, "  ");
    out += wrapped("  To do: " + u.action + ".", 100, "  ");
    if (!u.rests_on.empty()) out += "  " + entries_named(u.rests_on) + ".\n";
  }
  return out;
}

std::string taken_text(const std::vector<learn::Taken>& taken) {
  std::string out = taken.empty() ? "" : "From the record\n";
  for (const learn::Taken& t : taken)
    out +=
        wrapped(fmt::format("  {}{}{}: {}", t.used ? "" : "not taken: ", t.path, t.used ? " " + t.value : "", t.reason),
                100, "    ");
  return out;
}

std::string round_text(const answers::RoundAnswer& a, const Clock& clock) {
  std::string out = fmt::format("{}, {}\n", a.loop_name, when_words(a.now, clock));
  out += a.urgent.empty() ? "Nothing urgent.\n" : "\n" + urgent_text(a, clock);
  out += a.due.empty() ? "\nNothing more is due today.\n" : "\nDue today\n";
  for (const answers::Task& t : a.due) out += task_text(t, a.now, clock);
  if (!a.odd.empty()) out += "\nDoes not fit\n";
  int number = 0;
  for (const learn::Oddity& o : a.odd) out += oddity_text(o, clock, ++number);
  if (!a.coming.empty()) out += "\nToday from midnight and the two days after, by the model\n";
  for (const std::string& c : a.coming) out += wrapped("  " + c, 100, "    ");
  if (!a.taken.empty()) out += "\n" + taken_text(a.taken);
  out += "\n";
  for (const std::string& assumed : a.assumed) out += wrapped("Taken: " + assumed + ".", 100, "  ");
  return out + "Gasping fish come first: air, then questions.\n";
}

}  // namespace leat::tell
