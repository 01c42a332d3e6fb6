// The rates themselves, generic in the number type.
#include <algorithm>

#include "model/equations/equations.h"
#include "model/processes/limestone.h"
#include "model/processes/nitrification.h"
#include "model/processes/rotting.h"
#include "numerics/column_groups.h"
#include "numerics/trace.h"
#include "science/fish/ramp.h"

namespace leat::model {
namespace {

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// Moves a flow of water with its heat and all that it carries: of a body's state, or of a source's.
template <class N, class Water>
void move_water(const N& flow, const Water& water, const BodyConstants& holds_back, const BodySlots& from,
                const BodySlots& to, Posting<N>& post) {
  post.move(from.water, to.water, flow);
  post.move(from.heat, to.heat, N(flow * water_heat.si() * water.temperature.celsius()));
  constexpr std::size_t particles = Contents<>::first_particle, algae = Contents<>::size - 1;
  for (std::size_t i = 0; i < Contents<>::size; ++i) {
    const double passes = i < particles ? 1.0 : i < algae ? holds_back.lets_solids_pass : holds_back.lets_algae_pass;
    post.move(from.carried + static_cast<int>(i), to.carried + static_cast<int>(i),
              N(passes * flow * (water.*Water::members[i]).si()));
  }
}

/// The outside as a body: where water that comes in or goes out stands in the books.
BodySlots outside_body(const Accounts& out, int water, int heat) {
  return {water, heat, out.carried, -1, -1};
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
  Posting<N> post(dydt, inner_, layout_.size());
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
    post.by_body(b);
    post_fish(fish_[g], work.bodies[b], y, layout_.fish[g], layout_.bodies[b], layout_.outside, post);
  }
  post_sources(work, post);
  post_spills(work, post);
  post_flows(work, post);
  return true;
}

/// Share of a body's surfaces that its water reaches: all of them down to three tenths of what it can hold.
template <class N>
N Equations::wetted(const BodyPlan& plan, const BodyState<N>& body) {
  return science::rounded_smaller_of(N(body.water.si() / (0.3 * plan.capacity.si())), N(1.0), 0.05);
}

/// What passes between each body and the air, its film, its plants.
template <class N>
void Equations::post_surfaces(const Surroundings& s, std::span<const N> y, Scratch<N>& work, Posting<N>& post) const {
  const Accounts& out = layout_.outside;
  for (std::size_t b = 0; b < bodies_.size(); ++b) {
    const BodyPlan& plan = bodies_[b];
    const BodySlots& slots = layout_.bodies[b];
    const BodyState<N>& body = work.bodies[b];
    post.by_body(b);
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
    const N blown_off = post_air_lines(plan.air_lines, body, s, forcing_.pressure, slots, out, post).si();
    post_gas(plan.gas, body, work.air[b], s, slots, out, post);
    const N wet = wetted(plan, body);
    post_nitrification(Area<N>(plan.film.si() * wet), body, y, slots, out, post);
    post_rotting(Area<N>(plan.gravel.si() * wet), plan.sludge, body, slots, out, post);
    post_algae(plan.light, body, s, slots, out, post);
    post_limestone(plan.limestone, body, slots, out, post);
    work.gains[b] = work.gains[b] - evaporated - blown_off + rain;
  }
  for (std::size_t c = 0; c < crops_.size(); ++c) {
    const std::size_t b = at(loop_.plantings[c].vessel);
    post.by_body(b);
    const N drawn = post_crop(crops_[c], work.bodies[b], wetted(bodies_[b], work.bodies[b]), s, y, layout_.plants[c],
                              layout_.bodies[b], out, post)
                        .si();
    post.move(layout_.bodies[b].water, out.plant_water, drawn);
    post.move(layout_.bodies[b].heat, out.drawn_heat,
              N(drawn * water_heat.si() * work.bodies[b].temperature.celsius()));
    work.gains[b] = work.gains[b] - drawn;
  }
}

/// A float valve lets in what is missing, within ten minutes; it is a ramp, so that it opens without a jump.
template <class N>
void Equations::post_sources(Scratch<N>& work, Posting<N>& post) const {
  const BodySlots source = outside_body(layout_.outside, layout_.outside.source_water, layout_.outside.source_heat);
  for (const SourcePlan& s : sources_) {
    post.by_body(at(s.body));
    const N missing = bodies_[at(s.body)].usual_water.si() - work.bodies[at(s.body)].water.si();
    const N q = science::rounded_ramp(missing, 1e-3) / 600.0;
    move_water(q, s, BodyConstants{}, source, layout_.bodies[at(s.body)], post);
    work.gains[at(s.body)] = work.gains[at(s.body)] + q;
  }
}

/// Water above a brim runs off to the ground within a minute, with all that is in it.
template <class N>
void Equations::post_spills(Scratch<N>& work, Posting<N>& post) const {
  const BodySlots ground = outside_body(layout_.outside, layout_.outside.spilt_water, layout_.outside.spilt_heat);
  for (std::size_t b = 0; b < bodies_.size(); ++b) {
    post.by_body(b);
    const N q = science::rounded_ramp(N(work.bodies[b].water.si() - bodies_[b].capacity.si()), 1e-3) / 60.0;
    move_water(q, work.bodies[b], bodies_[b].constants, layout_.bodies[b], ground, post);
    work.gains[b] = work.gains[b] - q;
  }
}

/// Pumped flows are as they are; an overflow passes on whatever its vessel gains, and what stands above its usual level
/// within ten minutes. What evaporates with nothing coming in only lowers the water.
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
    const BodyPlan& from = bodies_[at(p.from)];
    const N above = (work.bodies[at(p.from)].water.si() - from.usual_water.si()) / 600.0;
    const double corner = 1e-3 * from.overflowing.si();  // m3/s, over which the flow begins
    const N q = science::rounded_ramp(N(work.gains[at(p.from)] + above), corner) * overflow_share_[i];
    work.gains[at(p.to)] = work.gains[at(p.to)] + q;
    carry(p, q, work, post);
  }
}

