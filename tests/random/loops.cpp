#include "tests/random/loops.h"

#include <algorithm>
#include <cmath>

#include "tests/random/page.h"

namespace leat::random {
namespace {

class Yard : Page {
  std::vector<Standing> sumps_, beds_, tanks_;

  // ---- vessels

  struct Size {
    double area, depth;
  };
  Size size(double low_l, double high_l, double low_depth, double high_depth) {
    const double depth = c_.evenly(low_depth, high_depth);
    return {std::max(0.002, 1e-3 * c_.by_size(low_l, high_l) / depth), depth};
  }

  void vessel(const Standing& v, const Size& s) {
    heading(v.path);
    say("area", fmt::format("{:.4g} m2", s.area));
    metres("floor", v.floor);
    metres("rim", v.rim);
  }

  void sump(double below) {
    const Size s = c_.chance(0.2) ? size(5.0, 60.0, 0.2, 0.6) : size(60.0, 3000.0, 0.25, 1.0);
    Standing v{name("sump"), -below, -below + s.depth, 0.0};
    v.level = v.floor + c_.evenly(0.3, 0.95) * s.depth;
    vessel(v, s);
    if (c_.chance(0.02))
      metres("held_level", v.level);
    else
      metres("level", v.level);
    sumps_.push_back(v);
  }

  /// Where water leaves a new vessel, over where it stands in the one below; now and then drowned.
  double drop() { return c_.chance(0.08) ? -c_.evenly(0.0, 0.1) : c_.by_size(0.004, 1.0); }

  Standing& target(std::vector<Standing>& beds) {
    Standing& t = !beds.empty() && c_.chance(0.4)
                      ? beds[static_cast<std::size_t>(c_.below(static_cast<int>(beds.size())))]
                      : sumps_[static_cast<std::size_t>(c_.below(static_cast<int>(sumps_.size())))];
    t.fed = true;
    return t;
  }

  /// A vessel whose water leaves at a share of its depth, so placed that it runs to another.
  Standing above(const char* kind, const Standing& to, const Size& s) {
    const double share = c_.evenly(0.55, 0.93);
    const double out = std::max(to.level + drop(), to.floor + 0.01);
    Standing v{name(kind), out - share * s.depth, out + (1.0 - share) * s.depth, out};
    if (c_.chance(0.1)) v.floor += 1.5, v.rim += 1.5, v.level += 1.5;
    return v;
  }

  // ---- ways out

  void overflow(const Standing& v, double rim, const Standing& to, bool solids) {
    heading(name("overflow"));
    ends(v.path, to.path);
    metres("rim", rim);
    const double bore = c_.one_of(kDrainBores);
    millimetres("standpipe_bore", bore);
    if (solids || c_.chance(0.2)) {
      millimetres("sleeve_bore", bore * c_.evenly(1.25, 2.2));
      if (c_.chance(0.35)) flag("vented", false);
    }
    if (c_.chance(0.7)) run(kDrainBores, 8.0);
    if (c_.chance(0.3) && rim > to.floor + 0.02) metres("outlet_level", c_.evenly(to.floor, rim - 0.01));
    maybe_blocked();
  }

  void weir(const Standing& v, double crest, const Standing& to) {
    heading(name("weir"));
    ends(v.path, to.path);
    metres("crest", crest);
    metres("width", c_.by_size(0.03, 2.0));
    maybe_blocked();
  }

  void gravity_return(const Standing& v, double inlet, const Standing& to) {
    heading(name("gravity_return"));
    ends(v.path, to.path);
    const double length = c_.by_size(0.2, 6.0);
    millimetres("bore", c_.one_of(kDrainBores));
    metres("length", length);
    number("losses", c_.evenly(1.5, 6.0));
    const double slope = c_.one_of(std::vector<double>{0.01, 0.0, 0.02, 0.1, 0.5});
    metres("inlet_level", inlet);
    metres("outlet_level", inlet - slope * length);
    maybe_blocked();
  }

