#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "base/words/quantities.h"
#include "tell/bands.h"
#include "tell/common.h"
#include "tell/table.h"
#include "tell/tell.h"

namespace leat::tell {
namespace {

using answers::CompareAnswer;
using answers::PartChange;
using answers::Verdict;
using words::shown_number;
using words::shown_text;

std::string headline(const CompareAnswer& a) {
  const std::string verdict(a.verdict == Verdict::tight ? "yes, if you accept this" : plan_word(a.verdict));
  const bool fails_anew = std::any_of(a.checks.begin(), a.checks.end(), [](const answers::CheckChange& c) {
    return c.plan && c.plan->verdict == Verdict::bad;
  });
  std::string out = fmt::format("{}: {}{}.\n", a.plan_name.empty() ? "The plan" : a.plan_name, verdict,
                                a.verdict == Verdict::bad && !fails_anew ? ", but nothing fails that holds today" : "");
  constexpr std::size_t kMost = 8;
  for (std::size_t i = 0; i < std::min(kMost, a.reasons.size()); ++i)
    out += wrapped("  " + a.reasons[i] + ".", 100, "    ");
  if (a.reasons.size() > kMost) out += fmt::format("  and {} more; --json tells each.\n", a.reasons.size() - kMost);
  return out;
}

std::string shown_difference(std::string_view word, double difference) {
  const std::string text = shown_text(word_of_difference(word), difference);
  return difference > 0.0 && text.find_first_of("123456789") != std::string::npos ? "+" + text : text;
}

/// One row: now, plan, and how much more the plan has.
void add_sides(Table& t, const std::string& part, const std::string& what, std::string_view word,
               std::optional<double> now, std::optional<double> plan) {
  const auto cell = [&](std::optional<double> value) { return value ? shown_text(word, *value) : "-"; };
  t.add({part, what, cell(now), cell(plan), now && plan ? shown_difference(word, *plan - *now) : ""});
}

void add_tank(Table& t, const answers::TankSides& tank) {
  using One = answers::TankSides::One;
  std::string name = tank.path;
  const auto row = [&](const char* what, std::string_view word, auto value, bool of_days) {
    const auto side = [&](const One& o) -> std::optional<double> {
      return o.there && (o.ran || !of_days) ? std::optional<double>(value(o)) : std::nullopt;
    };
    add_sides(t, name, what, word, side(tank.now), side(tank.plan));
    name.clear();
  };
  row(
      "flow", "flow", [](const One& o) { return o.flow.si(); }, false);
  row(
      "turnover", "turnover", [](const One& o) { return o.turnover.si(); }, false);
  row(
      "warmest", "temperature", [](const One& o) { return o.warmest; }, true);
  row(
      "coldest", "temperature", [](const One& o) { return o.coldest; }, true);
  row(
      "most swing", "swing", [](const One& o) { return o.swing; }, true);
  row(
      "least oxygen", "dissolved_oxygen", [](const One& o) { return o.oxygen_low; }, true);
  const auto time = [](const One& o) { return o.to_danger ? answers::time_words(*o.to_danger) : "-"; };
  t.add({"", "power off, fed", time(tank.now), time(tank.plan), ""});
}

std::string tanks(const CompareAnswer& a) {
  if (a.tanks.empty()) return "";
  Table t({"tank", "", "now", "plan", "difference"});
  for (const auto& tank : a.tanks) add_tank(t, tank);
  return fmt::format("\nTanks, over {} days of the same weather; last, how long fed fish have with the power off\n",
                     a.plan_ahead.dates.size()) +
         t.text();
}

std::string sure(const CompareAnswer& a) {
  if (!a.sure) return "";
  const answers::SureHowFar& s = *a.sure;
  std::string out = how_drawn_text(s.how, "runs of either side,") +
                    "Each pair with the same draws. Of twenty, one lies below the range told, one above.\n";
  Table t({"tank", "", "now", "plan", "difference", "plan better in"});
  std::string last;
  for (const answers::SureSides& side : s.tanks) {
    const auto delta = [&](double d) { return shown_difference(side.quantity, d); };
    t.add({side.path == last ? "" : side.path, side.what, spread_text(side.quantity, side.now),
           spread_text(side.quantity, side.plan),
           fmt::format("{} ({} to {})", delta(side.difference.middle), delta(side.difference.low),
                       delta(side.difference.high)),
           fmt::format("{} of {}", side.better, side.pairs)});
    last = side.path;
  }
  out += t.text();
  const auto runs = [](std::optional<int> some, int all) {
    return some ? fmt::format("in {} of {} runs", *some, all) : std::string("it is not there");
  };
  for (const answers::CrossedSides& c : s.crossed)
    out += fmt::format("  {}: {} goes {} {}: now {}, in the plan {}.\n", c.path, words::quantity_row(c.quantity).label,
                       c.wants_above ? "below" : "above", shown_text(c.quantity, c.limit), runs(c.now, s.now_runs),
                       runs(c.plan, s.plan_runs));
  if (s.crossed.empty()) out += "  No limit of a fish tank is crossed in any run of either.\n";
  std::vector<answers::OwedMost> differences;
  for (const answers::SureSides& side : s.tanks)
    differences.push_back({side.path + ", " + side.what, side.quantity, side.difference, side.owed});
  return out + owed_text(differences, s.how.by_chance(), true);
}

std::string parts_that_differ(const CompareAnswer& a) {
  if (a.differences.empty()) return "";
  Table t({"part", "", "now", "plan", "difference"});
  std::string last;
  for (const answers::Difference& d : a.differences) {
    add_sides(t, d.path == last ? "" : d.path, d.what, d.quantity, d.now, d.plan);
    last = d.path;
  }
  return "\nVessels, pumps and pipes that run otherwise by more than 1 %\n" + t.text();
}

std::string totals(const CompareAnswer& a) {
  Table t({"", "now", "plan", "difference"});
  const auto row = [&](const char* name, const char* word, double now, double plan) {
    t.add({name, shown_text(word, now), shown_text(word, plan), shown_difference(word, plan - now)});
  };
  row("water in the loop", "water", a.water_now.si(), a.water_plan.si());
  row("electric power", "power", a.now.power.si(), a.plan.power.si());
  row("energy a year", "energy", a.now.yearly.si(), a.plan.yearly.si());
  row("back after a power cut", "water", a.now.drain_back.si(), a.plan.drain_back.si());
  if (a.now.mobile && a.plan.mobile) {
    row("held up at most", "water", a.now.mobile->hold_up.si(), a.plan.mobile->hold_up.si());
    row("safe fill window", "water", a.now.mobile->window().si(), a.plan.mobile->window().si());
  }
  row("lost in a power cut", "water", a.now_outage.lost.si(), a.plan_outage.lost.si());
  std::string out = "\nIn all\n" + t.text();
  const double more = (a.water_plan - a.water_now).in(units::litre);
  if (more > 1.0)
    out +=
        wrapped(fmt::format("  {:.0f} L are to be filled in: take chlorine or chloramine out of tap water first, and "
                            "fill little by little.",
                            more),
                100, "  ");
  return out;
}

/// How far from its limit; nothing for a check that has no number.
std::string margin_text(const std::optional<answers::Finding>& f) {
  if (!f || (f->value == 0.0 && f->limit == 0.0)) return "";
  return shown_text(word_of_difference(f->quantity), f->margin());
}

std::string checks(const CompareAnswer& a) {
  using What = answers::CheckChange::What;
  Table t({"", "check", "part", "now", "plan", "margin now", "margin plan"});
  std::size_t new_and_well = 0, gone = 0;
  for (const auto& c : a.checks) {
    const bool well = c.what == What::added && c.plan->verdict == Verdict::good;
    new_and_well += well;
    gone += c.what == What::gone;
    if (well || (c.what == What::gone && c.now->verdict == Verdict::good)) continue;
    t.add({std::string(change_word(c.what)), in_words(c.statement), c.path,
           std::string(c.now ? verdict_word(c.now->verdict) : "-"),
           std::string(c.plan ? verdict_word(c.plan->verdict) : "-"), margin_text(c.now), margin_text(c.plan)});
  }
  std::string out = t.empty() ? "\nNo check changes its verdict.\n" : "\nChecks that change\n" + t.text();
  if (new_and_well + gone > 0)
    out += fmt::format("  {} new checks hold with margin; {} are not asked any more.\n", new_and_well, gone);
  return out;
}

std::string amount_text(const answers::BillItem& item, double amount) {
  return item.unit.empty() ? fmt::format("{:.0f} x {}", amount, item.what)
                           : fmt::format("{:.2f} {} of {}", amount, item.unit, item.what);
}

std::string counted(const CompareAnswer& a) {
  std::string get, free;
  for (const answers::BillItem& item : a.bill.items)
    (item.to_get() > 0.0 ? get : free) += fmt::format("  {}\n", amount_text(item, std::abs(item.to_get())));
  std::string out;
  if (!get.empty()) out += "\nTo get, what becomes free used again\n" + get;
  if (!free.empty()) out += "\nLeft over\n" + free;
  if (!a.bill.not_counted.empty()) {
    std::string list;
    for (const std::string& what : a.bill.not_counted) list += (list.empty() ? "" : "; ") + what;
    out += wrapped("  Not counted: " + list + ".", 100, "      ");
  }
  return out;
}

/// In the sizes as they were written.
std::string part_by_part(const CompareAnswer& a) {
  std::string out;
  const auto part = [&](const PartChange& p) {
    std::string line = p.path + ":";
    for (const auto& key : p.keys)
      line += p.what == PartChange::What::changed
                  ? fmt::format(" {} {} -> {};", key.name, key.now.empty() ? "(not said)" : key.now,
                                key.plan.empty() ? "(not said)" : key.plan)
                  : fmt::format(" {} {};", key.name, key.plan.empty() ? key.now : key.plan);
    if (line.ends_with(";")) line.pop_back();
    if (line.ends_with(":")) line.pop_back();
    out += wrapped("  " + line, 100, "      ");
  };
  const auto group = [&](PartChange::What what, const char* title) {
    const std::size_t before = out.size();
    for (const PartChange& p : a.parts)
      if (p.what == what) part(p);
    if (out.size() > before) out.insert(before, fmt::format("\n{}\n", title));
  };
  group(PartChange::What::added, "New, part by part");
  group(PartChange::What::changed, "Changed");
  group(PartChange::What::removed, "Taken out");
  return out.empty() ? "\nBoth describe the same parts.\n" : out;
}

}  // namespace

std::string compare_text(const CompareAnswer& a) {
  std::string out =
      headline(a) + tanks(a) + sure(a) + totals(a) + checks(a) + parts_that_differ(a) + counted(a) + part_by_part(a);
  for (const std::string& one : a.assumed) out += "\n" + wrapped("Taken: " + one + ".", 110, "");
  out += "\n" + wrapped(caution_electricity, 110, "") + wrapped(caution_mass, 110, "");
  return out;
}

}  // namespace leat::tell
