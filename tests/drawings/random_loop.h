// Loops that nobody would build, with flows and findings out of the air: for the drawing alone, which must stand any of
// them.
#pragma once

#include <random>

#include "answers/check.h"
#include "model/loop/loop.h"

namespace leat::tests {

struct DrawnLoop {
  model::Loop loop;
  answers::CheckAnswer answer;
};

class LoopMaker {
  std::mt19937 random_;
  DrawnLoop made_;

 public:
  explicit LoopMaker(unsigned seed) : random_(seed) {}

  int below(int n) { return static_cast<int>(random_() % static_cast<unsigned>(n)); }
  double share() { return below(1001) / 1000.0; }
  model::Loop& loop() { return made_.loop; }
  DrawnLoop take() { return std::move(made_); }

  int add_vessel(double floor, double depth, double area, model::VesselKind kind = model::VesselKind::tank) {
    static const char* const kKinds[] = {"tank", "sump", "raft_bed", "gravel_bed"};
    model::Vessel v;
    const int index = static_cast<int>(loop().vessels.size());
    v.path = std::string(kKinds[static_cast<int>(kind)]) + "." + name(index);
    v.kind = kind;
    v.floor = Length<>(floor);
    v.rim = Length<>(floor + depth);
    v.area = Area<>(area);
    loop().vessels.push_back(v);
    answers::VesselLevels level;
    level.path = v.path;
    level.running = Length<>(floor + depth * (1.2 * share() - 0.1));
    made_.answer.vessels.push_back(level);
    return index;
  }

  int add_pump(int vessel) {
    model::Pump pump;
    pump.path = "pump." + name(static_cast<int>(loop().pumps.size()));
    pump.vessel = vessel;
    pump.check_valve = below(2) == 0;
    loop().pumps.push_back(pump);
    return static_cast<int>(loop().pumps.size()) - 1;
  }

  int add_junction() {
    loop().junctions.push_back({"junction." + name(static_cast<int>(loop().junctions.size()))});
    return static_cast<int>(loop().junctions.size()) - 1;
  }

  void add_pipe(model::End from, model::End to) {
    model::Pipe pipe;
    pipe.path = "pipe." + name(static_cast<int>(loop().pipes.size()));
    pipe.from = from;
    pipe.to = to;
    if (to.what == model::End::What::vessel && below(3) > 0) {
      const model::Vessel& v = loop().vessels[static_cast<std::size_t>(to.index)];
      pipe.outlet_level = v.floor + (0.1 + share()) * v.depth();
    }
    pipe.hand_valve = below(5) == 0;
    pipe.blocked = below(9) == 0;
    loop().pipes.push_back(pipe);
    made_.answer.pipes.push_back({});
    made_.answer.pipes.back().path = pipe.path;
    made_.answer.pipes.back().flow = some_flow();
  }

  /// An overflow, siphon, drain hole, weir or gravity return.
  void add_fall(int from, int to, int kind = 0) {
    const model::Vessel& v = loop().vessels[static_cast<std::size_t>(from)];
    const Length<> low = v.floor + 0.1 * v.depth(), high = v.floor + (0.3 + 0.6 * share()) * v.depth();
    const std::string path = std::string(kind == 0   ? "overflow."
                                         : kind == 1 ? "siphon."
                                         : kind == 2 ? "drain_hole."
                                         : kind == 3 ? "weir."
                                                     : "gravity_return.") +
                             name(static_cast<int>(made_.answer.passages.size()));
    const auto fill = [&](auto part) {
      part.path = path;
      part.from = from;
      part.to = to;
      return part;
    };
    if (kind == 0) {
      model::Overflow o = fill(model::Overflow{});
      o.rim = high;
      if (below(2) == 0) o.sleeve = model::Sleeve{};
      loop().overflows.push_back(o);
    } else if (kind == 1) {
      model::Siphon s = fill(model::Siphon{});
      s.rim = high;
      s.break_level = low;
      loop().siphons.push_back(s);
    } else if (kind == 2) {
      model::DrainHole h = fill(model::DrainHole{});
      h.level = v.floor;
      loop().drain_holes.push_back(h);
    } else if (kind == 3) {
      model::Weir w = fill(model::Weir{});
      w.crest = high;
      loop().weirs.push_back(w);
    } else {
      model::GravityReturn r = fill(model::GravityReturn{});
      r.inlet_level = r.outlet_level = high;
      loop().returns.push_back(r);
    }
    made_.answer.passages.push_back({path, some_flow()});
  }

  void add_finding(const std::string& path) {
    answers::Finding f;
    f.statement = "something_holds";
    f.path = path;
    f.verdict = below(2) == 0 ? answers::Verdict::bad : answers::Verdict::tight;
    f.reason = "it does not, by far, and more <words> & \"marks\" than fit on any line that a narrow sheet may have";
    made_.answer.findings.push_back(f);
  }

 private:
  std::string name(int index) {
    static const char* const kNames[] = {"a", "north", "the-one-behind-the-long-wall-by-the-gate", "x2", "M\u00fchle"};
    return kNames[below(5)] + std::to_string(index);
  }
  Flow<> some_flow() {
    const int kind = below(8);
    return Flow<>(kind == 0 ? 0.0 : (kind == 1 ? -1.0 : 1.0) * (0.001 + share()) / 400.0);
  }
};

inline DrawnLoop random_loop(unsigned seed) {
  using What = model::End::What;
  LoopMaker make(seed);
  const int vessels = 2 + make.below(12);
  for (int v = 0; v < vessels; ++v)
    make.add_vessel(3.0 * make.share(), 0.05 + 1.5 * make.share(), 0.01 + 6.0 * make.share(),
                    static_cast<model::VesselKind>(make.below(4)));
  const int pumps = 1 + make.below(3);
  for (int p = 0; p < pumps; ++p) {
    const int pump = make.add_pump(make.below(vessels));
    if (make.below(2) == 0) {
      make.add_pipe({What::pump, pump}, {What::vessel, make.below(vessels)});
      continue;
    }
    const int junction = make.add_junction(), outlets = 1 + make.below(4);
    make.add_pipe({What::pump, pump}, {What::junction, junction});
    for (int i = 0; i < outlets; ++i) make.add_pipe({What::junction, junction}, {What::vessel, make.below(vessels)});
  }
  const int falls = make.below(2 * vessels);
  for (int i = 0; i < falls; ++i) {
    const int from = make.below(vessels), to = make.below(vessels);
    if (from == to) continue;
    if (make.below(6) == 0)
      make.add_pipe({What::vessel, from}, {What::vessel, to});
    else
      make.add_fall(from, to, make.below(5));
  }
  const int findings = make.below(6);
  for (int i = 0; i < findings; ++i) {
    const int about = make.below(3);
    make.add_finding(about == 0   ? make.loop().vessels[static_cast<std::size_t>(make.below(vessels))].path
                     : about == 1 ? make.loop().pipes[0].path
                                  : make.loop().pumps[0].path);
  }
  return make.take();
}

}  // namespace leat::tests