  void siphon(const Standing& v, double rim, const Standing& to) {
    const double breaks = std::min(rim - 0.015, v.floor + c_.by_size(0.003, 0.06));  // wide enough, mostly, to break
    const std::vector<double> bores{27.0, 36.4, 21.2, 27.0, 36.4, 45.5, 68.5, 12.0, 17.0};
    heading(name("siphon"));
    ends(v.path, to.path);
    metres("rim", rim);
    metres("break_level", std::max(breaks, v.floor + 0.001));
    millimetres("bore", c_.one_of(bores));
    metres("length", c_.by_size(0.2, 3.0));
    number("losses", c_.evenly(1.5, 8.0));
    if (c_.chance(0.5)) metres("outlet_level", v.floor - c_.by_size(0.01, 1.0));
    if (c_.chance(0.3)) number("priming", c_.evenly(0.35, 0.8));
    maybe_blocked();
  }

  void drain_hole(const Standing& v, const Standing& to, double top) {
    heading(name("drain_hole"));
    ends(v.path, to.path);
    millimetres("diameter", c_.by_size(2.0, 40.0));
    if (c_.chance(0.1)) number("count", c_.between(2, 6));
    if (c_.chance(0.3)) metres("level", c_.evenly(v.floor, top));
    maybe_blocked();
  }

  void gravity_pipe(const Standing& v, const Standing& to) {
    heading(fmt::format("pipe.p{}", ++pipes_));
    ends(v.path, to.path);
    run(kPressureBores, 8.0);
    if (c_.chance(0.4)) metres("inlet_level", c_.evenly(v.floor, v.level));
    if (c_.chance(0.5)) metres("outlet_level", c_.evenly(to.floor + 0.001, std::max(to.floor + 0.002, v.level - 0.01)));
    maybe_blocked();
  }

  void plain_way_out(const Standing& v, const Standing& to, bool solids) {
    switch (c_.below(9)) {
      case 5:
        return weir(v, v.level, to);
      case 6:
        return gravity_return(v, v.level, to);
      case 7:
        return gravity_pipe(v, to);
      case 8:
        return;  // nothing said
      default:
        return overflow(v, v.level, to, solids);
    }
  }

  void emergency_way_out(const Standing& v) {
    if (v.level > sumps_[0].floor && c_.chance(0.15)) overflow(v, c_.evenly(v.level, v.rim - 0.002), sumps_[0], false);
  }

  void raft_bed() {
    Standing& to = target(beds_);
    const Size s = size(10.0, 4000.0, 0.1, 0.45);
    const Standing v = above("raft_bed", to, s);
    vessel(v, s);
    plain_way_out(v, to, false);
    emergency_way_out(v);
    beds_.push_back(v);
  }

  void gravel_bed() {
    Standing& to = target(beds_);
    const double porosity = c_.evenly(0.3, 0.5);
    Size s = size(5.0, 2000.0, 0.15, 0.45);
    s.area /= porosity;
    const Standing v = above("gravel_bed", to, s);
    vessel(v, s);
    number("porosity", porosity);
    const int how = c_.below(8);
    if (how <= 1 || how == 4) siphon(v, v.level, to);
    if (how == 2 || how == 3) drain_hole(v, to, 0.5 * (v.floor + v.level)), overflow(v, v.level, to, false);
    if (how == 5) drain_hole(v, to, v.level);
    if (how == 7) siphon(v, v.level - 0.3 * (v.level - v.floor), to), overflow(v, v.level, to, false);
    if (how == 6) plain_way_out(v, to, false);
    if (c_.chance(0.08)) drain_hole(v, to, v.level);
    beds_.push_back(v);
  }

  void tank() {
    Standing& to = target(beds_);
    const Size s = size(5.0, 5000.0, 0.2, 1.2);
    const Standing v = above("tank", to, s);
    vessel(v, s);
    if (c_.chance(0.02)) metres("held_level", v.level);
    plain_way_out(v, to, c_.chance(0.6));
    emergency_way_out(v);
    tanks_.push_back(v);
  }

  // ---- pumps

