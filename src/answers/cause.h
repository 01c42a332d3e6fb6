// leat cause: what killed them?
#pragma once

#include <optional>

#include "learn/history.h"
#include "model/loop/loop.h"
#include "science/statistics/intervals.h"

namespace leat::answers {

/// Mass of a sample of fish, g. A deviation of nought: not said.
struct Weighed {
  double count = 0.0, mean = 0.0, deviation = 0.0;
};

struct CauseRequest {
  record::Moment now = 0;
  std::optional<record::Moment> found{};   ///< near which deaths; nothing: the last that were more than one
  std::optional<Weighed> dead{}, alive{};  ///< in place of what the record has
  std::optional<Frequency<>> reaeration{};
  std::optional<double> dawn_hour{};  ///< when oxygen was lowest; sunrise unless said
};

/// One thing that speaks for or against, with what it rests on.
struct Evidence {
  int weight = 0;  ///< 3 strong, 2 fair, 1 weak; negative: against
  std::string words;
  std::vector<std::int64_t> rests_on{};
};

enum class Standing { fits, part, open, unlikely };

struct Cause {
  std::string key, name;
  std::vector<Evidence> evidence{};
  std::string settles;  ///< what would tell
  Standing standing = Standing::open;
  int score() const;
};

/// Who died and who did not.
struct Toll {
  double dead = 0.0, before = 0.0;
  science::Interval survival{0.0, 1.0};  ///< 95 %, exact
  std::optional<Weighed> dead_mass, alive_mass;
  std::optional<double> difference, t;  ///< g, dead less alive; Welch
};

struct CauseAnswer {
  std::string loop_name;
  record::Moment found = 0, found_to = 0;
  std::vector<std::int64_t> deaths;  ///< entries
  Toll toll;
  std::vector<Cause> causes;              ///< what fits best first
  std::vector<std::string> excluded_not;  ///< names of causes that this record cannot exclude
  std::vector<std::string> do_now, assumed;
  std::string said;  ///< why there is no answer
};

/// What the causes are weighed on.
struct Scene {
  const model::Loop& loop;
  const learn::History& history;
  const CauseRequest& request;
  const CauseAnswer& answer;
  double water_litres = 0.0;
  double celsius = 12.0;

  const Clock& clock() const { return loop.site.place.clock; }
  double hour_found() const;
  /// Readings of a kind in the hours before the find, up to so many hours after it.
  std::vector<const learn::Reading*> readings(std::string_view what, double hours_before,
                                              double hours_after = 3.0) const;
  std::vector<const learn::Deed*> deeds(std::string_view what, double hours_before) const;
  /// Entries of the days about it with one of these words.
  std::vector<std::int64_t> said(std::initializer_list<std::string_view> words, double hours_before = 72.0) const;
};

Cause oxygen_ran_out(const Scene& scene);
Cause ammonia_poisoned(const Scene& scene);
Cause nitrite_poisoned(const Scene& scene);
Cause chlorine_poisoned(const Scene& scene);
Cause water_was_changed(const Scene& scene);
Cause bloom_was_toxic(const Scene& scene);
Cause water_was_warm(const Scene& scene);
Cause carbon_dioxide_was_high(const Scene& scene);
Cause gas_was_in_excess(const Scene& scene);
Cause metal_was_in_it(const Scene& scene);
Cause illness_took_them(const Scene& scene);
Cause animals_or_handling(const Scene& scene);

CauseAnswer cause(const model::Loop& loop, const std::vector<record::Entry>& entries, const CauseRequest& request);

}  // namespace leat::answers
