// The flow of each kind of passage between two levels, with how it moves with them. Each law is continuous and has a
// finite slope everywhere, equal levels included, so that an implicit step can follow two vessels that even out.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "model/flow/plumbing.h"
#include "science/hydraulics/drops.h"
#include "science/hydraulics/rim_flow.h"

namespace leat::model {
namespace {

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

constexpr double kSoftHole = 2e-6;  ///< m; below this head a hole's law is rounded off
constexpr double kSoftPipe = 1e-5;  ///< m; below this head a pipe's law is rounded off
constexpr double kSoftWeir = 1e-3;  ///< below this share of difference a drowned weir's law is rounded off
constexpr double kVillemonte = 0.385;

/// x^2 (a + b x), which starts flat at 0 and meets at 1 a law of value 1 and of the slope asked for. A passage that
/// lets nothing back has its corner where two vessels are even, just where they like to stay.
struct Rounded {
  double value, slope;
};
Rounded rounded(double x, double slope_at_one) {
  const double b = slope_at_one - 2.0, a = 1.0 - b;
  return {x * x * (a + b * x), x * (2.0 * a + 3.0 * b * x)};
}

/// What a drowned crest lets through, as a share of the free flow, from the heads over it on both sides.
///
///   x^0.385,  x = 1 - (back/head)^1.5
///
/// source  Villemonte 1947
struct Share {
  double share = 1.0, by_head = 0.0, by_back = 0.0;
};
Share drowned_share(double head, double back) {
  if (back <= 0.0) return {};
  const double ratio = back / head, root = std::sqrt(ratio), x = 1.0 - ratio * root;
  double share = std::pow(std::max(x, kSoftWeir), kVillemonte), slope = kVillemonte * share / x;
  if (x < kSoftWeir) {
    const Rounded r = rounded(x / kSoftWeir, kVillemonte);
    slope = r.slope * share / kSoftWeir;
    share *= r.value;
  }
  return {share, slope * 1.5 * ratio * root / head, -slope * 1.5 * root / head};
}

/// Flow over the round rim of a pipe, and how it moves with the head over it.
struct RimFlow {
  double flow = 0.0, slope = 0.0;
};
RimFlow rim_flow(double head, Length<> bore, double coefficient, const Laws& laws) {
  if (head <= 0.0) return {};
  const science::RimCoefficients rim{Number<>(coefficient), Number<>(0.60)};
  const bool weir = head < science::rim_crossing_head(bore, rim, laws.gravity).si();
  const double q = science::standpipe_rim_flow(Length<>(head), bore, rim, laws.gravity).si();
  return {q, (weir ? 1.5 : 0.5) * q / head};
}

double siphon_end(const Siphon& s, double down) {
  return s.outlet_level ? std::max(s.outlet_level->si(), down) : down;
}

}  // namespace

Plumbing::Passing Plumbing::through(const science::PipeLaw& law, double k, double up, double end) {
  const double drop = up - end;
  if (drop <= 0.0) return {};
  const bool soft = drop < kSoftPipe;
  const Rounded r = soft ? rounded(drop / kSoftPipe, 1.0) : Rounded{1.0, 1.0};
  const double head = soft ? kSoftPipe * r.value : drop;
  double q = law.flow(head);
  double low = 0.0, high = q;  // the pipe alone carries no less
  for (int i = 0; k > 0.0 && i < 60; ++i) {
    const auto l = law.at(q);
    const double excess = l.loss + k * q * q - head;
    (excess > 0.0 ? high : low) = q;
    double next = q - excess / (l.slope + 2.0 * k * q);
    if (!(next >= low && next <= high)) next = 0.5 * (low + high);
    const bool settled = std::abs(next - q) <= 1e-15 * q;
    q = next;
    if (settled) break;
  }
  const double slope = r.slope / (law.at(q).slope + 2.0 * k * q);
  return {q, slope, -slope};
}

/// Whether a full pipe carries a flow, which is asked more cheaply than how much it carries.
bool Plumbing::carries(const science::PipeLaw& law, double flow, double up, double end) {
  return flow <= 0.0 || (up - end >= kSoftPipe && law.at(flow).loss <= up - end);
}

/// What passes the rim from a height of water outside the sleeve: the sleeve takes k Q^2 of it.
///
///   weir     Q = c h^1.5, h + k c^2 h^3 = over, by Newton
///   orifice  Q = c sqrt(h), h (1 + k c^2) = over
Plumbing::Passing Plumbing::over_rim(const Overflow& o, double over) const {
  const auto free = [&](double h) { return rim_flow(h, o.standpipe_bore, o.rim_coefficient, loop_.laws); };
  if (!o.sleeve) return {free(over).flow, free(over).slope, 0.0};
  const double k = sleeve_loss(o, Flow<>(1.0)).si();
  const science::RimCoefficients rim{Number<>(o.rim_coefficient), Number<>(0.60)};
  const double weir = science::rim_weir_flow(Length<>(1.0), o.standpipe_bore, rim.weir).si();
  const double crossing = science::rim_crossing_head(o.standpipe_bore, rim, loop_.laws.gravity).si();
  const double a = k * weir * weir;
  if (over > crossing + a * crossing * crossing * crossing) {
    const double hole = free(4.0 * crossing).flow / std::sqrt(4.0 * crossing), h = over / (1.0 + k * hole * hole);
    return {hole * std::sqrt(h), 0.5 * hole * std::sqrt(h) / over, 0.0};
  }
  double h = over;
  for (int i = 0; i < 40; ++i) {
    const double step = (h + a * h * h * h - over) / (1.0 + 3.0 * a * h * h);
    h -= step;
    if (std::abs(step) <= 1e-15 * over) break;
  }
  return {free(h).flow, free(h).slope / (1.0 + 3.0 * a * h * h), 0.0};
}

/// The smaller of what passes the rim and what the return carries once it has backed up to the rim. Where water falls
/// freely it is the rim that drowns.
Plumbing::Passing Plumbing::overflow(std::size_t i, double up, double down) const {
  const Overflow& o = loop_.overflows[i];
  const double over = up - o.rim.si();
  if (over <= 0.0 || up <= down) return {};
  const Passing by_rim = over_rim(o, over);
  if (!o.back) {
    const Share s = drowned_share(over, down - o.rim.si());
    return {by_rim.flow * s.share, by_rim.by_up * s.share + by_rim.flow * s.by_head, by_rim.flow * s.by_back};
  }
  const double end = outlet_height(o, Length<>(down)).si();
  if (end + back_laws_[i].at(by_rim.flow).loss <= o.rim.si()) return by_rim;
  const Passing backed_up = through(back_laws_[i], sleeve_loss(o, Flow<>(1.0)).si(), up, end);
  if (backed_up.flow >= by_rim.flow) return by_rim;
  return {backed_up.flow, backed_up.by_up, end == down ? backed_up.by_down : 0.0};
}

Plumbing::Passing Plumbing::full_overflow(std::size_t i, double up, double down) const {
  const Overflow& o = loop_.overflows[i];
  if (!o.back) return {};
  const double end = outlet_height(o, Length<>(down)).si();
  const Passing full = through(back_laws_[i], sleeve_loss(o, Flow<>(1.0)).si(), up, end);
  return {full.flow, full.by_up, end == down ? full.by_down : 0.0};
}

Plumbing::Passing Plumbing::idle_siphon(std::size_t i, double up, double down) const {
  const Siphon& s = loop_.siphons[i];
  const RimFlow over = rim_flow(up - s.rim.si(), s.run.bore, s.rim_coefficient, loop_.laws);
  const Passing idle{over.flow, over.slope, 0.0};
  if (carries(siphon_laws_[i], over.flow, up, siphon_end(s, down))) return idle;
  const Passing full = full_siphon(i, up, down);
  return over.flow <= full.flow ? idle : full;
}

Plumbing::Passing Plumbing::full_siphon(std::size_t i, double up, double down) const {
  const Siphon& s = loop_.siphons[i];
  const double end = siphon_end(s, down);
  const Passing full = through(siphon_laws_[i], 0.0, up, end);
  return {full.flow, full.by_up, end == down ? full.by_down : 0.0};
}

/// Behind the siphon the water in the stones slopes. With a flow that gathers evenly along a bed as long as wide, and
/// water of depth d, its mean stands Q / (2 K d) above the siphon's end (Darcy; d not under 20 mm). Newton on
/// Q = F(up - r Q), which is monotone, from above.
Plumbing::Passing Plumbing::primed_siphon(std::size_t i, double up, double down) const {
  const Vessel& bed = loop_.vessels[at(loop_.siphons[i].from)];
  if (!bed.hydraulic_conductivity) return full_siphon(i, up, down);
  constexpr double kThin = 0.02;
  const double depth = up - bed.floor.si(), r = 0.5 / (bed.hydraulic_conductivity->si() * std::max(depth, kThin));
  double low = 0.0, high = full_siphon(i, up, down).flow, q = high;
  Passing p{};
  for (int n = 0; n < 60; ++n) {
    p = full_siphon(i, up - r * q, down);
    const double excess = q - p.flow;
    (excess > 0.0 ? high : low) = q;
    double next = q - excess / (1.0 + r * p.by_up);
    if (!(next >= low && next <= high)) next = 0.5 * (low + high);
    const bool settled = std::abs(next - q) <= 1e-14 * high;
    q = next;
    if (settled) break;
  }
  const double share = 1.0 / (1.0 + r * p.by_up), deepens = depth > kThin ? q * r / depth : 0.0;
  return {q, p.by_up * (1.0 + deepens) * share, p.by_down * share};
}

Length<> Plumbing::level_before(std::size_t i, Length<> up, Length<> down) const {
  const Vessel& bed = loop_.vessels[at(loop_.siphons[i].from)];
  if (!bed.hydraulic_conductivity) return up;
  const double q = primed_siphon(i, up.si(), down.si()).flow, depth = std::max((up - bed.floor).si(), 0.02);
  return up - Length<>(0.5 * q / (bed.hydraulic_conductivity->si() * depth));
}

Plumbing::Passing Plumbing::drain_hole(std::size_t i, double up, double down) const {
  const DrainHole& h = loop_.drain_holes[i];
  const double end = std::max(h.level.si(), down), head = up - end;
  if (head <= 0.0) return {};
  const Length<> full(std::max(head, kSoftHole));
  double q = h.count * science::drain_hole_flow(full, h.diameter, Number<>(h.coefficient), loop_.laws.gravity).si();
  double slope = 0.5 * q / head;
  if (head < kSoftHole) {
    const Rounded r = rounded(head / kSoftHole, 0.5);
    slope = r.slope * q / kSoftHole;
    q *= r.value;
  }
  return {q, slope, end == down ? -slope : 0.0};
}

Plumbing::Passing Plumbing::weir(std::size_t i, double up, double down) const {
  const Weir& w = loop_.weirs[i];
  const double h = up - w.crest.si(), back = down - w.crest.si();
  if (h <= 0.0 || back >= h) return {};
  const double free = w.coefficient * w.width.si() * h * std::sqrt(h), slope = 1.5 * free / h;
  const Share s = drowned_share(h, back);
  return {free * s.share, slope * s.share + free * s.by_head, free * s.by_back};
}

Flow<> Plumbing::idle_flow(std::size_t siphon, Length<> up, Length<> down) const {
  return Flow<>(loop_.siphons[siphon].blocked ? 0.0 : idle_siphon(siphon, up.si(), down.si()).flow);
}

Flow<> Plumbing::full_flow(std::size_t siphon, Length<> up, Length<> down) const {
  return Flow<>(loop_.siphons[siphon].blocked ? 0.0 : full_siphon(siphon, up.si(), down.si()).flow);
}

Flow<> Plumbing::priming_flow(const Siphon& s) const {
  return science::drain_flow_at(Number<>(s.priming), s.run.bore, loop_.laws.gravity);
}

Length<> Plumbing::priming_level(const Siphon& s) const {
  return s.rim + science::standpipe_rim_head(priming_flow(s), s.run.bore);
}

Flow<> Plumbing::priming_flow(const Overflow& o) const {
  return science::drain_flow_at(Number<>(0.54), o.standpipe_bore, loop_.laws.gravity);
}

}  // namespace leat::model
