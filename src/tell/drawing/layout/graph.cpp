#include "tell/drawing/layout/graph.h"

#include <algorithm>
#include <cmath>

#include "tell/drawing/layout/shapes.h"

namespace leat::tell::drawing {
namespace {

using model::End;
using model::Loop;

template <class States>
double flow_in(const States& states, const std::string& path) {
  for (const auto& state : states)
    if (state.path == path) return std::isfinite(state.flow.si()) ? state.flow.si() : 0.0;
  return 0.0;
}

/// Parts stand in the order vessels, junctions, valves.
int part_of(const Loop& loop, const End& end) {
  const int vessels = static_cast<int>(loop.vessels.size()), junctions = static_cast<int>(loop.junctions.size());
  switch (end.what) {
    case End::What::vessel:
      return end.index;
    case End::What::pump:
      return loop.pumps[at(end.index)].vessel;
    case End::What::junction:
      return vessels + end.index;
    case End::What::valve:
      return vessels + junctions + end.index;
  }
  return 0;
}

std::vector<Part> parts_of(const Loop& loop) {
  std::vector<Part> parts;
  for (std::size_t i = 0; i < loop.vessels.size(); ++i) {
    const model::Vessel& v = loop.vessels[i];
    parts.push_back({PartKind::vessel, static_cast<int>(i), v.path, v.floor.si(), v.rim.si()});
  }
  for (std::size_t i = 0; i < loop.junctions.size(); ++i)
    parts.push_back({PartKind::junction, static_cast<int>(i), loop.junctions[i].path});
  for (std::size_t i = 0; i < loop.valves.size(); ++i)
    parts.push_back({PartKind::valve, static_cast<int>(i), loop.valves[i].path});
  return parts;
}

/// Pipes that a pump presses on: joined to one by pipes, without a vessel between.
std::vector<bool> pressed_pipes(const Loop& loop, std::size_t parts) {
  std::vector<bool> pressed(loop.pipes.size(), false), joint(parts, false);
  const auto is_joint = [](const End& e) { return e.what == End::What::junction || e.what == End::What::valve; };
  for (bool changed = true; changed;) {
    changed = false;
    for (std::size_t i = 0; i < loop.pipes.size(); ++i) {
      if (pressed[i]) continue;
      for (const End& end : {loop.pipes[i].from, loop.pipes[i].to})
        if (end.what == End::What::pump || (is_joint(end) && joint[at(part_of(loop, end))])) pressed[i] = true;
      if (!pressed[i]) continue;
      changed = true;
      for (const End& end : {loop.pipes[i].from, loop.pipes[i].to})
        if (is_joint(end)) joint[at(part_of(loop, end))] = true;
    }
  }
  return pressed;
}

std::optional<double> height(const std::optional<Length<>>& said) {
  if (!said) return std::nullopt;
  return said->si();
}

void add_pipes(const Loop& loop, const answers::CheckAnswer& answer, Graph& graph) {
  const std::vector<bool> pressed = pressed_pipes(loop, graph.parts.size());
  for (std::size_t i = 0; i < loop.pipes.size(); ++i) {
    const model::Pipe& pipe = loop.pipes[i];
    Link link{pressed[i] ? Carrier::pumped : Carrier::pipe, static_cast<int>(i), pipe.path};
    link.from = part_of(loop, pipe.from);
    link.to = part_of(loop, pipe.to);
    link.flow = flow_in(answer.pipes, pipe.path);
    const Part& from = graph.parts[at(link.from)];
    link.exit = pipe.inlet_level ? pipe.inlet_level->si() : from.floor;
    link.end = height(pipe.outlet_level);
    link.blocked = pipe.blocked;
    link.hand_valve = pipe.hand_valve;
    if (pipe.from.what == End::What::pump) {
      link.pump = pipe.from.index;
      link.check_valve = loop.pumps[at(link.pump)].check_valve;
    }
    if (pipe.from.what == End::What::valve) {
      const std::vector<int>& outlets = loop.valves[at(pipe.from.index)].outlets;
      const auto it = std::find(outlets.begin(), outlets.end(), static_cast<int>(i));
      link.turn = it == outlets.end() ? 0 : static_cast<int>(it - outlets.begin()) + 1;
    }
    graph.links.push_back(std::move(link));
  }
}

template <class List, class Exit, class Outlet>
void add_falls(const List& list, Carrier kind, const answers::CheckAnswer& answer, Graph& graph, Exit exit,
               Outlet outlet) {
  for (std::size_t i = 0; i < list.size(); ++i) {
    Link link{kind, static_cast<int>(i), list[i].path, list[i].from, list[i].to};
    link.flow = flow_in(answer.passages, link.path);
    link.exit = exit(list[i]).si();
    link.end = outlet(list[i]);
    link.blocked = list[i].blocked;
    graph.links.push_back(std::move(link));
  }
}

int first_part(const Loop& loop) {
  int best = 0;
  bool best_pumped = false;
  for (int v = 0; v < static_cast<int>(loop.vessels.size()); ++v) {
    const bool pumped = std::any_of(loop.pumps.begin(), loop.pumps.end(), [&](const auto& p) { return p.vessel == v; });
    const bool lower = loop.vessels[at(v)].floor < loop.vessels[at(best)].floor;
    if (v > 0 && !(pumped && !best_pumped) && !(pumped == best_pumped && lower)) continue;
    best = v;
    best_pumped = pumped;
  }
  return best;
}

}  // namespace

Graph graph_of(const Loop& loop, const answers::CheckAnswer& answer) {
  Graph graph;
  graph.parts = parts_of(loop);
  graph.first = first_part(loop);
  add_pipes(loop, answer, graph);
  const auto no_outlet = [](const auto&) { return std::optional<double>(); };
  const auto said_outlet = [](const auto& part) { return height(part.outlet_level); };
  add_falls(
      loop.overflows, Carrier::overflow, answer, graph, [](const auto& o) { return o.rim; }, said_outlet);
  add_falls(
      loop.siphons, Carrier::siphon, answer, graph, [](const auto& s) { return s.rim; }, said_outlet);
  add_falls(
      loop.drain_holes, Carrier::drain_hole, answer, graph, [](const auto& h) { return h.level; }, no_outlet);
  add_falls(
      loop.weirs, Carrier::weir, answer, graph, [](const auto& w) { return w.crest; }, no_outlet);
  add_falls(
      loop.returns, Carrier::gravity_return, answer, graph, [](const auto& r) { return r.inlet_level; },
      [](const auto& r) { return std::optional<double>(r.outlet_level.si()); });
  return graph;
}

}  // namespace leat::tell::drawing
