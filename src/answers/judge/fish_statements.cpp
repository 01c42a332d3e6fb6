// What the flow brings the fish.
#include <fmt/core.h>

#include <algorithm>

#include "answers/drawdown.h"
#include "answers/judge/plumbing_statements.h"
#include "base/words/quantities.h"
#include "science/fish/oxygen_drawdown.h"
#include "science/gas/aeration.h"
#include "science/water/pressure.h"

namespace leat::answers {
namespace {

using namespace model;
using words::shown_text;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// Oxygen of a mixed tank whose fish have just been fed, from its flow and its air lines; its own surface left out.
///
///   O = (Q 0.95 S + E S - R) / (Q + E)
void flow_brings_enough_oxygen(const CheckStudy& study, CheckAnswer& a) {
  const Temperature<> warm =
      study.loop.water.temperature_said ? study.loop.water.temperature : study.loop.limits.temperature_high;
  const double saturation =
      science::oxygen_saturation(warm, science::air_pressure_standard_atmosphere(study.loop.site.place.altitude)).si();
  for (std::size_t v = 0; v < study.loop.vessels.size(); ++v) {
    const double demand =
        science::DemandFactors{}.fed * fish_demand(study.loop, v, warm).rate.si() / 0.031998;  // mol/s
    double blown = 0.0;                                                                        // m3/s
    if (demand <= 0.0) continue;
    for (const AirLine& air : study.loop.airs)
      if (at(air.vessel) == v)
        blown += science::exchange_flow_of_air_stone(air.flow,
                                                     Number<>(std::min(1.0, air.transfer_per_metre * air.depth.si())))
                     .si();
    const double flow = a.vessels[v].through.si();
    const double oxygen =
        flow + blown > 0.0 ? (flow * 0.95 * saturation + blown * saturation - demand) / (flow + blown) : 0.0;
    Finding f{"flow_brings_enough_oxygen",
              study.loop.vessels[v].path,
              "dissolved_oxygen",
              std::max(oxygen, 0.0),
              study.loop.limits.oxygen_low.si(),
              true,
              {},
              {},
              {},
              "uptake by the law of the species (trout: Liao 1971) times 1.4 after a meal; water comes in at 95 % of "
              "saturation, the tank's own surface left out"};
    f.verdict = f.margin() < 0.0 ? Verdict::bad : f.margin() < 0.1 * f.limit ? Verdict::tight : Verdict::good;
    f.reason = fmt::format(
        "at {:.0f} degC, just fed, its fish leave {} of what {} of water{} bring; what beds take of it before is not "
        "counted here: leat ahead does",
        warm.celsius(), shown_text("dissolved_oxygen", f.value), shown_text("flow", flow),
        blown > 0.0 ? " and its air" : "");
    if (f.verdict != Verdict::good) {
      const double spare = 0.95 * saturation - f.limit;
      const double wanted = (demand - blown * (saturation - f.limit)) / spare;
      f.action = spare > 0.0 && wanted > 0.0
                     ? fmt::format("it needs {}, or air, or fewer fish", shown_text("flow", wanted))
                     : std::string("air, fewer fish, or cooler water");
    }
    a.findings.push_back(f);
  }
}

}  // namespace

void judge_fish(const CheckStudy& study, CheckAnswer& a) {
  flow_brings_enough_oxygen(study, a);
}

}  // namespace leat::answers
