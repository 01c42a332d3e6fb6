#include "answers/check_study.h"

#include <fmt/core.h>

#include <algorithm>

namespace leat::answers {

using namespace model;

const FaultRun* CheckStudy::worst(Fault::Kind kind, const std::function<double(const FaultRun&)>& badness) const {
  const FaultRun* worst = nullptr;
  for (const FaultRun& run : faults)
    if (run.fault.kind == kind && (!worst || badness(run) > badness(*worst))) worst = &run;
  return worst;
}

Loop fouled_loop(const Loop& loop, double times) {
  Loop fouled = loop;
  const auto foul = [&](PipeRun& run) {
    run.length = times * run.length;
    run.minor_losses = times * run.minor_losses;
  };
  for (Pipe& pipe : fouled.pipes) foul(pipe.run);
  for (Overflow& o : fouled.overflows)
    if (o.back) foul(*o.back);
  for (Siphon& s : fouled.siphons) foul(s.run);
  for (SequencingValve& v : fouled.valves) v.loss *= times;
  // A gravity return keeps its slope: only its roughness and fittings tell.
  for (GravityReturn& r : fouled.returns) r.run.minor_losses = times * r.run.minor_losses;
  return fouled;
}

double share_kept(const Loop& loop, const FaultRun& run, std::size_t v) {
  const Length<> floor = loop.vessels[v].floor, before = run.before[v] - floor;
  return before.si() < 1e-3 ? 1.0 : std::clamp(((run.after[v] - floor) / before).si(), 0.0, 1.0);
}

std::string after_text(Duration<> time) {
  const double s = time.si();
  if (s < 1.0) return "at once";
  if (s < 90.0) return fmt::format("after {:.0f} s", s);
  if (s < 5400.0) return fmt::format("after {:.0f} min", s / 60.0);
  return fmt::format("after {:.1f} h", s / 3600.0);
}

}  // namespace leat::answers
