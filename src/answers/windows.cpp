#include "answers/windows.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/units/parse.h"

namespace leat::answers {
namespace {

constexpr double kHour = 3'600'000.0;

/// Whether a local time of day lies within a window.
bool holds_hour(const Clock& clock, const Window& w, double hour) {
  const CivilDate first = clock.local(Instant{static_cast<double>(w.from) / 1000.0}).date;
  for (int day = 0; day < 3; ++day) {
    const double at = 1000.0 * clock.instant({first.plus_days(day), hour}).seconds;
    if (at >= static_cast<double>(w.from) && at <= static_cast<double>(w.to)) return true;
  }
  return false;
}

WindowKind kind_of(const Clock& clock, const Window& w) {
  const double hours = static_cast<double>(w.to - w.from) / kHour;
  if (hours >= 20.0 && hours <= 28.0) return WindowKind::whole_day;
  return hours <= 16.0 && holds_hour(clock, w, 3.0) ? WindowKind::night : WindowKind::other;
}

}  // namespace

std::string_view window_word(WindowKind kind) {
  return kind == WindowKind::whole_day ? "whole-day" : kind == WindowKind::night ? "overnight" : "other";
}

std::optional<double> celsius_of(const record::Amount& amount) {
  if (!amount.low || !amount.high) return std::nullopt;
  const auto unit = read_unit(amount.unit);
  const Unit* t = std::get_if<Unit>(&unit);
  if (!t || !(t->dimension == dim::temperature)) return std::nullopt;
  return t->scale * 0.5 * (*amount.low + *amount.high) + t->offset - 273.15;
}

WindowsFound windows_in(const std::vector<record::Entry>& entries, const Clock& clock, std::string_view what,
                        const std::string& where) {
  struct Pair {
    std::optional<double> low, high;
    std::optional<record::Moment> since;
    std::vector<std::int64_t> entries;
  };
  std::map<record::Moment, Pair> pairs;
  for (const record::Entry& e : entries) {
    if (e.kind != record::Kind::reading || e.what != what || e.where != where || e.extreme.empty()) continue;
    const auto value = celsius_of(e.amount);
    if (!value) continue;
    Pair& pair = pairs[e.from];
    (e.extreme == "min" ? pair.low : pair.high) = value;
    if (e.since) pair.since = e.since;
    pair.entries.push_back(e.number);
  }
  WindowsFound found;
  for (const auto& [at, pair] : pairs) {
    if (!pair.low || !pair.high) continue;
    if (*pair.low > *pair.high) {
      ++found.upside_down;
    } else if (!pair.since) {
      ++found.without_reset;
    } else {
      Window w{*pair.since, at, *pair.low, *pair.high, WindowKind::other, pair.entries};
      w.kind = kind_of(clock, w);
      found.windows.push_back(std::move(w));
    }
  }
  return found;
}

}  // namespace leat::answers
