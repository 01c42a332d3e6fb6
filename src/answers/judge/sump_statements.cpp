// The vessel with the pumps: how much water it may hold, how long it lasts, what covers the intake, what tops it up.
#include <fmt/core.h>

#include <algorithm>

#include "answers/judge/plumbing_statements.h"
#include "base/words/quantities.h"
#include "science/hydraulics/drops.h"

namespace leat::answers {
namespace {

using namespace model;
using words::shown_text;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// How far the lowest level of the sump may fall and its highest rise, whatever the beds hold.
void fill_window_is_open(const CheckStudy& study, CheckAnswer& a) {
  if (!study.mobile) return;
  const MobileWater& m = *study.mobile;
  const Vessel& sump = study.loop.vessels[at(m.sump)];
  Finding f{"fill_window_is_open",
            sump.path,
            "water",
            m.window().si(),
            2.0 * m.margin.si(),
            true,
            {},
            {},
            {},
            "every bed and rim at its fullest against all of them drained; 50 mm at both ends, common practice"};
  f.verdict = m.window().si() <= 0.0 ? Verdict::bad : f.margin() < 0.0 ? Verdict::tight : Verdict::good;
  const double centimetres = 100.0 * (m.window() / sump.water_area()).si();
  if (m.window().si() > 0.0)
    f.reason = fmt::format("with everything drained it may hold {} to {}: a window of {}, {:.1f} cm",
                           shown_text("water", m.least().si()), shown_text("water", m.at_brim.si()),
                           shown_text("water", m.window().si()), centimetres);
  else
    f.reason = fmt::format("no fill level works: {} may be held up above, and between cut-out and brim there are {}",
                           shown_text("water", m.hold_up.si()), shown_text("water", (m.at_brim - m.at_cut_out).si()));
  const bool outside = m.now < m.least() || m.now > m.at_brim;
  if (m.window().si() > 0.0 && outside) {
    f.verdict = Verdict::bad;
    f.reason += fmt::format("; now it would hold {}", shown_text("water", m.now.si()));
    f.action = m.now < m.least() ? fmt::format("add {} of water", shown_text("water", (m.least() - m.now).si()))
                                 : fmt::format("take {} of water out", shown_text("water", (m.now - m.at_brim).si()));
  } else if (f.verdict == Verdict::bad) {
    f.action = fmt::format("add {} of sump, or let fewer beds fill at a time", shown_text("water", -m.window().si()));
  } else if (f.verdict == Verdict::tight) {
    f.action = fmt::format("with the wanted margins it is {} short: a larger sump", shown_text("water", -f.margin()));
  }
  a.findings.push_back(f);
}

/// Evaporation takes 3 to 8 mm a day of open water in warm dry weather, and all of it shows in the sump.
void sump_lasts_without_top_up(const CheckStudy& study, CheckAnswer& a) {
  if (!study.mobile || study.cycle.kind == Cycle::Kind::none) return;
  const auto sump = at(study.mobile->sump);
  const Vessel& vessel = study.loop.vessels[sump];
  Length<> cut_out = vessel.floor;
  for (const Pump& pump : study.loop.pumps)
    if (at(pump.vessel) == sump) cut_out = std::max(cut_out, pump.dry_run_level);
  const double over = (study.cycle.vessels[sump].low - cut_out).si();
  double open = 0.0;
  for (const Vessel& v : study.loop.vessels)
    if (!v.held_level) open += v.area.si() * (v.kind == VesselKind::gravel_bed ? 1.0 : 1.0 - v.cover);
  const auto days = [&](double mm) { return over * vessel.water_area().si() / (1e-3 * mm * open); };
  Finding f{"sump_lasts_without_top_up",
            vessel.path,
            "freeboard",
            over,
            0.05,
            true,
            {},
            {},
            {},
            "50 mm over the cut-out; 3 to 8 mm a day lost from open water: common practice, no source"};
  f.verdict = over <= 0.0 ? Verdict::bad : over < 0.05 ? Verdict::tight : Verdict::good;
  f.reason = fmt::format("its lowest level is {} over the cut-out: {:.0f} to {:.0f} warm dry days without top-up",
                         shown_text("freeboard", over), std::floor(std::max(0.0, days(8.0))),
                         std::floor(std::max(0.0, days(3.0))));
  if (f.verdict != Verdict::good)
    f.action = fmt::format("add {}", shown_text("water", (0.05 - over) * vessel.water_area().si()));
  a.findings.push_back(f);
}

void pump_intake_is_covered(const CheckStudy& study, CheckAnswer& a) {
  if (study.cycle.kind == Cycle::Kind::none) return;
  for (std::size_t p = 0; p < study.loop.pumps.size(); ++p) {
    const Pump& pump = study.loop.pumps[p];
    const auto pipe = std::find_if(study.loop.pipes.begin(), study.loop.pipes.end(), [&](const Pipe& candidate) {
      return candidate.from.what == End::What::pump && at(candidate.from.index) == p;
    });
    if (pipe == study.loop.pipes.end() || study.cycle.most.pumps[p].si() <= 0.0) continue;
    const Length<> bore = pipe->run.bore;
    const Velocity<> v = science::pipe_velocity(study.cycle.most.pumps[p], bore);
    const Length<> needed = std::max(science::intake_submergence(v, bore, study.loop.laws.gravity), Length<>(0.1));
    const double cover = (study.cycle.vessels[at(pump.vessel)].low - study.loop.vessels[at(pump.vessel)].floor).si();
    Finding f{"pump_intake_is_covered",
              pump.path,
              "freeboard",
              cover,
              needed.si(),
              true,
              {},
              {},
              {},
              "D (1 + 2.3 V/sqrt(gD)), after ANSI/HI 9.8 (a trade page), and 100 mm; intake taken at the floor"};
    f.verdict = f.margin() < 0.0 ? (cover < 0.5 * needed.si() ? Verdict::bad : Verdict::tight) : Verdict::good;
    f.reason = fmt::format("{} of water covers its intake at the lowest; below {} it may draw air",
                           shown_text("freeboard", cover), shown_text("freeboard", needed.si()));
    if (f.verdict != Verdict::good) f.action = "more water, or a strainer with a wider mouth";
    a.findings.push_back(f);
  }
}

/// What the float adds while the sump is low is too much once everything has drained.
void float_leaves_room(const CheckStudy& study, CheckAnswer& a) {
  if (study.cycle.kind == Cycle::Kind::none) return;
  for (const Source& source : study.loop.sources) {
    if (!source.float_level || source.top_up == TopUp::none) continue;
    const auto v = at(source.vessel);
    const Vessel& vessel = study.loop.vessels[v];
    const Length<> swing = study.cycle.vessels[v].high - study.cycle.vessels[v].low;
    Length<> back(0.0);
    for (const FaultRun& run : study.faults)
      if (run.fault.kind == Fault::Kind::power) back = std::max(back, run.marks[v].high - run.before[v]);
    // The float acts on the lowest level of the cycle.
    const Length<> highest = *source.float_level + std::max(swing, back);
    Finding f{"float_leaves_room",
              source.path,
              "freeboard",
              (vessel.rim - highest).si(),
              study.loop.limits.freeboard.si(),
              true,
              {},
              {},
              {},
              "50 mm: common practice, no source"};
    f.verdict = f.value < 0.0 ? Verdict::bad : f.margin() < 0.0 ? Verdict::tight : Verdict::good;
    f.reason =
        fmt::format("it fills to {} at the lowest of the cycle; after a power cut that stands at {}, {} under the brim",
                    shown_text("level", source.float_level->si()), shown_text("level", highest.si()),
                    shown_text("freeboard", f.value));
    if (f.verdict != Verdict::good)
      f.action = fmt::format("set the float {} lower", shown_text("freeboard", -f.margin()));
    a.findings.push_back(f);
  }
}

void top_up_has_its_air_gap(const CheckStudy& study, CheckAnswer& a) {
  for (const Source& source : study.loop.sources) {
    if (!source.float_level && !source.outlet_level) continue;
    const auto v = at(source.vessel);
    const Length<> bore = source.bore.value_or(Length<>(0.015));
    const Length<> needed = science::air_gap_minimum(bore);
    Finding f{"top_up_has_its_air_gap",
              source.path,
              "freeboard",
              0.0,
              needed.si(),
              true,
              Verdict::cannot_tell,
              "the height of its end is not said",
              "say outlet_level; the end stands clear of the highest water",
              "20 mm, and twice its bore (UK water regulations guidance); ask for what your place requires"};
    if (source.outlet_level) {
      const Length<> highest = std::max(a.vessels[v].running, a.vessels[v].at_rest);
      f.value = (*source.outlet_level - highest).si();
      f.verdict = f.margin() < 0.0 ? Verdict::bad : Verdict::good;
      f.reason = fmt::format("its end stands {} over the highest water", shown_text("freeboard", f.value));
      f.action = f.margin() < 0.0 ? "raise its end, or water may be drawn back into the supply" : "";
    }
    a.findings.push_back(f);
  }
}

}  // namespace

void judge_sump(const CheckStudy& study, CheckAnswer& a) {
  fill_window_is_open(study, a);
  sump_lasts_without_top_up(study, a);
  pump_intake_is_covered(study, a);
  float_leaves_room(study, a);
  top_up_has_its_air_gap(study, a);
}

}  // namespace leat::answers
