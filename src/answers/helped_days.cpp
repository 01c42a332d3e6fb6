#include "answers/helped_days.h"

#include <fmt/core.h>

#include <cmath>
#include <cstdlib>

#include "record/phrase_parts.h"

namespace leat::answers {
namespace {

constexpr record::Moment kHour = 3'600'000;
constexpr record::Moment kApart = 3 * kHour;  // ends of windows that still count as the same time

/// The air's swing from a window of the record that starts and ends within three hours of the water's.
std::optional<double> air_beside(const Window& water, const std::vector<Window>& air) {
  const Window* nearest = nullptr;
  record::Moment least = 2 * kApart;
  for (const Window& w : air) {
    const record::Moment start = std::llabs(w.from - water.from), end = std::llabs(w.to - water.to);
    if (start > kApart || end > kApart || start + end >= least) continue;
    nearest = &w;
    least = start + end;
  }
  return nearest ? std::optional(nearest->swing()) : std::nullopt;
}

/// From a daily record: the highest of days whose afternoon lies in the window less the lowest of days whose dawn does.
std::optional<double> air_of_days(const Window& water, const model::DailyRecord& weather, const Clock& clock) {
  std::optional<double> low, high;
  const auto within = [&](const CivilDate& date, double hour) {
    const double at = 1000.0 * clock.instant({date, hour}).seconds;
    return at >= static_cast<double>(water.from) && at <= static_cast<double>(water.to);
  };
  for (const model::WeatherDay& day : weather.days) {
    if (within(day.date, 15.0)) high = std::max(high.value_or(-300.0), day.high.celsius());
    if (within(day.date, 5.0)) low = std::min(low.value_or(300.0), day.low.celsius());
  }
  if (!low || !high || *high < *low) return std::nullopt;
  return *high - *low;
}

}  // namespace

DaysFound days_in(const std::vector<Window>& water, const std::vector<Window>& air, WindowKind kind,
                  record::Moment from, record::Moment to, const model::DailyRecord* weather, const Clock& clock) {
  DaysFound found;
  for (const Window& w : water) {
    if (w.from < from || w.to > to) continue;
    if (w.kind != kind) {
      ++found.other_kind;
      continue;
    }
    auto swing = air_beside(w, air);
    if (!swing && weather) swing = air_of_days(w, *weather, clock);
    if (swing)
      found.days.push_back({w.from, w.to, *swing, w.swing(), w.entries});
    else
      ++found.without_air;
  }
  return found;
}

std::optional<Change> change_in(const std::vector<record::Entry>& entries, const record::Context& context,
                                const HelpedRequest& request) {
  std::optional<Change> last;
  bool plumbing = false;
  for (const record::Entry& e : entries) {
    const bool chapter = e.kind == record::Kind::chapter && e.what != "begun";
    const bool fish = e.what == "moved" && !e.towards.empty() && record::is_fish(context, e.subject);
    if (!chapter && !fish) continue;
    if (request.change) {
      // A change that was said by its time may be one that the record names.
      if (std::llabs(e.from - *request.change) > 24 * kHour) continue;
    } else if (last && (plumbing > chapter || (plumbing == chapter && e.from <= last->at))) {
      continue;
    }
    plumbing = chapter;
    last = Change{e.from,
                  chapter ? "re-plumbed" + (e.subject.empty() ? "" : ": " + e.subject)
                          : fmt::format("moved {} to {}", e.subject, e.towards),
                  e.number, e.where, fish ? e.towards : ""};
  }
  if (request.change) {
    if (!last) last = Change{0, "the change", 0, "", ""};
    last->at = *request.change;
  }
  return last;
}

}  // namespace leat::answers
