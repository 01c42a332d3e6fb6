// The rates themselves, generic in the number type.
#include <algorithm>

#include "model/equations/equations.h"
#include "model/processes/nitrification.h"
#include "numerics/trace.h"
#include "science/fish/ramp.h"

namespace leat::model {
namespace {

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

}  // namespace

template <class N>
Scratch<N> Equations::scratch() const {
  return {std::vector<BodyState<N>>(bodies_.size()), std::vector<GasEquilibrium<N>>(bodies_.size()),
          std::vector<N>(bodies_.size())};
}

template <class N>
bool Equations::rates(Instant t, std::span<const N> y, std::span<const double> pH_guess, Scratch<N>& work,
                      std::span<N> dydt) const {
  const Surroundings s = forcing_.at(t);
  Posting<N> post(dydt);
  for (std::size_t b = 0; b < bodies_.size(); ++b) {
    if (!(plain(y[at(layout_.bodies[b].water)]) > 0.0)) return false;
    work.bodies[b] = body_state<N>(y, layout_.bodies[b], bodies_[b].constants, pH_guess[b]);
    const double kelvin = plain(work.bodies[b].temperature.kelvin());
    if (!(kelvin > 233.0 && kelvin < 373.0)) return false;
    work.air[b] = gas_equilibrium(work.bodies[b].temperature, forcing_.pressure);
    work.gains[b] = N(0.0);
  }
  post_surfaces(s, y, work, post);
  for (std::size_t g = 0; g < fish_.size(); ++g) {
    const std::size_t b = at(loop_.fish[g].vessel);
    post_fish(fish_[g], work.bodies[b], y, layout_.fish[g], layout_.bodies[b], layout_.outside, post);
  }
  post_sources(work, post);
  post_spills(work, post);
  post_flows(work, post);
  return true;
}

/// What passes between each body and the air, its film, its plants.
template <class N>
void Equations::post_surfaces(const Surroundings& s, std::span<const N> y, Scratch<N>& work, Posting<N>& post) const {
  const Accounts& out = layout_.outside;
  for (std::size_t b = 0; b < bodies_.size(); ++b) {
    const BodyPlan& plan = bodies_[b];
    const BodySlots& slots = layout_.bodies[b];
    const BodyState<N>& body = work.bodies[b];
    const auto lost =
        post_heat(plan.heat, body, s, forcing_.pressure, s.ground, y, slots, layout_.stores[b], out, plan.canopy, post);
    const N evaporated = lost.evaporation.si();
    const N sensible = water_heat.si() * body.temperature.celsius();
    post.move(slots.water, out.air_water, evaporated);
    post.move(slots.heat, out.evaporation, N(evaporated * sensible));
    const double rain = s.rain.si() * plan.catches_rain.si();
    post.move(out.rain_water, slots.water, N(rain));
    post.move(out.rain_heat, slots.heat, N(rain * water_heat.si() * s.air.celsius()));
    post.move(out.pump_heat, slots.heat, N(plan.pump_heat.si()));
    post_gas(plan.gas, body, work.air[b], s, slots, out, post);
    post_nitrification(plan.film, body, slots, out, post);
    work.gains[b] = work.gains[b] - evaporated + rain;
  }
  for (std::size_t c = 0; c < crops_.size(); ++c) {
    const std::size_t b = at(loop_.plantings[c].vessel);
    const N drawn = post_crop(crops_[c], work.bodies[b], s, y, layout_.plants[c], layout_.bodies[b], post).si();
    post.move(layout_.bodies[b].water, out.plant_water, drawn);
    post.move(layout_.bodies[b].heat, out.drawn_heat,
              N(drawn * water_heat.si() * work.bodies[b].temperature.celsius()));
    work.gains[b] = work.gains[b] - drawn;
  }
}

/// A float valve lets in what is missing, within ten minutes; it is a ramp, so that it opens without a jump.
template <class N>
void Equations::post_sources(Scratch<N>& work, Posting<N>& post) const {
  const Accounts& out = layout_.outside;
  for (const SourcePlan& s : sources_) {
    const BodySlots& slots = layout_.bodies[at(s.body)];
    const N missing = bodies_[at(s.body)].usual_water.si() - work.bodies[at(s.body)].water.si();
    const N q = science::rounded_ramp(missing, 1e-3) / 600.0;
    post.move(out.source_water, slots.water, q);
    post.move(out.source_heat, slots.heat, N(q * water_heat.si() * s.temperature.celsius()));
    post.move(out.carried_oxygen, slots.oxygen, N(q * s.oxygen.si()));
    post.move(out.carried_carbon, slots.carbon, N(q * s.carbon.si()));
    post.move(out.carried_nitrogen, slots.ammonia, N(q * s.ammonia.si()));
    post.move(out.carried_nitrogen, slots.nitrite, N(q * s.nitrite.si()));
    post.move(out.carried_nitrogen, slots.nitrate, N(q * s.nitrate.si()));
    post.move(out.carried_ions, slots.strong_ions, N(q * s.strong_ions.si()));
    work.gains[at(s.body)] = work.gains[at(s.body)] + q;
  }
}

/// Water above a brim runs off to the ground within a minute, with all that is in it.
template <class N>
void Equations::post_spills(Scratch<N>& work, Posting<N>& post) const {
  const Accounts& out = layout_.outside;
  for (std::size_t b = 0; b < bodies_.size(); ++b) {
    const BodySlots& slots = layout_.bodies[b];
    const BodyState<N>& body = work.bodies[b];
    const N q = science::rounded_ramp(N(body.water.si() - bodies_[b].capacity.si()), 1e-3) / 60.0;
    post.move(slots.water, out.spilt_water, q);
    post.move(slots.heat, out.spilt_heat, N(q * water_heat.si() * body.temperature.celsius()));
    post.move(slots.oxygen, out.carried_oxygen, N(q * body.oxygen.si()));
    post.move(slots.carbon, out.carried_carbon, N(q * body.carbon.si()));
    post.move(slots.ammonia, out.carried_nitrogen, N(q * body.ammonia.si()));
    post.move(slots.nitrite, out.carried_nitrogen, N(q * body.nitrite.si()));
    post.move(slots.nitrate, out.carried_nitrogen, N(q * body.nitrate.si()));
    post.move(slots.strong_ions, out.carried_ions, N(q * body.strong_ions.si()));
    work.gains[b] = work.gains[b] - q;
  }
}

/// Pumped flows are as they are; an overflow passes on whatever its vessel gains, so that its level stays.
template <class N>
void Equations::post_flows(Scratch<N>& work, Posting<N>& post) const {
  for (const FlowPath& p : paths_)
    if (!p.by_overflow) {
      work.gains[at(p.to)] = work.gains[at(p.to)] + p.flow.si();
      work.gains[at(p.from)] = work.gains[at(p.from)] - p.flow.si();
      carry(p, N(p.flow.si()), work, post);
    }
  for (std::size_t i = 0; i < paths_.size(); ++i) {
    const FlowPath& p = paths_[i];
    if (!p.by_overflow) continue;
    const N q = work.gains[at(p.from)] * overflow_share_[i];
    work.gains[at(p.to)] = work.gains[at(p.to)] + q;
    carry(p, q, work, post);
  }
}

template <class N>
void Equations::carry(const FlowPath& path, const N& flow, const Scratch<N>& work, Posting<N>& post) const {
  const BodySlots &a = layout_.bodies[at(path.from)], &b = layout_.bodies[at(path.to)];
  const BodyState<N>& from = work.bodies[at(path.from)];
  post.move(a.water, b.water, flow);
  post.move(a.heat, b.heat, N(flow * water_heat.si() * from.temperature.celsius()));
  post.move(a.oxygen, b.oxygen, N(flow * from.oxygen.si()));
  post.move(a.carbon, b.carbon, N(flow * from.carbon.si()));
  post.move(a.ammonia, b.ammonia, N(flow * from.ammonia.si()));
  post.move(a.nitrite, b.nitrite, N(flow * from.nitrite.si()));
  post.move(a.nitrate, b.nitrate, N(flow * from.nitrate.si()));
  post.move(a.strong_ions, b.strong_ions, N(flow * from.strong_ions.si()));
  post_fall(Flow<N>(flow), path.fall, from, work.air[at(path.from)], b, layout_.outside, post);
}

bool Equations::jacobian(Instant t, std::span<const double> y, std::span<const double> pH_guess,
                         Scratch<JacobianDual>& work, std::vector<JacobianDual>& room,
                         std::span<double> entries) const {
  const std::size_t n = layout_.size();
  room.resize(2 * n);
  const std::span<JacobianDual> state(room.data(), n), out(room.data() + n, n);
  std::fill(entries.begin(), entries.end(), 0.0);
  for (std::size_t first = 0; first < inner_; first += jacobian_width) {
    for (std::size_t i = 0; i < n; ++i)
      state[i] = i >= first && i < first + jacobian_width ? JacobianDual::seed(y[i], i - first) : JacobianDual(y[i]);
    if (!rates<JacobianDual>(t, state, pH_guess, work, out)) return false;
    for (std::size_t j = first; j < std::min(inner_, first + jacobian_width); ++j)
      for (int k = pattern_.starts[j]; k < pattern_.starts[j + 1]; ++k)
        entries[at(k)] = out[at(pattern_.rows[at(k)])].slope[j - first];
  }
  return true;
}

/// One run of the rates with numbers that remember what they depend on.
void Equations::trace_pattern() {
  const std::size_t n = layout_.size();
  inner_ = static_cast<std::size_t>(
      std::find_if(layout_.slots.begin(), layout_.slots.end(), [](const Slot& s) { return s.outside; }) -
      layout_.slots.begin());
  std::vector<double> start = initial_state();
  std::vector<Trace> state, out(n);
  for (std::size_t i = 0; i < n; ++i) state.push_back(i < inner_ ? Trace::input(start[i], i) : Trace(start[i]));
  auto work = scratch<Trace>();
  rates<Trace>(forcing_.start(), std::span<const Trace>(state), neutral_guesses(), work, std::span<Trace>(out));
  pattern_.starts.assign(1, 0);
  for (std::size_t j = 0; j < n; ++j) {
    for (std::size_t i = 0; i < n; ++i)
      if (i == j || out[i].inputs.test(j)) pattern_.rows.push_back(static_cast<int>(i));
    pattern_.starts.push_back(static_cast<int>(pattern_.rows.size()));
  }
}

template Scratch<double> Equations::scratch() const;
template Scratch<JacobianDual> Equations::scratch() const;
template bool Equations::rates(Instant, std::span<const double>, std::span<const double>, Scratch<double>&,
                               std::span<double>) const;

}  // namespace leat::model
