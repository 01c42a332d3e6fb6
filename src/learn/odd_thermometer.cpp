#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "learn/odd.h"

namespace leat::learn {
namespace {

/// Two readings of one thermometer agree within this: its offset cancels, what is left is reading and place in the tank
/// (common practice).
constexpr double kThermometer = 0.8;
/// Readings farther apart than this are not compared.
constexpr double kLongestHours = 36.0;

double hours_between(Moment a, Moment b) {
  return static_cast<double>(b - a) / static_cast<double>(kHour);
}

/// Min, max and now of one look at the thermometer.
struct Look {
  Moment at = 0;
  std::string where;
  const Reading *now = nullptr, *min = nullptr, *max = nullptr;
};

std::vector<Look> looks_in(const History& history) {
  std::vector<Look> looks;
  for (const Reading& r : history.readings) {
    if (r.what != "temperature") continue;
    auto found = std::find_if(looks.rbegin(), looks.rend(), [&](const Look& l) {
      return l.where == r.where && std::abs(static_cast<double>(l.at - r.at)) <= 10.0 * 60e3;
    });
    if (found == looks.rend()) {
      looks.push_back({r.at, r.where});
      found = looks.rbegin();
    }
    (r.extreme == "min" ? found->min : r.extreme == "max" ? found->max : found->now) = &r;
  }
  return looks;
}

void out_of_order(const Look& l, std::vector<Oddity>& found) {
  const auto tell = [&](const Reading& a, const Reading& b, const char* what) {
    found.push_back({"out_of_order",
                     Weight::wrong_number,
                     l.where,
                     l.at,
                     l.at,
                     fmt::format("{}: {:.1f} beside {:.1f} degC", what, a.value(), b.value()),
                     "a thermometer cannot show that; one of the two was read or typed wrong",
                     fmt::format("look again, and put it right: leat record --correct {} \"...\"", a.entry),
                     {a.entry, b.entry}});
  };
  if (l.min && l.now && l.min->value() > l.now->value() + 1e-6) tell(*l.min, *l.now, "the min is above now");
  if (l.max && l.now && l.max->value() < l.now->value() - 1e-6) tell(*l.max, *l.now, "the max is below now");
  if (l.min && l.max && l.min->value() > l.max->value() + 1e-6) tell(*l.min, *l.max, "the min is above the max");
}

/// What one reading should show, and how far from it the loop can be.
struct Should {
  double expected = 0.0, allowed = 0.0, could_move = 0.0, hours = 0.0;
};

class Steps {
  const Expected& expected_;
  const Warmth& warmth_;
  std::vector<Oddity>& found_;
  const Reading* last_ = nullptr;  ///< that fitted
  int misfits_ = 0;

  Should should_show(Moment at) const {
    Should s;
    s.hours = hours_between(last_->at, at);
    s.could_move = warmth_.steepest(at, std::min(24.0, s.hours));
    s.expected = last_->value() + warmth_.at(at) - warmth_.at(last_->at);
    s.allowed = kThermometer + (expected_.weather_known ? 1.0 : 2.0) * s.could_move;
    return s;
  }

  void tell(const Reading& r, const Should& s, const char* shown) {
    const double moved = r.value() - last_->value(),
                 kilowatts = expected_.heat_capacity * 1e3 * std::abs(moved) / (3600.0 * std::max(0.25, s.hours));
    const double as_fahrenheit = (r.value() - 32.0) / 1.8;
    const bool fahrenheit = std::abs(as_fahrenheit - s.expected) <= s.allowed;
    Oddity o{fahrenheit ? "fahrenheit" : "impossible_heat", Weight::wrong_number, r.where, r.at, r.at};
    o.what = fmt::format("{}{:.1f} degC, {:.1f} h after {:.1f}", shown, r.value(), s.hours, last_->value());
    o.reason = fmt::format(
        "under this weather the loop would show about {:.1f} and could move {:.1f} K in that time; {:.1f} K takes "
        "{:.1f} kW in {:.0f} MJ/K of water and stones",
        s.expected, s.could_move, std::abs(moved), kilowatts, expected_.heat_capacity);
    if (fahrenheit)
      o.reason = fmt::format("taken as degF it is {:.1f} degC, which fits: the loop would show about {:.1f}",
                             as_fahrenheit, s.expected);
    o.action = fahrenheit
                   ? fmt::format("if it was degF, write: leat record --correct {} \"temp {:g} F\"", r.entry, r.typed)
                   : "read again with the bulb well under water; then look whether the thermometer hangs in "
                     "the sun, lay dry, or the number was typed wrong";
    o.rests_on = {last_->entry, r.entry};
    found_.push_back(std::move(o));
  }

