// The rates themselves, generic in the number type: to be included where they are made for one.
#pragma once

#include "model/equations/cycle_map.h"
#include "model/equations/equations.h"
#include "model/processes/limestone.h"
#include "model/processes/nitrification.h"
#include "model/processes/rotting.h"
#include "science/fish/ramp.h"

namespace leat::model {
namespace rates_detail {

inline std::size_t at(int i) {
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
inline BodySlots outside_body(const Accounts& out, int water, int heat) {
  return {water, heat, out.carried, -1, -1};
}

}  // namespace rates_detail

template <class N>
Scratch<N> Equations::scratch() const {
  return {std::vector<BodyState<N>>(plan_.bodies.size()), std::vector<GasEquilibrium<N>>(plan_.bodies.size()),
          std::vector<N>(plan_.bodies.size())};
}

template <class N>
bool Equations::rates_under(const Surroundings<Plain<N>>& s, const Plan<Plain<N>>& plan, std::span<const N> y,
                            std::span<const Plain<N>> pH_guess, Scratch<N>& work, std::span<N> dydt) const {
  using rates_detail::at;
  Posting<N> post(dydt, inner_, layout_.size());
  for (std::size_t b = 0; b < plan_.bodies.size(); ++b) {
    if (!(smallest(plain(y[at(layout_.bodies[b].water)])) > 0.0)) return false;
    work.bodies[b] = body_state<N>(y, layout_.bodies[b], plan.bodies[b].constants, pH_guess[b]);
    const Plain<N> kelvin = plain(work.bodies[b].temperature.kelvin());
    if (!(smallest(kelvin) > 233.0 && largest(kelvin) < 373.0)) return false;
    work.air[b] = gas_equilibrium(work.bodies[b].temperature, forcing_.pressure);
    work.gains[b] = N(0.0);
  }
  for (const Term& term : terms_) post_term(term, s, plan, y, work, post);
  post_sources(plan, work, post);
  post_spills(plan, work, post);
  if (work.stretch) {
    post_stretch(plan, work, post);
    return true;
  }
  if constexpr (std::same_as<N, double>)
    if (work.map) work.before_flows.assign(dydt.begin(), dydt.end());
  post_flows(plan, work, post);
  if constexpr (std::same_as<N, double>)
    if (work.map) work.map->take(work.bodies, work.before_flows, dydt);
  return true;
}

/// Share of a body's surfaces that its water reaches: all of them down to three tenths of what it can hold.
template <class N>
N Equations::wetted(const BodyPlan<Plain<N>>& plan, const BodyState<N>& body) {
  return science::rounded_smaller_of(N(body.water.si() / (0.3 * plan.capacity.si())), N(1.0), 0.05);
}

template <Process which, class N>
void Equations::post_one(const Term& term, const Surroundings<Plain<N>>& s, const Plan<Plain<N>>& all,
                         std::span<const N> y, Scratch<N>& work, Posting<N>& post) const {
  using rates_detail::at;
  const std::size_t b = term.body;
  const BodyPlan<Plain<N>>& plan = all.bodies[b];
  const BodySlots& slots = layout_.bodies[b];
  const BodyState<N>& body = work.bodies[b];
  const Accounts& out = layout_.outside;
  const auto loses = [&](const N& water) { work.gains[b] = work.gains[b] - water; };
  post.by_body(b);
  if constexpr (which == Process::surface) {
    const N evaporated =
        post_heat(plan.heat, body, s, forcing_.pressure, y, slots, layout_.stores[b], out, plan.canopy, post)
            .evaporation.si();
    post.move(slots.water, out.air_water, evaporated);
    post.move(slots.heat, out.evaporation, N(evaporated * water_heat.si() * body.temperature.celsius()));
    loses(evaporated);
  } else if constexpr (which == Process::soil) {
    post_soil(plan.heat.soil, body, s.ground, y, slots, layout_.stores[b], out, post);
  } else if constexpr (which == Process::rain) {
    const Plain<N> rain = s.rain.si() * plan.catches_rain.si();
    post.move(out.rain_water, slots.water, N(rain));
    post.move(out.rain_heat, slots.heat, N(rain * water_heat.si() * s.air.celsius()));
    post.move(out.pump_heat, slots.heat, N(plan.pump_heat.si()));
    loses(N(-rain));
  } else if constexpr (which == Process::air_lines) {
    loses(post_air_lines(plan.air_lines, body, s, forcing_.pressure, slots, out, post).si());
  } else if constexpr (which == Process::gas) {
    post_gas(plan.gas, body, work.air[b], s, slots, out, post);
  } else if constexpr (which == Process::film) {
    post_nitrification(Area<N>(plan.film.si() * wetted<N>(plan, body)), body, y, slots, out, post);
  } else if constexpr (which == Process::rotting) {
    post_rotting(Area<N>(plan.gravel.si() * wetted<N>(plan, body)), plan.sludge, body, slots, out, post);
  } else if constexpr (which == Process::algae) {
    post_algae(plan.light, body, s, slots, out, post);
  } else if constexpr (which == Process::limestone) {
    post_limestone(plan.limestone, body, slots, out, post);
  } else if constexpr (which == Process::crop) {
    const N drawn =
        post_crop(crops_[term.index], body, wetted<N>(plan, body), s, y, layout_.plants[term.index], slots, out, post)
            .si();
    post.move(slots.water, out.plant_water, drawn);
    post.move(slots.heat, out.drawn_heat, N(drawn * water_heat.si() * body.temperature.celsius()));
    loses(drawn);
  } else if constexpr (which == Process::fish) {
    post_fish(all.fish[term.index], body, y, layout_.fish[term.index], slots, out, post);
  } else {
    const FlowPath& path = paths_[term.index];
    post_fall(Flow<N>(work.falling), path.fall, body, work.air[b], layout_.bodies[at(path.to)], out, post);
  }
}

template <class N>
void Equations::post_term(const Term& term, const Surroundings<Plain<N>>& s, const Plan<Plain<N>>& all,
                          std::span<const N> y, Scratch<N>& work, Posting<N>& post) const {
  with_process(term.process, [&]<Process which>() { post_one<which>(term, s, all, y, work, post); });
}

/// A float valve lets in what is missing, within ten minutes; it is a ramp, so that it opens without a jump.
template <class N>
N Equations::source_flow(Volume<> usual, const N& water) {
  return science::rounded_ramp(N(usual.si() - water), 1e-3) / 600.0;
}

/// Water above a brim runs off to the ground within a minute, with all that is in it.
template <class N>
N Equations::spill_flow(const BodyPlan<Plain<N>>& body, const N& water) {
  return science::rounded_ramp(N(water - body.capacity.si()), 1e-3) / 60.0;
}

/// A vessel passes on whatever it gains, and what stands above its usual level within ten minutes. What evaporates with
/// nothing coming in only lowers the water.
template <class N>
N Equations::overflow(const BodyPlan<Plain<N>>& body, const N& water, const N& gains) {
  const double corner = 1e-3 * body.overflowing.si();  // m3/s, over which the flow begins
  return science::rounded_ramp(N(gains + (water - body.usual_water.si()) / 600.0), corner);
}

template <class N>
void Equations::post_sources(const Plan<Plain<N>>& plan, Scratch<N>& work, Posting<N>& post) const {
  using rates_detail::at, rates_detail::move_water, rates_detail::outside_body;
  const BodySlots source = outside_body(layout_.outside, layout_.outside.source_water, layout_.outside.source_heat);
  for (const SourcePlan& s : sources_) {
    post.by_body(at(s.body));
    const Volume<> usual =
        work.stretch ? Volume<>(work.stretch->water[at(s.body)]) : plan.bodies[at(s.body)].usual_water;
    const N q = source_flow<N>(usual, work.bodies[at(s.body)].water.si());
    move_water(q, s, BodyConstants{}, source, layout_.bodies[at(s.body)], post);
    work.gains[at(s.body)] = work.gains[at(s.body)] + q;
  }
}

template <class N>
void Equations::post_spills(const Plan<Plain<N>>& plan, Scratch<N>& work, Posting<N>& post) const {
  using rates_detail::at, rates_detail::move_water, rates_detail::outside_body;
  const BodySlots ground = outside_body(layout_.outside, layout_.outside.spilt_water, layout_.outside.spilt_heat);
  for (std::size_t b = 0; b < plan_.bodies.size(); ++b) {
    post.by_body(b);
    const N q = spill_flow<N>(plan.bodies[b], work.bodies[b].water.si());
    move_water(q, work.bodies[b], plan.bodies[b].constants, layout_.bodies[b], ground, post);
    work.gains[b] = work.gains[b] - q;
  }
}

/// Pumped flows are as they are; what overflows goes on down the loop, so the order of the paths matters.
template <class N>
void Equations::post_flows(const Plan<Plain<N>>& plan, Scratch<N>& work, Posting<N>& post) const {
  using rates_detail::at, rates_detail::move_water, rates_detail::outside_body;
  for (const FlowPath& p : paths_)
    if (!p.by_overflow) {
      work.gains[at(p.to)] = work.gains[at(p.to)] + p.flow.si();
      work.gains[at(p.from)] = work.gains[at(p.from)] - p.flow.si();
      carry(p, plan.bodies[at(p.from)].constants, N(p.flow.si()), work, post);
    }
  for (std::size_t i = 0; i < paths_.size(); ++i) {
    const FlowPath& p = paths_[i];
    if (!p.by_overflow) continue;
    const BodyPlan<Plain<N>>& from = plan.bodies[at(p.from)];
    const N q = overflow<N>(from, work.bodies[at(p.from)].water.si(), work.gains[at(p.from)]) * overflow_share_[i];
    work.gains[at(p.to)] = work.gains[at(p.to)] + q;
    carry(p, from.constants, q, work, post);
  }
}

/// Pumped flows as the stretch has them; what leaves by its own weight in proportion to the water there, so that a
/// vessel which has lost or gained some finds back to its usual one.
template <class N>
void Equations::post_stretch(const Plan<Plain<N>>& plan, Scratch<N>& work, Posting<N>& post) const {
  using rates_detail::at;
  for (std::size_t i = 0; i < paths_.size(); ++i) {
    const FlowPath& p = paths_[i];
    const double q = work.stretch->flows[i];
    if (q <= 0.0) continue;
    const N share = p.by_overflow ? N(work.bodies[at(p.from)].water.si() / work.stretch->water[at(p.from)]) : N(1.0);
    carry(p, plan.bodies[at(p.from)].constants, N(q * share), work, post);
  }
}

template <class N>
void Equations::carry(const FlowPath& path, const BodyConstants& holds_back, const N& flow, const Scratch<N>& work,
                      Posting<N>& post) const {
  using rates_detail::at;
  const BodySlots &a = layout_.bodies[at(path.from)], &b = layout_.bodies[at(path.to)];
  const BodyState<N>& from = work.bodies[at(path.from)];
  post.by_body(at(path.from));
  rates_detail::move_water(flow, from, holds_back, a, b, post);
  post_fall(Flow<N>(flow), path.fall, from, work.air[at(path.from)], b, layout_.outside, post);
}

}  // namespace leat::model
