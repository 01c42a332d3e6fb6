// leat night: will oxygen be low before dawn?
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "answers/drawn.h"
#include "answers/finding.h"
#include "model/loop/loop.h"

namespace leat::answers {

/// A reading of the evening or the night. Hours run on past midnight: 23.5, 24.5.
struct OxygenReading {
  double hour = 0.0;
  Density<> oxygen{};
};

struct NightRequest {
  std::vector<OxygenReading> readings;  ///< two at least, in the order of time
  double dawn_hour = 30.0;              ///< 30 is six in the morning
  Temperature<> temperature{};
  std::optional<Frequency<>> reaeration{};  ///< fitted or known
  double reaeration_log_sd = 0.25;
  Density<> kit_sd{0.5e-3};
  Density<> low{5e-3}, deadly{3e-3};
  std::optional<double> pH{};                  ///< of the afternoon
  std::optional<Density<>> ammonia{};          ///< total, as N
  std::optional<Density<>> demand_per_hour{};  ///< instead of what the readings say
  std::uint64_t seed = 1;
  int draws = 20000;  ///< about 2 microseconds each
};

struct NightAnswer {
  bool by_reaeration = true;  ///< false: the log-line
  Density<> saturation{}, equilibrium{};
  double demand = 0.0, fish_demand = 0.0;     ///< kg/m3/s
  Density<> dawn{}, dawn_low{}, dawn_high{};  ///< middle, 5 and 95 %
  double chance_low = 0.0, chance_deadly = 0.0;
  std::optional<double> passes_low_at;  ///< hour, by the middle
  Density<> with_air{};                 ///< at dawn with twice the reaeration from the last reading on
  Density<> log_line{};
  std::optional<double> ammonia_share;  ///< un-ionised
  std::optional<Density<>> unionised_ammonia;
  double gas_pressure = 1.0;  ///< at the first reading, over that of the air
  double dawn_hour = 30.0;
  Verdict verdict = Verdict::good;
  std::vector<std::string> advice, assumed;
  HowDrawn how;                ///< by reaeration only
  std::vector<OwedMost> owed;  ///< oxygen at dawn, mol/m3
};

NightAnswer night(const model::Loop& loop, const NightRequest& request);

}  // namespace leat::answers