 public:
  Steps(const Expected& expected, const Warmth& warmth, std::vector<Oddity>& found)
      : expected_(expected), warmth_(warmth), found_(found) {}

  void take(const Reading& r) {
    const bool comparable =
        last_ && hours_between(last_->at, r.at) <= kLongestHours && warmth_.covers(r.at) && warmth_.covers(last_->at);
    if (comparable && r.at > last_->at) {
      const Should s = should_show(r.at);
      if (std::abs(r.value() - s.expected) > s.allowed) {
        if (++misfits_ <= 1) tell(r, s, "");
        if (misfits_ < 3) return;  // it stays there: the thermometer hangs elsewhere now
      }
    }
    misfits_ = 0;
    last_ = &r;
  }

  /// A min or max against now, which the same thermometer shows.
  void take_extreme(const Reading& extreme, const Reading& now) {
    if (!extreme.since || !warmth_.covers(now.at) || !warmth_.covers(*extreme.since)) return;
    if (hours_between(*extreme.since, now.at) > 72.0 || last_ != &now) return;
    const auto [low, high] = warmth_.range(*extreme.since, now.at);
    const double model = extreme.extreme == "min" ? low : high;
    Should s;
    s.hours = hours_between(*extreme.since, now.at);
    s.could_move = high - low;
    s.expected = now.value() + model - warmth_.at(now.at);
    s.allowed =
        kThermometer + (expected_.weather_known ? 1.0 : 2.0) * std::max(s.could_move, warmth_.steepest(now.at, 12.0));
    if (std::abs(extreme.value() - s.expected) > s.allowed)
      tell(extreme, s, extreme.extreme == "min" ? "min " : "max ");
  }
};

/// The same number again and again while the water must have moved.
void stuck(const std::vector<const Reading*>& readings, const Warmth& warmth, std::vector<Oddity>& found) {
  constexpr std::size_t least = 6;
  std::size_t from = 0;
  for (std::size_t i = 1; i <= readings.size(); ++i) {
    if (i < readings.size() && readings[i]->typed == readings[from]->typed) {
      double low = 1e9, high = -1e9;
      for (std::size_t k = from; k <= i; ++k) {
        if (!warmth.covers(readings[k]->at)) continue;
        low = std::min(low, warmth.at(readings[k]->at));
        high = std::max(high, warmth.at(readings[k]->at));
      }
      if (i - from + 1 < least || high - low < 1.5) continue;
      Oddity o{"stuck_thermometer", Weight::wrong_number, readings[i]->where, readings[from]->at, readings[i]->at};
      o.what = fmt::format("{:g} degC {} times running", readings[i]->typed, i - from + 1);
      o.reason = fmt::format("between these readings the water must have moved by about {:.1f} K", high - low);
      o.action = "warm the bulb in your hand: if it does not follow, a new thermometer or battery";
      for (std::size_t k = from; k <= i; ++k) o.rests_on.push_back(readings[k]->entry);
      found.push_back(std::move(o));
      from = i;
    } else {
      from = i;
    }
  }
}

}  // namespace

std::vector<Oddity> odd_thermometer(const History& history, const Expected& expected) {
  std::vector<Oddity> found;
  const std::vector<Look> looks = looks_in(history);
  for (const Look& l : looks) out_of_order(l, found);
  for (const std::string& where : history.places_of("temperature")) {
    const Warmth* warmth = expected.warmth_of(where);
    if (!warmth) continue;
    Steps steps(expected, *warmth, found);
    for (const Look& l : looks) {
      if (l.where != where || !l.now) continue;
      steps.take(*l.now);
      if (l.min) steps.take_extreme(*l.min, *l.now);
      if (l.max) steps.take_extreme(*l.max, *l.now);
    }
    stuck(history.of("temperature", where), *warmth, found);
  }
  return found;
}

}  // namespace leat::learn
