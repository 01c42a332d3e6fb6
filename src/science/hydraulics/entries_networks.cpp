#include <fmt/core.h>

#include "science/hydraulics/entries_support.h"
#include "science/hydraulics/junction.h"
#include "science/hydraulics/pipe_network.h"

namespace leat::science::hydraulic_entries {
namespace {

constexpr std::string_view kBranches = "abc";
constexpr int kMostPipes = 20, kMostLoops = 8, kMostNodes = 12;

std::string_view of_branch(std::string_view stem, char branch) {
  return kept(fmt::format("{}_{}", stem, branch));
}
std::string_view numbered(std::string_view stem, int i) {
  return kept(fmt::format("{}_{}", stem, i));
}

struct Junction {
  Length<> head;
  std::vector<Flow<>> flows;  ///< to the junction
};

using BranchFlow = Flow<> (*)(const Given&, char branch, Length<> drop);

Junction junction_of(const Given& g, BranchFlow flow) {
  std::vector<Length<>> levels;
  for (const char b : kBranches) levels.push_back(length_of(g, fmt::format("level_{}", b)));
  const auto flow_of_drop = [&](std::size_t i, Length<> drop) { return flow(g, kBranches[i], drop); };
  Junction junction{junction_head(levels, flow_of_drop), {}};
  for (std::size_t i = 0; i < levels.size(); ++i) junction.flows.push_back(flow_of_drop(i, levels[i] - junction.head));
  return junction;
}

/// h = k V|V|
Flow<> velocity_law(const Given& g, char b, Length<> drop) {
  const double v = std::sqrt(std::abs(drop.si()) / g(fmt::format("velocity_resistance_{}", b)));
  return Flow<>((drop.si() < 0.0 ? -v : v) * g(fmt::format("area_{}", b)));
}

Flow<> hazen_williams_law(const Given& g, char b, Length<> drop) {
  return hazen_williams_flow(drop, number_of(g, fmt::format("coefficient_{}", b)),
                             length_of(g, fmt::format("bore_{}", b)), length_of(g, fmt::format("length_{}", b)));
}

Rows branch_rows(std::initializer_list<InputRow> stems) {
  Rows rows;
  for (const char b : kBranches)
    for (InputRow row : stems) {
      row.name = of_branch(row.name, b);
      rows.push_back(row);
    }
  return rows;
}

std::vector<OutputRow> junction_outputs(BranchFlow law, bool with_velocity) {
  std::vector<OutputRow> outputs{
      {"junction_head", "m", [law](const Given& g) { return junction_of(g, law).head.si(); }}};
  for (std::size_t i = 0; i < kBranches.size(); ++i) {
    const char b = kBranches[i];
    const auto flow = [law, i](const Given& g) { return junction_of(g, law).flows[i].si(); };
    outputs.push_back({of_branch("flow_from", b), "m3/s", flow});
    outputs.push_back({of_branch("flow_to", b), "m3/s", [flow](const Given& g) { return -flow(g); }});
    if (with_velocity)
      outputs.push_back({of_branch("velocity_from", b), "m/s",
                         [flow, b](const Given& g) { return flow(g) / g(fmt::format("area_{}", b)); }});
  }
  return outputs;
}

std::vector<LoopPipe> loop_of(const Given& g) {
  std::vector<LoopPipe> loop;
  for (int i = 1; i <= kMostPipes; ++i) {
    const std::string r = fmt::format("resistance_{}", i), q = fmt::format("flow_{}", i);
    if (g.numbers.contains(r)) loop.push_back({HeadPerFlowSquared<>(g(r)), flow_of(g, q)});
  }
  if (loop.empty()) throw std::out_of_range("resistance_1");
  return loop;
}

LoopNetwork loops_of(const Given& g) {
  LoopText loops;
  for (int i = 1; i <= kMostPipes; ++i)
    loops.resistances.push_back(HeadPerFlowSquared<>(g.get(fmt::format("resistance_{}", i), 0.0)));
  for (int i = 1; i <= kMostLoops; ++i) {
    const std::string members = fmt::format("loop_{}", i), flows = fmt::format("loop_flows_{}", i);
    if (g.words.contains(members)) loops.loops.push_back({g.words.at(members), std::string(g.word(flows))});
  }
  return read_loops(loops);
}

double loop_flow(const Given& g, int pipe) {
  const int rounds = static_cast<int>(g("iterations"));
  const bool successive = g.words.contains("update") && g.word("update") != "simultaneous";
  const LoopNetwork after =
      hardy_cross(loops_of(g), rounds, successive ? LoopUpdate::successive : LoopUpdate::simultaneous);
  return after.flows.at(static_cast<std::size_t>(pipe - 1)).si();
}

Rows loop_rows() {
  Rows rows{text("update", "simultaneous or successive"), taken("iterations", "-", 1.0, 1000.0, "rounds", 200.0)};
  for (int i = 1; i <= kMostPipes; ++i)
    rows.push_back(optional(numbered("resistance", i), "s2/m5", 0.0, 1e12, "head over flow squared of a pipe"));
  for (int i = 1; i <= kMostLoops; ++i) {
    rows.push_back(text(numbered("loop", i), "pipes of a loop in the order they are walked: 1 2 3"));
    rows.push_back(text(numbered("loop_flows", i), "first flow of each, positive the way the loop is walked"));
  }
  return rows;
}

Entry loops_entry() {
  std::vector<OutputRow> outputs;
  for (int i = 1; i <= kMostPipes; ++i)
    outputs.push_back({numbered("flow", i), "m3/s", [i](const Given& g) { return loop_flow(g, i); }});
  return {"hardy_cross_flow", "flows of a network of loops, the sign that of the first loop that names the pipe",
          loop_rows(), outputs, "Cross 1936"};
}

NetworkText network_of(const Given& g) {
  NetworkText network;
  for (int i = 1; i <= kMostNodes; ++i) {
    const std::string head = fmt::format("head_{}", i), demand = fmt::format("demand_{}", i);
    if (g.numbers.contains(head)) network.heads.emplace_back(i, length_of(g, head));
    if (g.numbers.contains(demand)) network.demands.emplace_back(i, flow_of(g, demand));
  }
  for (int i = 1; i <= kMostPipes; ++i) {
    const std::string pipe = fmt::format("pipe_{}", i);
    if (g.words.contains(pipe)) network.pipes.emplace_back(i, std::string(g.word(pipe)));
  }
  return network;
}

PipeNetworkSolution solved(const Given& g) {
  return solve_pipe_network(read_network(network_of(g), length_of(g, "roughness")), viscosity_of(g), gravity_of(g));
}

Entry network_entry() {
  Rows rows = joined({viscosity_rows(), {gravity_row(), needed("roughness", "m", 0.0, 0.01, "of every pipe")}});
  std::vector<OutputRow> outputs;
  for (int i = 1; i <= kMostNodes; ++i) {
    rows.push_back(optional(numbered("head", i), "m", -1e4, 1e4, "head of a node that is given"));
    rows.push_back(optional(numbered("demand", i), "m3/s", -100.0, 100.0, "flow taken out at a node"));
    outputs.push_back({numbered("head", i), "m", [i](const Given& g) { return solved(g).heads.at(i).si(); }});
  }
  for (int i = 1; i <= kMostPipes; ++i) {
    rows.push_back(text(numbered("pipe", i), "ends, length, bore and K if any: N1-N2 800 ft 8 in 2.5"));
    outputs.push_back({numbered("flow", i), "m3/s", [i](const Given& g) { return solved(g).flows.at(i).si(); }});
  }
  return {"network_flow", "heads and flows of a network of full pipes", rows, outputs,
          "Todini and Pilati 1988, as in EPANET 2.2 User Manual, chapter 12"};
}

}  // namespace

std::vector<Entry> network_entries() {
  return {
      {"three_reservoirs", "three vessels whose pipes meet, each losing k V^2",
       branch_rows({needed("level", "m", -1e4, 1e4, "level of a vessel"),
                    needed("velocity_resistance", "s2/m", 0.0, 1e6, "head over velocity squared"),
                    needed("area", "m2", 0.0, 100.0, "section of the pipe")}),
       junction_outputs(velocity_law, true), "continuity at the junction"},
      {"three_reservoirs_hazen_williams", "three vessels whose pipes meet, by Hazen and Williams",
       branch_rows({needed("level", "m", -1e4, 1e4, "level of a vessel"),
                    needed("length", "m", 0.0, 1e5, "of the pipe"), needed("bore", "m", 1e-3, 10.0, "of the pipe"),
                    needed("coefficient", "-", 1.0, 160.0, "C")}),
       junction_outputs(hazen_williams_law, false), "continuity at the junction"},
      {"hardy_cross_correction",
       "what must be added to every flow round a loop",
       [] {
         Rows rows;
         for (int i = 1; i <= kMostPipes; ++i) {
           rows.push_back(optional(numbered("resistance", i), "s2/m5", 0.0, 1e12, "head over flow squared"));
           rows.push_back(optional(numbered("flow", i), "m3/s", -100.0, 100.0, "positive the way the loop is walked"));
         }
         return rows;
       }(),
       {{"correction", "m3/s", [](const Given& g) { return hardy_cross_correction(loop_of(g)).si(); }}},
       "Cross 1936"},
      loops_entry(),
      network_entry(),
  };
}

}  // namespace leat::science::hydraulic_entries
