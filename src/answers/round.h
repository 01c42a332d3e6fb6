// leat round: what do I look at and do now?
#pragma once

#include "answers/feed.h"
#include "answers/odd.h"
#include "learn/present.h"

namespace leat::answers {

enum class Cadence { dawn, meal, dusk, weekly, monthly, once };
std::string_view word_for(Cadence cadence);

/// Something to do. `every` in days; 0: once.
struct Task {
  std::string id;  ///< "tests", "meal-1": stays the same from day to day
  Cadence cadence = Cadence::once;
  std::string what, why;
  record::Moment due = 0;
  int every = 0;
  std::optional<record::Moment> last{};  ///< when the record has it done
};

/// What cannot wait for the next round.
struct Urgent {
  std::string key;  ///< "oxygen_tonight": the same for as long as it is the same matter
  std::string what, reason, action;
  std::optional<record::Moment> at{};  ///< when it comes; nothing: it is there
  std::vector<std::int64_t> rests_on{};
};

struct RoundRequest {
  record::Moment now = 0;
  std::size_t most = 3;             ///< oddities
  model::WeatherSources weather{};  ///< typed days, a daily record
  std::optional<Frequency<>> reaeration{};
  bool urgent_only = false;  ///< leaves out what a timer need not know
};

struct RoundAnswer {
  std::string loop_name;
  record::Moment now = 0;
  std::vector<Urgent> urgent;      ///< the nearest first
  std::vector<Task> due;           ///< by the end of today, in the order of their times
  std::vector<Task> later;         ///< the rest of the routine, for a calendar
  std::vector<learn::Oddity> odd;  ///< the weightiest first
  FeedAnswer feed;
  std::vector<std::string> coming;  ///< of the next days, by the model
  std::vector<learn::Taken> taken;  ///< from the record
  std::vector<std::string> assumed;
};

RoundAnswer round(const model::Loop& loop, const std::vector<record::Entry>& entries, const RoundRequest& request);

/// What a round works on: the loop as the record last saw it, and today's weather.
struct RoundGround {
  const model::Loop& described;
  model::Loop loop;
  learn::History history;
  learn::Present present;
  model::Weather weather;  ///< of three days from today on
  bool weather_known = false;
  const RoundRequest& request;

  const Clock& clock() const { return loop.site.place.clock; }
  CivilDate today() const;
  record::Moment at(const CivilDate& date, double hour) const;
};

/// Routine, by what the record has done.
std::vector<Task> routine(const RoundGround& ground, const FeedAnswer& feed);
/// By the last readings, by what was noted of power and pumps, and by the model for the coming night.
std::vector<Urgent> urgent_matters(const RoundGround& ground, const std::vector<learn::Oddity>& odd);

}  // namespace leat::answers
