#include "answers/starter_pump.h"

#include <fmt/core.h>

#include "answers/check.h"
#include "base/units/parse.h"

namespace leat::answers {
namespace {

constexpr double kLitresAnHour = 1e-3 / 3600.0;

/// What arrives at the tank, L/h.
double arrives(const model::Loop& loop) {
  for (const PipeState& pipe : check(loop).pipes)
    if (pipe.path == "pipe.tank") return pipe.flow.si() / kLitresAnHour;
  return 0.0;
}

/// A flow, or what a bucket held and how long it took: "10 L in 25 s".
std::variant<Measured, Unreadable> read_bucket(const std::string& text) {
  const std::size_t in = text.find(" in ");
  if (in == std::string::npos) return read_measured(text);
  const auto held = read_measured(std::string_view(text).substr(0, in));
  const auto took = read_measured(std::string_view(text).substr(in + 4));
  for (const auto* part : {&held, &took})
    if (std::holds_alternative<Unreadable>(*part)) return *part;
  Measured flow = std::get<Measured>(held);
  const Measured& time = std::get<Measured>(took);
  if (!(flow.dimension == dim::volume) || !(time.dimension == dim::time) || !(time.si > 0.0))
    return Unreadable{"is no bucket and time"};
  flow.dimension = dim::flow;
  flow.si /= time.si;
  return flow;
}

}  // namespace

PumpFound pump_that_brings(const std::string& flow, const std::function<model::Loop(const std::string&)>& loop_with) {
  const auto read = read_bucket(flow);
  if (const auto* bad = std::get_if<Unreadable>(&read))
    return {"", fmt::format("\"{}\" {}; write for example \"1200 L/h\" or \"10 L in 30 s\"", flow, bad->wrong)};
  const Measured& m = std::get<Measured>(read);
  const double wanted = m.si / kLitresAnHour;
  if (!(m.dimension == dim::flow) || wanted < 50.0 || wanted > 40'000.0)
    return {"", fmt::format("\"{}\" is no flow of a pump; write for example \"1200 L/h\" or \"10 L in 30 s\"", flow)};
  // What arrives grows with the pump: halve the span between too small and too large.
  double small = wanted, large = 6.0 * wanted + 4000.0;
  for (int i = 0; i < 9; ++i) {
    const double middle = 0.5 * (small + large);
    (arrives(loop_with(fmt::format("{:.0f} L/h", middle))) < wanted ? small : large) = middle;
  }
  const std::string largest = fmt::format("{:.0f} L/h", 0.5 * (small + large));
  const double met = arrives(loop_with(largest));
  if (met < 0.9 * wanted || met > 1.1 * wanted)
    return {"",
            fmt::format("no common pump brings \"{}\" through pipes of these sizes; measure once more, or leave it out",
                        flow)};
  return {largest, ""};
}

}  // namespace leat::answers
