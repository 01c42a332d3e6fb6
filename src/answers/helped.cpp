#include "answers/helped.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "answers/helped_days.h"
#include "science/statistics/intervals.h"

namespace leat::answers {
namespace {

constexpr std::size_t kFewest = 3;    // days a side
constexpr double kAlikeWithin = 1.0;  // K between the air's swings of days that count as alike
constexpr double kDay = 24.0 * 3600.0;

struct Span {
  record::Moment from, to;
};

/// From the plumbing before to the change, and from there to the next plumbing.
std::pair<Span, Span> periods(const std::vector<record::Entry>& entries, const HelpedRequest& request,
                              record::Moment change, std::int64_t own) {
  Span before{request.since.value_or(std::numeric_limits<record::Moment>::min()), change};
  Span after{change, request.until.value_or(std::numeric_limits<record::Moment>::max())};
  for (const record::Entry& e : entries) {
    if (e.kind != record::Kind::chapter || e.what == "begun" || e.number == own) continue;
    if (e.from <= change) before.from = std::max(before.from, e.from);
    if (e.from > change) after.to = std::min(after.to, e.from);
  }
  return {before, after};
}

std::vector<double> pluck(const std::vector<Matched>& days, double Matched::*what) {
  std::vector<double> values;
  for (const Matched& d : days) values.push_back(d.*what);
  return values;
}

void measure(Period& p) {
  const auto air = pluck(p.days, &Matched::air), water = pluck(p.days, &Matched::water);
  p.line = science::line_through_origin(air, water);
  if (air.empty()) return;
  p.least_air = *std::min_element(air.begin(), air.end());
  p.most_air = *std::max_element(air.begin(), air.end());
}

/// The line of a period with what its days are worth as independent ones.
science::Proportion worth_of(const Period& p) {
  return science::as_independent(*p.line, pluck(p.days, &Matched::air), pluck(p.days, &Matched::water));
}

/// Pairs of days with the nearest air, each day used once, nearest first.
void match_alike(HelpedAnswer& a) {
  std::vector<bool> used(a.before.days.size(), false);
  std::vector<double> differences;
  for (const Matched& after : a.after.days) {
    std::size_t best = used.size();
    for (std::size_t i = 0; i < used.size(); ++i) {
      const double apart = std::fabs(a.before.days[i].air - after.air);
      if (used[i] || apart > kAlikeWithin) continue;
      if (best == used.size() || apart < std::fabs(a.before.days[best].air - after.air)) best = i;
    }
    if (best == used.size()) continue;
    used[best] = true;
    a.alike.push_back({a.before.days[best], after});
    differences.push_back(a.before.days[best].water - after.water);
  }
  if (differences.empty()) return;
  a.alike_chance = science::sign_flip_test(differences);
  if (!a.alike_chance) a.alike_chance = science::sign_flip_test_drawn(differences);
}

void fit(HelpedAnswer& a, const HelpedRequest& request) {
  a.apart = science::slopes_apart(*a.before.line, *a.after.line, a.level);
  a.shares = science::shares_of_drop(*a.before.line, *a.after.line);
  a.overlap = a.before.least_air <= a.after.most_air && a.after.least_air <= a.before.most_air;
  const std::size_t fewest = std::min(a.before.days.size(), a.after.days.size());
  const int longest = static_cast<int>(fewest / 2);
  a.block = std::min(std::max(5, static_cast<int>(std::ceil(std::cbrt(static_cast<double>(fewest))))), longest);
  a.blocks = science::slopes_apart_blocks(pluck(a.before.days, &Matched::air), pluck(a.before.days, &Matched::water),
                                          pluck(a.after.days, &Matched::air), pluck(a.after.days, &Matched::water),
                                          a.block, a.level);
  const science::Proportion before = worth_of(a.before), after = worth_of(a.after);
  a.apart_alike = science::slopes_apart(before, after, a.level);
  a.independent_days = before.n + after.n;
  match_alike(a);
  const auto hours = [](const Period& p) -> std::optional<double> {
    if (p.line->slope <= 0.0 || p.line->slope >= 1.0) return std::nullopt;
    return science::time_constant_hours(p.line->slope);
  };
  a.hours_before = hours(a.before);
  a.hours_after = hours(a.after);
  if (request.heat_capacity && a.hours_before) a.loss_before = *request.heat_capacity / (3600.0 * *a.hours_before);
  if (request.heat_capacity && a.hours_after) a.loss_after = *request.heat_capacity / (3600.0 * *a.hours_after);
  if (a.loss_before && !request.capacity_said)
    a.taken.push_back(
        fmt::format("the loop takes up {:.3g} MJ for a degree, for the losses: its water and stones by the loop's file "
                    "as it is now; "
                    "--heat-capacity says another",
                    1e-6 * *request.heat_capacity));
  a.verdict = a.apart_alike->interval.low > 0    ? HelpedVerdict::steadier
              : a.apart_alike->interval.high < 0 ? HelpedVerdict::less_steady
                                                 : HelpedVerdict::cannot_tell;
}

std::string counts_by_kind(const std::vector<Window>& windows, Span span) {
  std::string text;
  for (const WindowKind kind : {WindowKind::whole_day, WindowKind::night, WindowKind::other}) {
    const auto n = std::count_if(windows.begin(), windows.end(), [&](const Window& w) {
      return w.kind == kind && w.from >= span.from && w.to <= span.to;
    });
    if (n > 0) text += fmt::format("{}{} {}", text.empty() ? "" : ", ", n, window_word(kind));
  }
  return text.empty() ? "none" : text;
}

void tell_left_out(HelpedAnswer& a, const char* when, const WindowsFound& all, const DaysFound& days) {
  if (days.other_kind > 0)
    a.left_out.push_back(fmt::format("{}: {} windows that are not {}; they are never mixed", when, days.other_kind,
                                     window_word(a.kind)));
  if (days.without_air > 0)
    a.left_out.push_back(
        fmt::format("{}: {} windows without the air's min and max of the same time", when, days.without_air));
  if (all.without_reset > 0)
    a.left_out.push_back(
        fmt::format("{}: {} readings of min and max without the reset before them", when, all.without_reset));
  if (all.upside_down > 0)
    a.left_out.push_back(fmt::format("{}: {} readings whose min lies above their max", when, all.upside_down));
}

/// What both periods are made of, for one kind of window.
struct Sides {
  DaysFound before, after;
  bool enough() const { return before.days.size() >= kFewest && after.days.size() >= kFewest; }
};

void place(HelpedAnswer& a, const Change& change, const record::Context& context, const HelpedRequest& request) {
  a.change = change.at;
  a.change_words = change.words;
  a.change_entry = change.entry;
  const std::string usual = record::usual_place(context);
  const bool moved = request.where.empty() && !change.towards.empty();
  a.before.where = !request.where.empty() ? request.where : moved && !change.from.empty() ? change.from : usual;
  a.after.where = !request.where.empty() ? request.where : moved ? change.towards : usual;
}

/// Fills both periods with days of one kind: the one asked for, or whole days, or nights when only these are enough.
/// Returns how many windows of which kind there were, in words, if they are not enough.
std::string gather(HelpedAnswer& a, const std::vector<record::Entry>& entries, const record::Context& context,
                   const HelpedRequest& request) {
  const WindowsFound air = windows_in(entries, context.clock, "air_temperature", "outside");
  const WindowsFound first = windows_in(entries, context.clock, "temperature", a.before.where);
  const WindowsFound second = windows_in(entries, context.clock, "temperature", a.after.where);
  const auto [before, after] = periods(entries, request, a.change, a.change_entry);
  const auto sides = [&, b = before, c = after](WindowKind kind) {
    return Sides{days_in(first.windows, air.windows, kind, b.from, b.to, request.weather, context.clock),
                 days_in(second.windows, air.windows, kind, c.from, c.to, request.weather, context.clock)};
  };
  a.kind = request.kind.value_or(WindowKind::whole_day);
  Sides both = sides(a.kind);
  if (!request.kind && !both.enough())
    if (Sides nights = sides(WindowKind::night); nights.enough()) {
      both = std::move(nights);
      a.kind = WindowKind::night;
    }
  a.before.days = both.before.days;
  a.after.days = both.after.days;
  tell_left_out(a, "before", first, both.before);
  tell_left_out(a, "after", a.before.where == a.after.where ? WindowsFound{} : second, both.after);
  if (both.enough()) return "";
  return fmt::format("before {}, after {}", counts_by_kind(first.windows, before),
                     counts_by_kind(second.windows, after));
}

}  // namespace

HelpedAnswer helped(const std::vector<record::Entry>& entries, const record::Context& context,
                    const HelpedRequest& request) {
  HelpedAnswer a;
  a.standard_swing = request.standard_swing;
  a.level = request.level;
  const auto change = change_in(entries, context, request);
  if (!change) {
    a.why_not = "the record names no change: note it (replumbed: ...), or say when it was with --change";
    return a;
  }
  place(a, *change, context, request);
  const std::string few = gather(a, entries, context, request);
  measure(a.before);
  measure(a.after);
  if (few.empty() && a.before.line && a.after.line) {
    fit(a, request);
    return a;
  }
  a.why_not = fmt::format(
      "too few windows of one kind on both sides, with the air beside them; three each are needed ({}). An overnight "
      "min and max is no whole-day swing, so the two are not mixed",
      few.empty() ? "the air did not swing" : few);
  return a;
}

}  // namespace leat::answers