  void pump(const std::string& path, const Standing& in, double lift) {
    heading(path);
    say("in", in.path);
    const double head = std::max(0.3, c_.chance(0.07) ? lift * c_.evenly(0.7, 1.0) : lift + c_.by_size(0.1, 6.0));
    const double most = c_.chance(0.6) ? c_.by_size(600.0, 5000.0) : c_.by_size(150.0, 20000.0);
    if (c_.chance(0.2)) {
      text_ += fmt::format(
          "curve = [[\"0 L/h\", \"{:.3f} m\"], [\"{:.0f} L/h\", \"{:.3f} m\"], [\"{:.0f} L/h\", \"{:.3f} m\"], "
          "[\"{:.0f} "
          "L/h\", \"0.05 m\"]]\n",
          head, 0.4 * most, 0.85 * head, 0.7 * most, 0.55 * head, most);
    } else {
      metres("shut_off_head", head);
      say("largest_flow", fmt::format("{:.0f} L/h", most));
    }
    if (c_.chance(0.1)) say("speed", fmt::format("{:.0f} %", c_.evenly(50.0, 110.0)));
    if (c_.chance(0.3)) flag("check_valve", false);
    if (c_.chance(0.1)) number("stopped_loss", c_.by_size(2.0, 50.0));
    if (c_.chance(0.6)) metres("dry_run_level", c_.evenly(in.floor, in.floor + 0.35 * (in.rim - in.floor)));
    if (c_.chance(0.03)) flag("on", false);
    switching(in);
  }

  void switching(const Standing& in) {
    if (c_.chance(0.35)) {
      say("on_for",
          fmt::format("{} {}", c_.one_of(std::vector<int>{15, 1, 2, 5, 8, 10, 30, 45}), c_.chance(0.1) ? "s" : "min"));
      say("off_for",
          fmt::format("{} {}", c_.one_of(std::vector<int>{45, 1, 4, 7, 15, 20, 30}), c_.chance(0.1) ? "s" : "min"));
      if (c_.chance(0.2)) say("starts_after", fmt::format("{} min", c_.between(1, 40)));
    }
    if (c_.chance(0.15)) {
      const double off = c_.evenly(in.floor + 0.01, in.floor + 0.6 * (in.rim - in.floor));
      metres("float_off", off);
      metres("float_on", std::min(in.rim, off + c_.by_size(0.003, 0.4)));
    }
  }

  std::string junction() {
    const std::string path = fmt::format("junction.j{}", ++junctions_);
    heading(path);
    return path;
  }

  void feed(const std::string& from, const Standing& v) { pipe(from, v.path, &v); }

  void valve_delivery(const std::string& from, const std::vector<Standing>& to) {
    const std::string valve = name("sequencing_valve");
    heading(valve);
    millimetres("bore", c_.one_of(std::vector<double>{34.0, 21.2, 27.2, 45.2}));
    number("loss", c_.evenly(4.0, 20.0));
    say("lift_flow", fmt::format("{:.0f} L/h", c_.by_size(30.0, 3000.0)));
    if (c_.chance(0.3)) say("lift_time", fmt::format("{} s", c_.between(1, 60)));
    if (c_.chance(0.3)) say("drop_time", fmt::format("{} s", c_.between(1, 120)));
    if (c_.chance(0.2)) metres("level", to[0].rim), metres("drop_head", c_.evenly(0.05, 1.0));
    if (c_.chance(0.05)) flag("stuck", true);
    if (c_.chance(0.2)) text_ += fmt::format("first = {}\n", c_.between(1, static_cast<int>(to.size())));
    pipe(from, valve);
    for (const Standing& v : to) feed(valve, v);
  }

  /// A line of junctions, each with its branch; closed to a ring now and then.
  void manifold_delivery(const std::string& from, const std::vector<Standing>& to) {
    std::vector<std::string> line;
    for (const Standing& v : to) {
      line.push_back(junction());
      pipe(line.size() == 1 ? from : line[line.size() - 2], line.back());
      feed(line.back(), v);
    }
    if (line.size() > 2 && c_.chance(0.5)) pipe(line.back(), line.front());
  }

