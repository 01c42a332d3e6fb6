#include "answers/night.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "answers/priors.h"
#include "model/flow/plumbing.h"
#include "model/flow/water_run.h"
#include "science/fish/oxygen_demand.h"
#include "science/gas/night_oxygen.h"
#include "science/gas/nitrogen_gas.h"
#include "science/nitrogen/unionised_ammonia.h"
#include "science/water/pressure.h"

namespace leat::answers {
namespace {

using namespace model;

Duration<> hours(double h) {
  return Duration<>(3600.0 * h);
}

/// Hour of the clock: 24.58 is 00:35.
std::string clock(double hour) {
  const int minutes = static_cast<int>(std::lround(std::fmod(hour, 24.0) * 60.0)) % 1440;
  return fmt::format("{:02}:{:02}", minutes / 60, minutes % 60);
}

/// One guess at what the night does: a reaeration, and what the two first readings truly were.
struct Draw {
  double dawn = 0.0, weight = 1.0;
  std::size_t row = 0;  ///< of the draws
};

/// What is drawn beside readings: these stand for the loop, so that nothing else is.
std::vector<Prior> priors_of_readings() {
  return {{"the air that the water takes", "a quarter (log-spread 0.25)", "a reaeration that was fitted (our own)", 0,
           nullptr, nullptr, nullptr, 0},
          {"the first reading", "the spread of the kit (--kit)", "0.5 mg/L unless said (common practice)", 0, nullptr,
           nullptr, nullptr, 1},
          {"the second reading", "the spread of the kit (--kit)", "0.5 mg/L unless said (common practice)", 0, nullptr,
           nullptr, nullptr, 2}};
}

class Sampling {
  const NightRequest& request_;
  Density<> saturation_;

  double gap(std::size_t i) const { return request_.readings[i].hour - request_.readings[1].hour; }

  Density<> rest_of(Density<> first, Density<> second, Frequency<> k) const {
    if (request_.demand_per_hour) return Density<>(saturation_.si() - request_.demand_per_hour->si() / 3600.0 / k.si());
    return science::night_equilibrium_oxygen(first, second, hours(-gap(0)), k);
  }

 public:
  Sampling(const NightRequest& request, Density<> saturation) : request_(request), saturation_(saturation) {}

  Density<> rest(Frequency<> k) const { return rest_of(request_.readings[0].oxygen, request_.readings[1].oxygen, k); }

