// leat feed: how much today?
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "model/loop/loop.h"
#include "model/simulate/feeding.h"

namespace leat::answers {

/// What was read today; what was not is taken and listed.
struct FeedRequest {
  std::optional<Temperature<>> temperature{};
  std::optional<Density<>> oxygen{};   ///< at the last reading
  std::optional<Density<>> ammonia{};  ///< total, as N
  std::optional<double> pH{};
  std::optional<Density<>> nitrite{};  ///< as N
  bool left_over = false;              ///< feed was left at the last meal
};

struct GroupFeed {
  std::string path, species;
  Mass<> biomass;
  Mass<> today;                ///< after all cuts
  double share_of_mass = 0.0;  ///< today over biomass
  model::Ration ration;        ///< before the cuts below
  std::vector<double> meals;   ///< local hours
  Mass<> a_meal;
  std::vector<std::string> why;
  bool stop = false;
};

struct FeedAnswer {
  std::string loop_name;
  Temperature<> temperature;
  std::vector<GroupFeed> groups;
  std::vector<std::string> stop_rules, assumed;
};

FeedAnswer feed(const model::Loop& loop, const FeedRequest& request);

}  // namespace leat::answers
