#include <fmt/core.h>

#include "record/when.h"
#include "tell/odd_text.h"
#include "tell/table.h"

namespace leat::tell {
namespace {

std::string plural(std::size_t n, const char* one, const char* many) {
  return fmt::format("{} {}", n, n == 1 ? one : many);
}

}  // namespace

std::string entries_named(const std::vector<std::int64_t>& entries) {
  if (entries.empty()) return "";
  std::string list;
  const std::size_t shown = entries.size() > 6 ? 5 : entries.size();
  for (std::size_t i = 0; i < shown; ++i) list += fmt::format("{}{}", i == 0 ? "" : ", ", entries[i]);
  if (shown < entries.size()) list += fmt::format(" and {} more", entries.size() - shown);
  return fmt::format("{} {}", entries.size() == 1 ? "Entry" : "Entries", list);
}

std::string oddity_text(const learn::Oddity& o, const Clock& clock, int number) {
  const std::string place = o.where.empty() ? "" : o.where + ": ";
  std::string out = wrapped(fmt::format("{}. {}{}", number, place, o.what), 100, "   ");
  out += wrapped(fmt::format("   since {}, because {}{}", record::span_text(clock, {o.since, o.since}), o.reason,
                             o.reason.ends_with('?') ? "" : "."),
                 100, "   ");
  out += wrapped("   To do: " + o.action + ".", 100, "   ");
  if (!o.rests_on.empty()) out += "   " + entries_named(o.rests_on) + ".\n";
  return out;
}

std::string odd_text(const answers::OddAnswer& a, const Clock& clock, bool all) {
  if (a.entries == 0) return fmt::format("{}: the record is empty, so nothing can be odd yet.\n", a.loop_name);
  const auto& shown = all ? a.all : a.told;
  std::string out =
      fmt::format("{}: {} in {} from {} on", a.loop_name,
                  shown.empty() ? "nothing odd" : plural(shown.size(), "thing odd", "things odd"),
                  plural(a.entries, "entry", "entries"), record::span_text(clock, {a.from, a.from}).substr(0, 10));
  out += all ? ", all ever seen.\n"
             : fmt::format(", seen in the last {}.\n", plural(static_cast<std::size_t>(a.days), "day", "days"));
  int number = 0;
  for (const learn::Oddity& o : shown) out += "\n" + oddity_text(o, clock, ++number);
  if (!all && a.more > 0) out += fmt::format("\n{} more: --most {}.\n", a.more, a.told.size() + a.more);
  if (!all && a.told.empty() && !a.all.empty())
    out += fmt::format("{} longer ago: --all.\n", plural(a.all.size(), "thing was odd", "things were odd"));
  if (!a.no_warmth.empty()) out += "\n" + wrapped("Not looked at: " + a.no_warmth + ".", 100, "  ");
  for (const std::string& assumed : a.assumed) out += "\n" + wrapped("Taken: " + assumed + ".", 100, "  ");
  return out;
}

}  // namespace leat::tell