  /// Readings after the second weigh each guess by how well it meets them.
  std::vector<Draw> draws(const std::vector<std::vector<double>>& rows) const {
    const double sd = request_.kit_sd.si();
    std::vector<Draw> all;
    for (std::size_t i = 0; i < rows.size(); ++i) {
      const std::vector<double>& z = rows[i];
      const Frequency<> k(request_.reaeration->si() * std::exp(request_.reaeration_log_sd * z[0]));
      const Density<> first(std::max(0.0, request_.readings[0].oxygen.si() + sd * z[1]));
      const Density<> second(std::max(0.0, request_.readings[1].oxygen.si() + sd * z[2]));
      const Density<> rest = rest_of(first, second, k);
      Draw d{science::night_oxygen(second, rest, hours(request_.dawn_hour - request_.readings[1].hour), k).si(), 1.0,
             i};
      for (std::size_t r = 2; r < request_.readings.size(); ++r) {
        const double miss =
            (request_.readings[r].oxygen - science::night_oxygen(second, rest, hours(gap(r)), k)).si() / sd;
        d.weight *= std::exp(-0.5 * miss * miss);
      }
      all.push_back(d);
    }
    std::sort(all.begin(), all.end(), [](const Draw& a, const Draw& b) { return a.dawn < b.dawn; });
    return all;
  }
};

/// What dawn owes most to, from up to 2000 draws taken evenly by their weight.
void take_owed(const std::vector<std::vector<double>>& rows, const std::vector<Draw>& draws,
               const NightRequest& request, NightAnswer& a) {
  const std::vector<Prior> priors = priors_of_readings();
  const std::size_t count = std::min<std::size_t>(2000, draws.size());
  const double all =
      std::accumulate(draws.begin(), draws.end(), 0.0, [](double s, const Draw& d) { return s + d.weight; });
  std::vector<std::vector<double>> taken;
  std::vector<double> dawns;
  double sum = 0.0;
  for (const Draw& d : draws) {
    sum += d.weight;
    while (taken.size() < count &&
           (static_cast<double>(taken.size()) + 0.5) * all <= sum * static_cast<double>(count)) {
      taken.push_back(rows[d.row]);
      dawns.push_back(d.dawn / 31.998e-3);
    }
  }
  constexpr double kOne = 2e-6, kBudget = 0.2;
  a.how = how_drawn(priors, request.draws, 0, request.seed, {request.draws, kOne * request.draws, kBudget});
  a.how.uncertainty = 1.0 / std::sqrt(std::max(1.0, static_cast<double>(taken.size()) - 1.0));
  a.owed.push_back(
      {"oxygen at dawn", "dissolved_oxygen", spread_of(dawns), owed_most(priors, taken, dawns, request.seed)});
}

void take_band(const NightRequest& request, const std::vector<Draw>& draws, NightAnswer& a) {
  const double all =
      std::accumulate(draws.begin(), draws.end(), 0.0, [](double s, const Draw& d) { return s + d.weight; });
  const auto at_share = [&](double share) {
    double sum = 0.0;
    for (const Draw& d : draws)
      if ((sum += d.weight) >= share * all) return Density<>(d.dawn);
    return Density<>(draws.back().dawn);
  };
  a.dawn_low = at_share(0.05);
  a.dawn_high = at_share(0.95);
  if (request.readings.size() > 2) a.dawn = at_share(0.5);
  for (const Draw& d : draws) {
    if (d.dawn < request.low.si()) a.chance_low += d.weight / all;
    if (d.dawn < request.deadly.si()) a.chance_deadly += d.weight / all;
  }
}

/// No draws were asked for: no band, and nothing but yes or no.
void take_middle_alone(const NightRequest& request, NightAnswer& a) {
  a.dawn_low = a.dawn_high = a.dawn;
  a.chance_low = a.dawn < request.low ? 1.0 : 0.0;
  a.chance_deadly = a.dawn < request.deadly ? 1.0 : 0.0;
}

double fish_demand(const Loop& loop, Temperature<> water) {
  double kg_per_second = 0.0;
  for (const FishGroup& g : loop.fish)
    kg_per_second +=
        g.count * g.mass.si() * science::oxygen_uptake_liao_blended(water, g.mass, science::liao_trout).si();
  return kg_per_second / std::max(1e-6, water_in(loop, levels_at_rest(loop)).si());
}

void take_ammonia(const NightRequest& request, NightAnswer& a) {
  if (!request.pH) return;
  a.ammonia_share = science::unionised_ammonia_fraction(request.temperature, Number<>(*request.pH)).si();
  if (request.ammonia) a.unionised_ammonia = *a.ammonia_share * *request.ammonia;
}

void advise(const NightRequest& request, NightAnswer& a) {
  if (a.verdict == Verdict::cannot_tell) {
    a.advice.push_back("read again in two hours, and once more late in the evening");
  } else if (a.verdict == Verdict::good) {
    a.advice.push_back("nothing needs doing tonight; read once more late in the evening, it narrows the band");
  } else {
    if (a.passes_low_at)
      a.advice.push_back(fmt::format("it falls through {:.0f} mg/L at about {}: look then, not at dawn",
                                     1e3 * request.low.si(), clock(*a.passes_low_at)));
    a.advice.push_back(
        a.by_reaeration
            ? fmt::format("air on now: twice the reaeration lifts dawn to {:.1f} mg/L", 1e3 * a.with_air.si())
            : "air on now; how far it lifts dawn is not known without the reaeration, --reaeration");
    a.advice.push_back("no feed tonight or tomorrow morning");
    if (request.readings.size() < 3) a.advice.push_back("one more reading in two hours narrows the band");
    a.advice.push_back("no algicide, and no large refill of water that has not been dechlorinated");
  }
  if (a.unionised_ammonia && *a.unionised_ammonia > Density<>(0.0125e-3))
    a.advice.push_back(
        fmt::format("un-ionised ammonia stood at {:.2g} mg/L in the afternoon, a danger by itself: no feed, "
                    "and shade the water to keep pH down",
                    1e3 * a.unionised_ammonia->si()));
  if (a.gas_pressure > 1.03)
    a.advice.push_back(
        fmt::format("dusk oxygen adds {:.0f} % to all dissolved gas: {:.0f} % of the air's pressure, trout "
                    "suffer over weeks above 103 to 105",
                    100.0 * (a.gas_pressure - 1.0), 100.0 * a.gas_pressure));
}

}  // namespace

NightAnswer night(const Loop& loop, const NightRequest& request) {
  NightAnswer a;
  const Pressure<> air = science::air_pressure_standard_atmosphere(loop.site.place.altitude);
  a.saturation = science::oxygen_saturation_mass(request.temperature, air);
  a.dawn_hour = request.dawn_hour;
  const OxygenReading &first = request.readings[0], &second = request.readings[1], &last = request.readings.back();
  const double between = second.hour - first.hour, to_dawn = request.dawn_hour - second.hour;
  a.log_line = science::night_oxygen_log_line(first.oxygen, second.oxygen, hours(between), hours(to_dawn));
  a.fish_demand = fish_demand(loop, request.temperature);
  a.by_reaeration = request.reaeration.has_value();
  take_ammonia(request, a);
  a.gas_pressure =
      science::total_gas_pressure(Number<>((first.oxygen / a.saturation).si()), Number<>(1.0), request.temperature, air)
          .si();
  if (!a.by_reaeration) {
    const bool falls = second.oxygen < first.oxygen;
    a.dawn = a.dawn_low = a.dawn_high = a.with_air = falls ? a.log_line : second.oxygen;
    a.assumed.push_back(
        falls ? "no reaeration is known, so the line through the logarithms of the readings was taken: it "
                "has no floor, and says too little where air comes in"
              : "oxygen did not fall between the readings, so no night can be drawn from them: it was "
                "taken to stay where it is; read once more in two hours");
    a.verdict = a.dawn < request.low ? Verdict::bad : a.dawn < 1.3 * request.low ? Verdict::tight : Verdict::good;
    if (!falls && a.verdict == Verdict::good) a.verdict = Verdict::cannot_tell;
    advise(request, a);
    return a;
  }
  const Sampling sampling(request, a.saturation);
  const Frequency<> k = *request.reaeration;
  a.equilibrium = sampling.rest(k);
  a.demand = science::night_demand(a.saturation, a.equilibrium, k);
  a.dawn = science::night_oxygen(second.oxygen, a.equilibrium, hours(to_dawn), k);
  if (request.draws > 0) {
    const auto rows =
        stratified_draws(static_cast<std::size_t>(request.draws), priors_of_readings().size(), request.seed);
    const std::vector<Draw> draws = sampling.draws(rows);
    take_band(request, draws, a);
    take_owed(rows, draws, request, a);
  } else {
    take_middle_alone(request, a);
  }
  const Density<> airy(a.saturation.si() - a.demand / (2.0 * k.si()));
  a.with_air = science::night_oxygen(last.oxygen, airy, hours(request.dawn_hour - last.hour), 2.0 * k);
  if (second.oxygen > request.low && a.equilibrium < request.low) {
    const double ratio = ((second.oxygen - a.equilibrium) / (request.low - a.equilibrium)).si();
    const double hour = second.hour + std::log(ratio) / k.si() / 3600.0;
    if (hour < request.dawn_hour) a.passes_low_at = hour;
  }
  a.verdict = a.chance_low > 0.5 || a.chance_deadly > 0.1 ? Verdict::bad
              : a.chance_low > 0.1                        ? Verdict::tight
                                                          : Verdict::good;
  advise(request, a);
  return a;
}

}  // namespace leat::answers