  void star_delivery(const std::string& from, const std::vector<Standing>& to) {
    const std::string centre = junction();
    pipe(from, centre);
    for (const Standing& v : to) feed(centre, v);
  }

  void delivery(std::string from, const Standing& in, const std::vector<Standing>& to) {
    if (c_.chance(0.25)) {
      const std::string fork = junction();
      pipe(from, fork);
      feed(fork, in);  // what is not wanted goes back
      from = fork;
    }
    if (to.size() == 1) return feed(from, to[0]);
    const int how = c_.below(4);
    if (how <= 1) return manifold_delivery(from, to);
    if (how == 2 || to.size() > 6) return star_delivery(from, to);
    valve_delivery(from, to);
  }

  void pumps() {
    const int count = c_.between(1, 3);
    std::vector<std::vector<Standing>> to(static_cast<std::size_t>(count));
    const auto share_out = [&](const std::vector<Standing>& list) {
      for (const Standing& v : list)
        if (!v.fed || c_.chance(0.25)) to[static_cast<std::size_t>(c_.below(count))].push_back(v);
    };
    share_out(tanks_), share_out(beds_);
    std::string partner;
    for (std::vector<Standing>& targets : to) {
      const Standing& in = c_.chance(0.12)
                               ? tanks_[static_cast<std::size_t>(c_.below(static_cast<int>(tanks_.size())))]
                               : sumps_[static_cast<std::size_t>(c_.below(static_cast<int>(sumps_.size())))];
      std::erase_if(targets, [&](const Standing& v) { return v.path == in.path; });
      if (targets.empty()) targets.push_back(in.path == tanks_[0].path ? sumps_[0] : tanks_[0]);
      double lift = 0.2;
      for (const Standing& v : targets) lift = std::max(lift, v.rim + 0.1 - in.level);
      const std::string path = name("pump");
      pump(path, in, lift);
      if (!partner.empty() && c_.chance(0.2)) {
        pipe(path, partner);  // beside the one before, on one main
        for (const Standing& v : targets) feed(partner, v);
        continue;
      }
      partner.clear();
      if (c_.chance(0.2)) {
        partner = junction();
        pipe(path, partner);
        delivery(partner, in, targets);
      } else {
        delivery(path, in, targets);
      }
      if (partner.empty()) continue;
      if (targets.empty()) partner.clear();
    }
  }

  void source() {
    if (!c_.chance(0.4)) return;
    const Standing& to = c_.chance(0.15) ? tanks_[0] : sumps_[0];
    heading("source.main");
    say("to", to.path);
    const int how = c_.below(4);
    if (how == 3) return say("top_up", "daily");
    say("top_up", "float");
    if (how == 2) return;
    metres("level", c_.evenly(to.floor + 0.02, to.rim - 0.005));
    say("flow", fmt::format("{:.0f} L/h", c_.by_size(20.0, 2000.0)));
    if (c_.chance(0.03)) flag("stuck_open", true);
  }

 public:
  explicit Yard(Choices& c) : Page(c) {}

  std::string text() {
    text_ = "[loop]\nname = \"Random loop\"\n";
    sump(c_.chance(0.3) ? c_.evenly(0.1, 0.8) : 0.0);
    if (c_.chance(0.15)) {
      sump(c_.evenly(-0.2, 0.3));
      if (c_.chance(0.5)) gravity_pipe(sumps_[1], sumps_[0]);
    }
    const int gravel = c_.below(6), raft = c_.below(5), tanks = c_.between(1, 4);  // the kinds in the order of heights
    for (int i = 0; i < raft; ++i) raft_bed();
    for (int i = 0; i < gravel; ++i) gravel_bed();
    for (int i = 0; i < tanks; ++i) tank();
    pumps();
    source();
    return text_;
  }
};

}  // namespace

std::string random_loop(Choices& choices) {
  return Yard(choices).text();
}

}  // namespace leat::random
