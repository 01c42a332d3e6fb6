#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "base/words/letters.h"
#include "learn/odd.h"
#include "learn/of_fish.h"
#include "science/statistics/special_functions.h"

namespace leat::learn {
namespace {

/// Deaths of one fish in a day where all is well: 3 % in 117 days (Birolo et al. 2020), doubled for an unlucky loop.
constexpr double kDeathRate = 2.0 * 0.03 / 117.0;
constexpr double kUnlikely = 0.002;

/// Chance of at least so many where so many are expected.
double poisson_at_least(double count, double expected) {
  return count < 0.5 ? 1.0 : science::incomplete_gamma(count, expected);
}

bool off_their_feed(const std::string& words) {
  static constexpr std::array signs = {"slow to come", "not eating",  "off feed",  "uneaten",     "left over",
                                       "leftover",     "did not eat", "off their", "no appetite", "not hungry"};
  const std::string small = words::in_small_letters(words);
  return std::any_of(signs.begin(), signs.end(), [&](const char* s) { return small.find(s) != std::string::npos; });
}

/// Fish that are known to be there, by the deeds noted.
double stock_at(const History& history, const Expected& expected, Moment when) {
  double fish = expected.fish;
  for (const Deed& d : history.deeds) {
    if (d.at > when) break;
    if (d.what == "stocked") fish += d.count.value_or(0.0);
    if (is_death_of_fish(d, history) || is_catch(d)) fish -= d.count.value_or(0.0);
  }
  return std::max(0.0, fish);
}

void deaths(const History& history, const Expected& expected, std::vector<Oddity>& found) {
  const auto died = history.done("died");
  Moment told = -1;
  for (std::size_t i = 0; i < died.size(); ++i) {
    if (!is_death_of_fish(*died[i], history) || died[i]->count.value_or(0.0) <= 0.0) continue;
    for (const int days : {1, 7}) {
      double count = 0.0;
      std::vector<std::int64_t> entries;
      Moment since = died[i]->at;
      for (std::size_t k = 0; k <= i; ++k) {
        if (died[i]->at - died[k]->at >= days * kDay || died[k]->count.value_or(0.0) <= 0.0 ||
            !is_death_of_fish(*died[k], history))
          continue;
        count += *died[k]->count;
        entries.push_back(died[k]->entry);
        since = std::min(since, died[k]->at);
      }
      const double usual = kDeathRate * days * (stock_at(history, expected, died[i]->at) + count);
      if (count < 2.0 || poisson_at_least(count, usual) > kUnlikely) continue;
      if (told >= 0 && died[i]->at - told < 3 * kDay) continue;
      told = died[i]->at;
      Oddity o{"deaths", Weight::danger, died[i]->where, since, died[i]->at};
      o.what = fmt::format("{:.0f} dead in {} day{}", count, days, days == 1 ? "" : "s");
      o.reason = fmt::format("{:.2f} are expected in a loop where all is well; so many come by chance once in {:.0f}",
                             usual, 1.0 / std::max(1e-6, poisson_at_least(count, usual)));
      o.action =
          "oxygen first, then flow, ammonia and nitrite, warmth; take the dead out. leat cause lists what speaks "
          "for what";
      o.rests_on = entries;
      found.push_back(std::move(o));
      break;
    }
  }
}

/// Fasting by intent: before and after fish were moved, or the plumbing changed.
bool meant_to_fast(const History& history, Moment at) {
  return std::any_of(history.deeds.begin(), history.deeds.end(), [&](const Deed& d) {
    const bool change = d.what == "moved" || d.what == "stocked" || d.what == "weighed" || d.what == "replumbed";
    return change && std::abs(static_cast<double>(d.at - at)) <= 1.5 * static_cast<double>(kDay);
  });
}

struct Meal {
  Moment at = 0;
  double grams = 0.0;
  bool poor = false;
  std::int64_t entry = 0;
};

std::vector<Meal> meals_in(const History& history) {
  std::vector<Meal> meals;
  for (const Deed& d : history.deeds)
    if (d.what == "fed" && d.grams) meals.push_back({d.at, *d.grams, off_their_feed(d.said), d.entry});
  for (const record::Entry& e : history.remarks) {
    if (!off_their_feed(e.said)) continue;
    for (Meal& m : meals)
      if (std::abs(static_cast<double>(m.at - e.from)) <= 2.0 * static_cast<double>(kHour)) m.poor = true;
  }
  return meals;
}

/// Mean of the readings of the day before; nothing without any.
std::optional<double> warmth_before(const History& history, Moment at) {
  double sum = 0.0, count = 0.0;
  for (const Reading& r : history.readings_between(at - kDay - 1, at)) {
    if (r.what != "temperature") continue;
    sum += r.value();
    count += 1.0;
  }
  return count > 0.0 ? std::optional(sum / count) : std::nullopt;
}

double median_of_last(const std::vector<double>& all, std::size_t n) {
  std::vector<double> last(all.end() - static_cast<std::ptrdiff_t>(std::min(n, all.size())), all.end());
  std::sort(last.begin(), last.end());
  return last[last.size() / 2];
}

/// A meal counts by what the water's warmth lets them take: heat and cold take appetite, and that is no riddle. Where
/// they would hardly eat, or nobody read the thermometer, nothing is said.
void appetite(const History& history, const Expected& expected, std::vector<Oddity>& found) {
  double most = 0.0;
  for (const double grams : expected.ration) most = std::max(most, grams);
  std::vector<double> usual;  // over the ration at that warmth
  std::vector<std::int64_t> poor;
  bool told = false;
  Moment before = 0;
  for (const Meal& m : meals_in(history)) {
    if (others_came_or_went(history, before, m.at)) usual.clear();  // what is usual is learned anew
    before = m.at;
    const auto warm = warmth_before(history, m.at);
    const double ration = warm ? expected.ration_at(*warm) : 0.0;
    if (!m.poor && (!warm || ration < 0.4 * most)) continue;
    const double middle = usual.size() >= 6 && ration > 0.0 ? median_of_last(usual, 8) * ration : 0.0;
    const bool little = m.poor || (middle > 0.0 && m.grams < 0.5 * middle);
    if (!little || meant_to_fast(history, m.at)) {
      if (ration > 0.0) usual.push_back(m.grams / ration);
      poor.clear();
      told = false;
      continue;
    }
    poor.push_back(m.entry);
    if (poor.size() < 2 || told) continue;
    told = true;
    Oddity o{"appetite", Weight::danger, expected.fish_tank, m.at, m.at};
    o.what = "two meals running they took little";
    o.reason = middle > 0.0 ? fmt::format("{:.0f} g, and about {:.0f} g is usual at this warmth", m.grams, middle)
                            : "as you noted";
    o.action = "skip the next meal, look at gills and skin, read oxygen and ammonia";
    o.rests_on = poor;
    found.push_back(std::move(o));
  }
}

/// Fish that gain less than the feed would give at a poor conversion of 3.
void gain(const History& history, const Expected& expected, std::vector<Oddity>& found) {
  const Deed* before = nullptr;
  for (const Deed* d : history.done("weighed")) {
    if (!d->grams_each) continue;
    if (before && d->at - before->at >= 14 * kDay && !others_came_or_went(history, before->at, d->at)) {
      double feed = 0.0;
      for (const Deed* f : history.done("fed"))
        if (f->at > before->at && f->at <= d->at) feed += f->grams.value_or(0.0);
      const double fish = stock_at(history, expected, d->at);
      const double gained = (*d->grams_each - *before->grams_each) * fish;
      // A sample of n fish knows its mean within 20 % over the root of n (common practice).
      const double unsure =
          2.0 * fish * *d->grams_each * 0.2 *
          std::sqrt(1.0 / std::max(1.0, d->count.value_or(1.0)) + 1.0 / std::max(1.0, before->count.value_or(1.0)));
      if (feed > 0.0 && gained + unsure < feed / 3.0) {
        Oddity o{"gain", Weight::drift, d->where, before->at, d->at};
        o.what = gained < 0.0 ? fmt::format("{:.0f} g of feed, and the fish weigh {:.0f} g less", feed, -gained)
                              : fmt::format("{:.0f} g of feed, and the fish gained {:.0f} g", feed, gained);
        o.reason = fmt::format(
            "even at three grams of feed for one of fish it would be {:.0f} g; the sample may be off "
            "by {:.0f} g",
            feed / 3.0, unsure);
        o.action = "watch one whole meal: is feed left, do a few take all? Then look for missing fish";
        o.rests_on = {before->entry, d->entry};
        found.push_back(std::move(o));
      }
    }
    before = d;
  }
}

/// More taken out than there were.
void count_does_not_close(const History& history, const Expected& expected, std::vector<Oddity>& found) {
  if (expected.fish <= 0.0) return;
  double there = expected.fish;
  for (const Deed& d : history.deeds) {
    if (d.what == "stocked") there += d.count.value_or(0.0);
    if (is_death_of_fish(d, history) || is_catch(d)) there -= d.count.value_or(0.0);
    if (there >= -0.5 || d.what != "died") continue;
    Oddity o{"count", Weight::wrong_number, d.where, d.at, d.at};
    o.what = fmt::format("{:.0f} more fish died than there were", -there);
    o.reason = "the loop file's count, what was stocked and what died do not add up";
    o.action = "count the fish, and put the count into the loop file";
    o.rests_on = {d.entry};
    found.push_back(std::move(o));
    return;
  }
}

}  // namespace

std::vector<Oddity> odd_fish(const History& history, const Expected& expected) {
  std::vector<Oddity> found;
  deaths(history, expected, found);
  appetite(history, expected, found);
  gain(history, expected, found);
  count_does_not_close(history, expected, found);
  return found;
}

}  // namespace leat::learn
