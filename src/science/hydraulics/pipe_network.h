// Networks of full pipes written as short texts, and their solution.
#pragma once

#include <map>
#include <string>
#include <utility>
#include <vector>

#include "science/hydraulics/junction.h"

namespace leat::science {

/// Loops as lists: "1 2 3 4 5" and "0.04 0.04 0.02 -0.02 -0.04 m3/s".
struct LoopText {
  std::vector<HeadPerFlowSquared<>> resistances;  ///< pipe 1 first
  std::vector<std::pair<std::string, std::string>> loops;
};

/// A pipe's flow has the sign of the first loop that names it. A second loop walks it the other way, unless both lists
/// give it the same flow, not 0. Throws std::out_of_range at what cannot be read.
LoopNetwork read_loops(const LoopText& text);

/// A network as texts: nodes by number, pipes as "N1-N2 800 ft 8 in", with a sum of K after it if there is one.
struct NetworkText {
  std::vector<std::pair<int, Length<>>> heads;  ///< nodes whose head is given
  std::vector<std::pair<int, Flow<>>> demands;  ///< taken out at a node
  std::vector<std::pair<int, std::string>> pipes;
};

struct NetworkPipe {
  int from, to;
  PipeRun run;
};

struct PipeNetwork {
  std::map<int, Length<>> heads;
  std::map<int, Flow<>> demands;
  std::map<int, NetworkPipe> pipes;
};

PipeNetwork read_network(const NetworkText& text, Length<> roughness);

struct PipeNetworkSolution {
  std::map<int, Length<>> heads;
  std::map<int, Flow<>> flows;
};

/// Heads at every node and flows in every pipe, by the bridged friction law.
PipeNetworkSolution solve_pipe_network(const PipeNetwork& network, KinematicViscosity<> viscosity,
                                       Acceleration<> gravity = standard_gravity);

}  // namespace leat::science
