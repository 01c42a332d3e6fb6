#include "science/hydraulics/pipe_network.h"

#include <algorithm>
#include <sstream>
#include <stdexcept>

#include "base/units/parse.h"
#include "numerics/network.h"

namespace leat::science {
namespace {

constexpr double kDemandResistance = 1e6;  ///< s/m2: how stiffly a demand is held in one solution

[[noreturn]] void unreadable(const std::string& what) {
  throw std::out_of_range(what);
}

std::vector<std::string> words_of(const std::string& text) {
  std::istringstream in(text);
  std::vector<std::string> words;
  for (std::string word; in >> word;) words.push_back(word);
  return words;
}

double number_in(const std::string& word) {
  const auto number = read_number(word);
  if (!std::holds_alternative<double>(number)) unreadable(word);
  return std::get<double>(number);
}

double scale_of(const std::string& unit, Dimension wanted) {
  const auto read = read_unit(unit);
  if (!std::holds_alternative<Unit>(read) || !(std::get<Unit>(read).dimension == wanted)) unreadable(unit);
  return std::get<Unit>(read).scale;
}

/// "0.04 -0.02 m3/s": numbers, and a unit for all unless it is SI.
std::vector<double> flows_in(const std::string& text) {
  std::vector<std::string> words = words_of(text);
  double scale = 1.0;
  if (!words.empty() && !std::holds_alternative<double>(read_number(words.back()))) {
    scale = scale_of(words.back(), dim::flow);
    words.pop_back();
  }
  std::vector<double> flows;
  for (const std::string& word : words) flows.push_back(scale * number_in(word));
  return flows;
}

void add_loop(LoopNetwork& network, std::vector<bool>& named, const std::pair<std::string, std::string>& text) {
  const std::vector<std::string> pipes = words_of(text.first);
  const std::vector<double> flows = flows_in(text.second);
  if (pipes.size() != flows.size()) unreadable(text.second);
  std::vector<LoopNetwork::Member> loop;
  for (std::size_t i = 0; i < pipes.size(); ++i) {
    const auto pipe = static_cast<std::size_t>(number_in(pipes[i])) - 1;
    if (pipe >= network.flows.size()) unreadable(pipes[i]);
    const bool same_way = !named[pipe] || (flows[i] != 0.0 && network.flows[pipe].si() == flows[i]);
    if (!named[pipe]) network.flows[pipe] = Flow<>(flows[i]);
    named[pipe] = true;
    loop.push_back({pipe, same_way ? 1 : -1});
  }
  network.loops.push_back(std::move(loop));
}

int node_in(const std::string& name) {
  if (name.size() < 2) unreadable(name);
  return static_cast<int>(number_in(name.substr(1)));
}

NetworkPipe pipe_in(const std::string& text, Length<> roughness) {
  const std::vector<std::string> words = words_of(text);
  if (words.size() < 5) unreadable(text);
  const std::size_t dash = words[0].find('-');
  if (dash == std::string::npos) unreadable(words[0]);
  const Length<> length(number_in(words[1]) * scale_of(words[2], dim::length));
  const Length<> bore(number_in(words[3]) * scale_of(words[4], dim::length));
  const Number<> k(words.size() > 5 ? number_in(words[5]) : 0.0);
  return {node_in(words[0].substr(0, dash)), node_in(words[0].substr(dash + 1)), {bore, length, roughness, k}};
}

/// Places of the nodes in the solver: unknown heads first, then given ones, then one end for each demand.
struct Places {
  std::map<int, int> of_node;
  int unknown = 0;
};

Places places_of(const PipeNetwork& network) {
  Places places;
  for (const auto& [name, pipe] : network.pipes)
    for (const int node : {pipe.from, pipe.to})
      if (!network.heads.contains(node) && places.of_node.emplace(node, places.unknown).second) ++places.unknown;
  int next = places.unknown;
  for (const auto& [node, head] : network.heads) places.of_node[node] = next++;
  return places;
}

numerics::Network links_of(const PipeNetwork& network, const Places& places) {
  numerics::Network solver;
  solver.unknown = places.unknown;
  for (const auto& [name, pipe] : network.pipes)
    solver.links.push_back({places.of_node.at(pipe.from), places.of_node.at(pipe.to)});
  int end = places.unknown + static_cast<int>(network.heads.size());
  for (const auto& [node, demand] : network.demands) solver.links.push_back({places.of_node.at(node), end++});
  return solver;
}

/// The pipes' laws first, then a stiff one for each demand.
numerics::LinkLaw laws_of(const PipeNetwork& network, KinematicViscosity<> viscosity, Acceleration<> gravity) {
  std::vector<PipeRun> runs;
  for (const auto& [name, pipe] : network.pipes) runs.push_back(pipe.run);
  std::vector<double> demands;
  for (const auto& [node, demand] : network.demands) demands.push_back(demand.si());
  return [runs, demands, viscosity, gravity](std::size_t link, double q) {
    if (link >= runs.size())
      return numerics::LossAndSlope{kDemandResistance * (q - demands[link - runs.size()]), kDemandResistance};
    const auto at = pipe_loss_and_slope(Flow<>(q), runs[link], viscosity, gravity);
    return numerics::LossAndSlope{at.loss.si(), at.slope.si()};
  };
}

}  // namespace

LoopNetwork read_loops(const LoopText& text) {
  LoopNetwork network;
  network.resistances = text.resistances;
  network.flows.assign(text.resistances.size(), Flow<>(0.0));
  std::vector<bool> named(text.resistances.size(), false);
  for (const auto& loop : text.loops) add_loop(network, named, loop);
  return network;
}

PipeNetwork read_network(const NetworkText& text, Length<> roughness) {
  PipeNetwork network;
  network.heads.insert(text.heads.begin(), text.heads.end());
  network.demands.insert(text.demands.begin(), text.demands.end());
  for (const auto& [name, pipe] : text.pipes) network.pipes.emplace(name, pipe_in(pipe, roughness));
  return network;
}

PipeNetworkSolution solve_pipe_network(const PipeNetwork& network, KinematicViscosity<> viscosity,
                                       Acceleration<> gravity) {
  const Places places = places_of(network);
  numerics::NetworkSolver solver(links_of(network, places));
  const numerics::LinkLaw laws = laws_of(network, viscosity, gravity);
  std::vector<double> given;
  for (const auto& [node, head] : network.heads) given.push_back(head.si());
  given.resize(given.size() + network.demands.size(), 0.0);
  // The far end of a demand is brought to its node's own head, so that the demand is met to the last digits.
  numerics::NetworkSolution found;
  for (int pass = 0; pass < 3; ++pass) {
    found = solver.solve(laws, given);
    std::size_t end = network.heads.size();
    for (const auto& [node, demand] : network.demands) {
      const int place = places.of_node.at(node);
      const auto at = static_cast<std::size_t>(place);
      given[end++] = place < places.unknown ? found.heads[at] : given[at - static_cast<std::size_t>(places.unknown)];
    }
  }
  if (!found.solved) throw std::out_of_range("a solution");
  PipeNetworkSolution solution;
  for (const auto& [node, place] : places.of_node)
    solution.heads[node] =
        place < places.unknown ? Length<>(found.heads[static_cast<std::size_t>(place)]) : network.heads.at(node);
  std::size_t link = 0;
  for (const auto& [name, pipe] : network.pipes) solution.flows[name] = Flow<>(found.flows[link++]);
  return solution;
}

}  // namespace leat::science