template <class N>
void Equations::carry(const FlowPath& path, const N& flow, const Scratch<N>& work, Posting<N>& post) const {
  const BodySlots &a = layout_.bodies[at(path.from)], &b = layout_.bodies[at(path.to)];
  const BodyState<N>& from = work.bodies[at(path.from)];
  post.by_body(at(path.from));
  move_water(flow, from, bodies_[at(path.from)].constants, a, b, post);
  post_fall(Flow<N>(flow), path.fall, from, work.air[at(path.from)], b, layout_.outside, post);
}

bool Equations::jacobian(Instant t, std::span<const double> y, std::span<const double> pH_guess,
                         Scratch<JacobianDual>& work, std::vector<JacobianDual>& room,
                         std::span<double> entries) const {
  const std::size_t n = layout_.size();
  room.resize(n + size_apart());
  const std::span<JacobianDual> state(room.data(), n), out(room.data() + n, size_apart());
  std::fill(entries.begin(), entries.end(), 0.0);
  for (std::size_t first = 0; first < groups_.size(); first += jacobian_width) {
    const std::size_t lanes = std::min(jacobian_width, groups_.size() - first);
    for (std::size_t i = 0; i < n; ++i) state[i] = JacobianDual(y[i]);
    for (std::size_t lane = 0; lane < lanes; ++lane)
      for (const int j : groups_[first + lane]) state[at(j)] = JacobianDual::seed(y[at(j)], lane);
    if (!rates<JacobianDual>(t, state, pH_guess, work, out)) return false;
    for (std::size_t lane = 0; lane < lanes; ++lane)
      for (const int j : groups_[first + lane])
        for (int k = apart_.starts[at(j)]; k < apart_.starts[at(j) + 1]; ++k)
          entries[at(entry_of_[at(k)])] += out[at(apart_.rows[at(k)])].slope[lane];
  }
  return true;
}

/// One run of the rates with numbers that remember what they depend on. Each body's accounts are kept apart in it: on
/// an account of all bodies together nearly every slot bears, and no two columns could be found at once.
void Equations::trace_pattern() {
  const std::size_t n = layout_.size();
  std::vector<double> start = initial_state();
  std::vector<Trace> state, out(size_apart());
  for (std::size_t i = 0; i < n; ++i) state.push_back(i < inner_ ? Trace::input(start[i], i) : Trace(start[i]));
  auto work = scratch<Trace>();
  rates<Trace>(forcing_.start(), std::span<const Trace>(state), neutral_guesses(), work, std::span<Trace>(out));
  apart_.starts.assign(1, 0);
  pattern_.starts.assign(1, 0);
  for (std::size_t j = 0; j < n; ++j) {
    std::vector<int> entry(n, -1);
    entry[j] = 0;
    for (std::size_t i = 0; i < out.size(); ++i)
      if (out[i].inputs.test(j)) apart_.rows.push_back(static_cast<int>(i)), entry[row_together(i)] = 0;
    for (std::size_t i = 0; i < n; ++i)
      if (entry[i] == 0) {
        entry[i] = static_cast<int>(pattern_.rows.size());
        pattern_.rows.push_back(static_cast<int>(i));
      }
    for (std::size_t k = at(apart_.starts.back()); k < apart_.rows.size(); ++k)
      entry_of_.push_back(entry[row_together(at(apart_.rows[k]))]);
    apart_.starts.push_back(static_cast<int>(apart_.rows.size()));
    pattern_.starts.push_back(static_cast<int>(pattern_.rows.size()));
  }
  groups_ = numerics::group_columns(apart_, inner_);
}

template Scratch<double> Equations::scratch() const;
template Scratch<JacobianDual> Equations::scratch() const;
template bool Equations::rates(Instant, std::span<const double>, std::span<const double>, Scratch<double>&,
                               std::span<double>) const;

}  // namespace leat::model
