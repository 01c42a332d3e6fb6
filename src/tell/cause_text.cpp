#include "tell/cause_text.h"

#include <fmt/core.h>

#include "record/when.h"
#include "tell/json_writer.h"
#include "tell/odd_text.h"
#include "tell/table.h"

namespace leat::tell {
namespace {

using answers::Standing;

std::string_view standing_word(Standing s) {
  switch (s) {
    case Standing::fits:
      return "fits";
    case Standing::part:
      return "may have had a part";
    case Standing::open:
      return "not excluded";
    case Standing::unlikely:
      return "not likely";
  }
  return "";
}

std::string_view strength(int weight) {
  const int w = std::abs(weight);
  return w >= 3 ? "strongly" : w == 2 ? "fairly" : "weakly";
}

std::string toll_text(const answers::Toll& t) {
  std::string out;
  if (t.before >= t.dead && t.before > 0.0)
    out +=
        wrapped(fmt::format("{:.0f} of {:.0f} live: {:.0f} % (95 %: {:.0f} to {:.0f} %).", t.before - t.dead, t.before,
                            100.0 * (t.before - t.dead) / t.before, 100.0 * t.survival.low, 100.0 * t.survival.high),
                100, "  ");
  if (t.t)
    out +=
        wrapped(fmt::format("The dead weighed {:.0f} g, those alive {:.0f} g: {:.0f} g {} (Welch t = {:.1f}), so {}.",
                            t.dead_mass->mean, t.alive_mass->mean, std::abs(*t.difference),
                            *t.difference >= 0.0 ? "more" : "less", *t.t,
                            *t.t > 2.0    ? "the large died first"
                            : *t.t < -2.0 ? "the small died first"
                                          : "size tells nothing"),
                100, "  ");
  return out;
}

std::string cause_lines(const answers::Cause& c, int number) {
  std::string out = wrapped(fmt::format("{}. {}: {}", number, c.name, standing_word(c.standing)), 100, "   ");
  for (const answers::Evidence& e : c.evidence) {
    const std::string entries = e.rests_on.empty() ? "" : fmt::format(" ({})", entries_named(e.rests_on));
    out +=
        wrapped(fmt::format("   {}, {}: {}{}", e.weight > 0 ? "for" : "against", strength(e.weight), e.words, entries),
                100, "     ");
  }
  if (c.evidence.empty()) out += "   nothing in the record for it or against it\n";
  if (c.standing != Standing::unlikely) out += wrapped("   would settle it: " + c.settles, 100, "     ");
  return out;
}

}  // namespace

std::string cause_text(const answers::CauseAnswer& a, const Clock& clock) {
  if (!a.said.empty()) return wrapped(fmt::format("{}: {}.", a.loop_name, a.said), 100, "  ");
  std::string out = wrapped(fmt::format("{}: {:.0f} dead, found {}. What speaks for what, no verdict.", a.loop_name,
                                        a.toll.dead, record::span_text(clock, {a.found, a.found_to})),
                            100, "  ");
  out += toll_text(a.toll);
  int number = 0;
  for (const answers::Cause& c : a.causes) out += "\n" + cause_lines(c, ++number);
  std::string open;
  for (const std::string& name : a.excluded_not) open += (open.empty() ? "" : "; ") + name;
  out += "\n" +
         wrapped("This record cannot exclude: " + (open.empty() ? "what it never looked at" : open) + ".", 100, "  ");
  out += "\nNow\n";
  int n = 0;
  for (const std::string& now : a.do_now) out += wrapped(fmt::format("  {}. {}.", ++n, now), 100, "     ");
  if (!a.assumed.empty()) out += "\n";
  for (const std::string& assumed : a.assumed) out += wrapped("Taken: " + assumed + ".", 100, "  ");
  return out + "Illness is for a vet; no medicine without one.\n";
}

std::string cause_json(const answers::CauseAnswer& a) {
  Writer w;
  ordered_json j{{"verb", "cause"}, {"loop", a.loop_name}};
  if (!a.said.empty()) {
    j["said"] = a.said;
    return written(j);
  }
  j["found"] = record::utc_text(a.found);
  j["entries"] = a.deaths;
  j["count"] = a.toll.dead;
  w.put(j, "survival_low", "share", a.toll.survival.low);
  w.put(j, "survival_high", "share", a.toll.survival.high);
  for (const answers::Cause& c : a.causes) {
    ordered_json item{{"kind", c.key}, {"name", c.name}, {"standing", standing_word(c.standing)}};
    item["for"] = ordered_json::array();
    item["against"] = ordered_json::array();
    for (const answers::Evidence& e : c.evidence)
      item[e.weight > 0 ? "for" : "against"].push_back(
          {{"strength", strength(e.weight)}, {"what", e.words}, {"entries", e.rests_on}});
    item["would_settle_it"] = c.settles;
    j["causes"].push_back(std::move(item));
  }
  j["not_excluded"] = a.excluded_not;
  j["now"] = a.do_now;
  j["assumed"] = a.assumed;
  j["units"] = w.units();
  return written(j);
}

}  // namespace leat::tell
