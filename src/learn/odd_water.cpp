#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "learn/cusum.h"
#include "learn/odd.h"

namespace leat::learn {
namespace {

double median(std::vector<double> values) {
  const std::size_t half = values.size() / 2;
  std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(half), values.end());
  return values[half];
}

/// Whether the plumbing changed between two times.
bool replumbed_between(const History& history, Moment from, Moment to) {
  return std::any_of(history.deeds.begin(), history.deeds.end(),
                     [&](const Deed& d) { return d.what == "replumbed" && d.at > from && d.at <= to; });
}

/// Bucket and watch: each test within 6 % (10 L in 18 s, +-1 s and +-0.3 L).
constexpr double kBucket = 0.06;
constexpr std::size_t kBaseline = 5;
/// The middle of the first tests is not sure itself, to about 3 %.
constexpr double kUnsure = 0.97;

void flow_drifts(const std::vector<const Reading*>& tests, const History& history, std::vector<Oddity>& found) {
  std::vector<double> first;
  Cusum sum{1.0, 4.0};
  double usual = 0.0;
  for (std::size_t i = 0; i < tests.size(); ++i) {
    const double flow = tests[i]->value();
    if (flow <= 0.0) continue;
    if (i > 0 && replumbed_between(history, tests[i - 1]->at, tests[i]->at)) {
      first.clear();
      sum = {1.0, 4.0};
    }
    if (first.size() < kBaseline) {
      first.push_back(flow);
      usual = median(first);
      continue;
    }
    const auto rung = sum.take({std::log(flow), std::log(flow)}, std::log(kUnsure * usual), kBucket);
    if (!rung.down) continue;
    const auto from = i + 1 - std::min(i, static_cast<std::size_t>(rung.readings));
    Oddity o{"flow_drifts", Weight::drift, tests[i]->where, tests[from]->at, tests[i]->at};
    o.what = fmt::format("flow {:.0f} L/h, {:.0f} % under what it was", flow, 100.0 * (1.0 - flow / usual));
    o.reason = fmt::format(
        "{} tests running lie under {:.0f} L/h, the middle of the first {}, by more than bucket and "
        "watch can miss (6 %)",
        rung.readings, usual, kBaseline);
    o.action = "clean the pump's strainer and look for roots at the outlets; then test once more";
    for (std::size_t k = from; k <= i; ++k) o.rests_on.push_back(tests[k]->entry);
    found.push_back(std::move(o));
  }
}

/// Litres that were topped up in the days that end at one, and the most that could be lost in them.
struct Spell {
  double litres = 0.0, at_most = 0.0;
  std::vector<std::int64_t> entries;
  Moment since = 0;
};

Spell spell_before(const std::vector<const Deed*>& tops, std::size_t last, int days, const Expected& expected) {
  Spell s;
  const Moment end = tops[last]->at;
  // What is topped up makes good what was lost since the one before: count from there.
  std::size_t k = last;
  while (k > 0 && end - tops[k]->at < days * kDay) --k;
  s.since = tops[k]->at;
  for (std::size_t i = k + 1; i <= last; ++i) {
    s.litres += tops[i]->litres.value_or(0.0);
    s.entries.push_back(tops[i]->entry);
  }
  const double span = static_cast<double>(end - s.since) / static_cast<double>(kDay);
  const int first = std::max(0, expected.day_index(s.since)), upto = expected.day_index(end);
  double sum = 0.0;
  int counted = 0;
  for (int d = first; d <= upto && d < static_cast<int>(expected.loses_at_most.size()); ++d, ++counted)
    sum += expected.loses_at_most[static_cast<std::size_t>(d)];
  s.at_most = counted > 0 ? sum / counted * span : 1e9;
  return s;
}

void top_up_beyond_evaporation(const History& history, const Expected& expected, std::vector<Oddity>& found) {
  const auto tops = history.done("topped_up");
  Moment told = -1;
  for (std::size_t i = 1; i < tops.size(); ++i) {
    const Spell s = spell_before(tops, i, 5, expected);
    if (tops[i]->at - s.since < 2 * kDay || (told >= 0 && tops[i]->at - told < 7 * kDay)) continue;
    const double days = static_cast<double>(tops[i]->at - s.since) / static_cast<double>(kDay);
    if (s.litres <= 1.15 * s.at_most + 5.0) continue;
    told = tops[i]->at;
    Oddity o{"top_up", Weight::danger, "", s.since, tops[i]->at};
    o.what = fmt::format("{:.0f} L topped up in {:.1f} days", s.litres, days);
    o.reason = fmt::format(
        "under this weather at most {:.0f} L could evaporate and transpire in that time: a leak of "
        "about {:.0f} L a day, or gallons written as litres",
        s.at_most, (s.litres - s.at_most) / days);
    o.action =
        "mark the sump's level at dusk with the pump off and read it at dawn: by night next to nothing "
        "evaporates. Then look under each bed and along the pipes";
    o.rests_on = s.entries;
    found.push_back(std::move(o));
  }
}

/// Levels of one place: how far apart the marks of a day lie.
struct DayMarks {
  Moment at = 0;
  double low = 1e9, high = -1e9;
  int marks = 0;
  std::vector<std::int64_t> entries{};
};

std::vector<DayMarks> marks_by_day(const std::vector<const Reading*>& levels, const Expected& expected) {
  std::vector<DayMarks> days;
  CivilDate date{};
  for (const Reading* r : levels) {
    const CivilDate today = expected.date_of(r->at);
    if (days.empty() || !(today == date)) days.push_back({r->at});
    date = today;
    DayMarks& d = days.back();
    d.at = r->at;
    d.low = std::min(d.low, r->value());
    d.high = std::max(d.high, r->value());
    ++d.marks;
    d.entries.push_back(r->entry);
  }
  return days;
}

void marks_spread(const std::vector<const Reading*>& levels, const Expected& expected, std::vector<Oddity>& found) {
  std::vector<double> usual;
  Cusum sum{1.0, 5.0};
  double middle = 0.0, sd = 1.0;
  Moment told = -1;
  for (const DayMarks& d : marks_by_day(levels, expected)) {
    if (d.marks < 2) continue;
    const double spread = d.high - d.low;
    if (usual.size() < 10) {
      usual.push_back(spread);
      middle = median(usual);
      std::vector<double> apart;
      for (const double u : usual) apart.push_back(std::abs(u - middle));
      sd = std::max(0.7, 1.483 * median(apart));  // cm; the median's distance as a standard deviation
      continue;
    }
    if (!sum.take({spread, spread}, middle, sd).up || (told >= 0 && d.at - told < 7 * kDay)) continue;
    told = d.at;
    Oddity o{"marks_spread", Weight::drift, levels[0]->where, d.at, d.at};
    o.what = fmt::format("marks {:.1f} cm apart in a day, {:.1f} cm usually", spread, middle);
    o.reason =
        "the level swings more than it did: a siphon out of step, another timing of the valve, or one bed more "
        "that fills at once";
    o.action = "watch one whole turn of the beds at the sump, its lowest and its highest mark";
    o.rests_on = d.entries;
    found.push_back(std::move(o));
  }
}

/// A bed whose level used to move and now stands still: its turn is skipped, or its siphon idles.
void pattern_gone(const std::vector<const Reading*>& levels, std::vector<Oddity>& found) {
  constexpr std::size_t still = 5, before = 8;
  bool told = false;
  for (std::size_t i = before + still - 1; i < levels.size(); ++i) {
    double low = 1e9, high = -1e9, was_low = 1e9, was_high = -1e9;
    for (std::size_t k = 0; k <= i; ++k) {
      const bool late = k + still > i;
      (late ? low : was_low) = std::min(late ? low : was_low, levels[k]->value());
      (late ? high : was_high) = std::max(late ? high : was_high, levels[k]->value());
    }
    const bool gone = high - low <= 1.0 && was_high - was_low >= 5.0;
    if (gone && !told) {
      Oddity o{"bed_stands_still", Weight::drift, levels[i]->where, levels[i + 1 - still]->at, levels[i]->at};
      o.what = fmt::format("{} marks running at {:.0f} cm, where it moved by {:.0f} cm", still, levels[i]->value(),
                           was_high - was_low);
      o.reason = "this bed's turn seems to be gone: the valve skips it, or its siphon neither starts nor stops";
      o.action = "stand by it for one whole turn; then valve, outlet, siphon, in this order";
      for (std::size_t k = i + 1 - still; k <= i; ++k) o.rests_on.push_back(levels[k]->entry);
      found.push_back(std::move(o));
    }
    told = gone;
  }
}

}  // namespace

std::vector<Oddity> odd_water(const History& history, const Expected& expected) {
  std::vector<Oddity> found;
  for (const std::string& where : history.places_of("flow")) flow_drifts(history.of("flow", where), history, found);
  top_up_beyond_evaporation(history, expected, found);
  for (const std::string& where : history.places_of("level")) {
    const auto levels = history.of("level", where);
    if (levels.empty()) continue;
    if (where.starts_with("gravel_bed"))
      pattern_gone(levels, found);
    else
      marks_spread(levels, expected, found);
  }
  return found;
}

}  // namespace leat::learn
