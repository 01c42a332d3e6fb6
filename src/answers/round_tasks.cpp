// The routine of a loop: what is due, by what the record has done.
#include <fmt/core.h>

#include <algorithm>
#include <array>

#include "answers/round.h"
#include "base/words/letters.h"
#include "model/weather/hours.h"

namespace leat::answers {
namespace {

using learn::Deed;
using learn::kDay;
using learn::kHour;
using record::Moment;

/// The last time that something was noted with one of these words in it.
std::optional<Moment> last_said(const learn::History& history, std::initializer_list<std::string_view> words) {
  std::optional<Moment> last;
  const auto holds = [&](const std::string& text) {
    const std::string small = words::in_small_letters(text);
    return std::any_of(words.begin(), words.end(),
                       [&](std::string_view w) { return small.find(w) != std::string::npos; });
  };
  for (const Deed& d : history.deeds)
    if (holds(d.said)) last = std::max(last.value_or(d.at), d.at);
  for (const record::Entry& e : history.remarks)
    if (holds(e.said)) last = std::max(last.value_or(e.from), e.from);
  return last;
}

std::optional<Moment> last_done(const learn::History& history, std::string_view what) {
  const auto all = history.done(what);
  return all.empty() ? std::nullopt : std::optional(all.back()->at);
}

std::optional<Moment> last_read(const learn::History& history, std::string_view what) {
  const auto all = history.of(what);
  return all.empty() ? std::nullopt : std::optional(all.back()->at);
}

/// Whether anything was noted today between two hours.
bool noted_today(const RoundGround& g, double from, double to) {
  const Moment a = g.at(g.today(), from), b = g.at(g.today(), to);
  return std::any_of(g.history.moments.begin(), g.history.moments.end(), [&](Moment m) { return m >= a && m < b; });
}

void add_looks(const RoundGround& g, std::vector<Task>& tasks) {
  const model::SunFrame sun = model::sun_frame(g.loop.site.place, g.today());
  const double dawn = g.clock().local(sun.sunrise).hour, dusk = g.clock().local(sun.sunset).hour;
  const double morning = std::clamp(dawn + 0.5, 5.0, 9.0), evening = std::clamp(dusk - 0.5, 16.0, 21.0);
  Task look{"dawn",
            Cadence::dawn,
            "look: do fish gasp? any dead? thermometer now, min and max; flow by eye; sump mark",
            "oxygen is lowest at dawn, and fish show it first",
            g.at(g.today(), morning),
            1};
  if (noted_today(g, 4.0, 11.0)) look.due += kDay;
  tasks.push_back(look);
  Task dusk_look{"dusk",
                 Cadence::dusk,
                 "look: was the feed eaten within five minutes? sump mark; does the water move; is "
                 "the air on for the night?",
                 "what is left rots overnight, and a warm still green night takes oxygen",
                 g.at(g.today(), evening),
                 1};
  if (noted_today(g, 14.0, 24.0)) dusk_look.due += kDay;
  tasks.push_back(dusk_look);
}

void add_meals(const RoundGround& g, const FeedAnswer& feed, std::vector<Task>& tasks) {
  for (const GroupFeed& f : feed.groups) {
    if (f.stop) {
      tasks.push_back({"feed-" + f.path, Cadence::meal, f.path + ": no feed today", f.why.empty() ? "" : f.why.back(),
                       g.at(g.today(), f.meals.front()), 1});
      continue;
    }
    // Meals already noted today are the first of them.
    std::size_t eaten = 0;
    for (const Deed& d : g.history.deeds)
      if (d.what == "fed" && d.grams.value_or(0.0) > 0.0 && d.at >= g.at(g.today(), 0.0) && d.at <= g.present.now)
        ++eaten;
    for (std::size_t m = 0; m < f.meals.size(); ++m) {
      Task meal{fmt::format("meal-{}-{}", f.path, m + 1),
                Cadence::meal,
                fmt::format("feed {} {:.0f} g", f.path, 1e3 * f.a_meal.si()),
                fmt::format("{:.0f} g today, {:.1f} % of {:.2f} kg; stop as soon as pellets sink past them",
                            1e3 * f.today.si(), 100.0 * f.share_of_mass, f.biomass.si()),
                g.at(g.today(), f.meals[m]),
                1,
                g.present.last_fed};
      if (m < eaten) meal.due += kDay;
      tasks.push_back(meal);
    }
  }
}

/// One test of the water a week, all that are due in one go.
void add_tests(const RoundGround& g, std::vector<Task>& tasks) {
  struct Test {
    std::string_view what, shown;
  };
  static constexpr std::array tests = {Test{"pH", "pH"}, Test{"alkalinity", "KH"}, Test{"ammonia", "ammonia"},
                                       Test{"nitrite", "nitrite"}, Test{"nitrate", "nitrate"}};
  std::string due_now;
  std::optional<Moment> oldest, soonest;
  for (const Test& t : tests) {
    const auto last = last_read(g.history, t.what);
    const Moment due = last ? *last + 7 * kDay : g.present.now;
    if (last) oldest = std::min(oldest.value_or(*last), *last);
    soonest = std::min(soonest.value_or(due), due);
    if (due < g.at(g.today(), 24.0)) due_now += (due_now.empty() ? "" : ", ") + std::string(t.shown);
  }
  Task task{"tests",
            Cadence::weekly,
            "test " + (due_now.empty() ? "pH, KH, ammonia, nitrite, nitrate" : due_now) + ", before feeding",
            "KH first of all: where it is gone, pH falls within a day",
            std::max(*soonest, g.at(g.today(), 8.0)),
            7,
            oldest};
  tasks.push_back(task);
}

struct Rule {
  std::string_view id;
  Cadence cadence;
  int every;
  std::string_view what, why;
  std::optional<Moment> (*last)(const learn::History&);
  bool (*needed)(const model::Loop&);
};

bool always(const model::Loop&) {
  return true;
}
bool has_fish(const model::Loop& loop) {
  return !loop.fish.empty();
}
bool has_beds(const model::Loop& loop) {
  return !loop.plantings.empty();
}
bool has_pump(const model::Loop& loop) {
  return !loop.pumps.empty();
}

/// Common practice, in line with FAO 589; the monthly ones are spread by when each was last done.
const std::array kRules = {
    Rule{"solids", Cadence::weekly, 7, "take solids out of the sump and from under the media guards",
         "rotting sludge takes oxygen at night and gives ammonia",
         [](const learn::History& h) {
           return last_said(h, {"solids", "sludge", "settler", "cleaned the sump"});
         },
         has_fish},
    Rule{"roots", Cadence::weekly, 7, "roots off the outlets",
         "a mat of roots lifts the water in a bed until it spills",
         [](const learn::History& h) {
           return last_said(h, {"roots", "cleaned the outlet"});
         },
         has_beds},
    Rule{"weigh", Cadence::monthly, 28, "weigh a dozen fish together and look at gills and skin",
         "feed goes by their weight", [](const learn::History& h) { return last_done(h, "weighed"); }, has_fish},
    Rule{"flow", Cadence::monthly, 28, "bucket and watch at each outlet",
         "slime and strainers take flow a little every week",
         [](const learn::History& h) { return last_read(h, "flow"); }, has_pump},
    Rule{"strainer", Cadence::monthly, 28, "clean the pump's strainer, plug pulled",
         "a pump that starves stirs air into the water and wears",
         [](const learn::History& h) { return last_said(h, {"strainer"}); }, has_pump},
    Rule{"thermometer", Cadence::monthly, 28, "thermometer in ice water: it should show 0",
         "every answer about warmth rests on it", [](const learn::History& h) { return last_said(h, {"ice water"}); },
         always},
    Rule{"battery", Cadence::monthly, 28, "run the battery air kit for ten minutes under load",
         "a battery that only looks full is found out in the power cut",
         [](const learn::History& h) { return last_said(h, {"battery"}); }, has_fish}};

void add_rules(const RoundGround& g, std::vector<Task>& tasks) {
  const Moment begun = g.history.empty() ? g.present.now : g.history.moments.front();
  for (const Rule& r : kRules) {
    if (!r.needed(g.loop)) continue;
    const auto last = r.last(g.history);
    Task t{std::string(r.id), r.cadence, std::string(r.what), std::string(r.why), last.value_or(begun) + r.every * kDay,
           r.every,           last};
    t.due = std::max(t.due, g.at(g.today(), 10.0));
    tasks.push_back(std::move(t));
  }
}

}  // namespace

std::string_view word_for(Cadence cadence) {
  static constexpr std::array words = {std::string_view("dawn"),    std::string_view("meal"),
                                       std::string_view("dusk"),    std::string_view("weekly"),
                                       std::string_view("monthly"), std::string_view("once")};
  return words[static_cast<std::size_t>(cadence)];
}

std::vector<Task> routine(const RoundGround& g, const FeedAnswer& feed) {
  std::vector<Task> tasks;
  add_looks(g, tasks);
  add_meals(g, feed, tasks);
  add_tests(g, tasks);
  add_rules(g, tasks);
  std::stable_sort(tasks.begin(), tasks.end(), [](const Task& a, const Task& b) { return a.due < b.due; });
  return tasks;
}

}  // namespace leat::answers
