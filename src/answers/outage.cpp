#include "answers/outage.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "answers/check_study.h"
#include "science/gas/aeration.h"

namespace leat::answers {
namespace {

using namespace model;
using Kind = Fault::Kind;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

bool stops_pumps(Kind kind) {
  return kind == Kind::power || kind == Kind::power_and_valves || kind == Kind::check_valve;
}

std::string event_words(const WaterEvent& e, const Loop& loop) {
  const std::string when = after_text(e.at);
  switch (e.what) {
    case WaterChange::pump_starts:
      return fmt::format("{}: {} starts", when, e.path);
    case WaterChange::pump_stops:
      return fmt::format("{}: {} stops", when, e.path);
    case WaterChange::pump_runs_dry:
      return fmt::format("{}: {} runs dry", when, e.path);
    case WaterChange::siphon_primes:
      return fmt::format("{}: {} starts to siphon", when, e.path);
    case WaterChange::siphon_breaks:
      return fmt::format("{}: {} breaks, its prime is lost", when, e.path);
    case WaterChange::overflow_siphons:
      return fmt::format("{}: {} has filled and draws from the floor", when, e.path);
    case WaterChange::overflow_breaks:
      return fmt::format("{}: {} draws air", when, e.path);
    case WaterChange::valve_turns:
      return fmt::format("{}: {} turns to outlet {}", when, e.path, e.detail + 1);
    case WaterChange::valve_stays:
      return fmt::format("{}: {} stays on outlet {}", when, e.path, e.detail + 1);
    case WaterChange::end_draws_air:
      return fmt::format("{}: the end of {} is clear of the water", when, e.path);
    case WaterChange::end_drowns:
      return fmt::format("{}: the end of {} is under water", when, e.path);
    case WaterChange::spill_begins:
      return fmt::format("{}: {} spills", when, e.path);
    case WaterChange::spill_ends:
      return fmt::format("{}: {} no longer spills", when, e.path);
    case WaterChange::hunts:
      return fmt::format("{}: {} switches all the time; its mean is taken from here", when, e.path);
    case WaterChange::power_fails:
      return fmt::format("{}: the power fails", when);
    case WaterChange::power_returns:
      return fmt::format("{}: the power is back", when);
  }
  (void)loop;
  return {};
}

/// What happens, without the timers and floats that go on switching a pump which has no power.
std::vector<WaterEvent> felt(const std::vector<WaterEvent>& events) {
  std::vector<WaterEvent> all;
  bool power = true;
  for (const WaterEvent& e : events) {
    if (e.what == WaterChange::power_fails || e.what == WaterChange::power_returns)
      power = e.what == WaterChange::power_returns;
    if (power || (e.what != WaterChange::pump_starts && e.what != WaterChange::pump_stops)) all.push_back(e);
  }
  return all;
}

std::vector<std::string> words_of(const std::vector<WaterEvent>& happened, const Loop& loop, std::size_t most) {
  const std::vector<WaterEvent> events = felt(happened);
  std::vector<std::string> all;
  for (const WaterEvent& e : events) {
    if (all.size() == most) {
      all.push_back(fmt::format("... and {} more", events.size() - most));
      break;
    }
    all.push_back(event_words(e, loop));
  }
  return all;
}

void tell_water(const Loop& loop, const FaultRun& run, OutageAnswer& a) {
  for (std::size_t v = 0; v < loop.vessels.size(); ++v)
    a.vessels.push_back({loop.vessels[v].path, run.before[v], run.marks[v].low, run.marks[v].high, run.after[v],
                         share_kept(loop, run, v), run.spilled[v], run.fed_until[v]});
  a.finished = run.finished;
  a.said = run.said;
  if (run.first_spill >= 0) a.first_spill = loop.vessels[at(run.first_spill)].path;
  a.spills_after = run.spills_after;
  a.burst = run.burst;
  a.lost = run.lost();
  a.dry_pump = run.dry_pump;
  a.dry_after = run.dry_after;
  a.events = words_of(run.events, loop, 14);
  for (const Pump& pump : loop.pumps) {
    const auto v = at(pump.vessel);
    const Volume<> rises = loop.vessels[v].water_area() * (run.marks[v].high - run.before[v]);
    if (rises <= a.comes_back) continue;
    a.comes_back = rises;
    a.sump_room = loop.vessels[v].water_area() * (loop.vessels[v].rim - run.before[v]);
  }
}

/// The state of the cycle from which this failure does most: by what it spills, then by what the fish lose.
FaultRun worst_run(const Loop& loop, const Plumbing& plumbing, const Cycle& cycle, const OutageRequest& request) {
  FaultTimes times;
  times.span = request.span;
  FaultRun worst;
  double badness = -1.0;
  for (const WaterState& state : hurting_states(plumbing, cycle)) {
    FaultRun run = run_fault(loop, request.fault, state, times);
    double kept = 1.0;
    for (std::size_t v = 0; v < loop.vessels.size(); ++v)
      if (loop.vessels[v].kind == VesselKind::tank) kept = std::min(kept, share_kept(loop, run, v));
    const double this_bad = run.lost().si() + (1.0 - kept);
    if (this_bad <= badness) continue;
    badness = this_bad;
    worst = std::move(run);
  }
  return worst;
}

/// Water of raft beds and sumps, from which buckets may be carried.
Volume<> to_carry_from(const Loop& loop, const FaultRun& run) {
  Volume<> all{};
  for (std::size_t v = 0; v < loop.vessels.size(); ++v)
    if (loop.vessels[v].kind == VesselKind::raft_bed || loop.vessels[v].kind == VesselKind::sump)
      all += loop.vessels[v].volume_at(run.after[v]);
  return all;
}

bool fish_in(const Loop& loop, std::size_t v) {
  return std::any_of(loop.fish.begin(), loop.fish.end(), [&](const FishGroup& g) { return at(g.vessel) == v; });
}

/// What air lines still bring to a tank, as a flow of water brought to saturation.
Flow<> air_that_runs_on(const Loop& loop, std::size_t v, const OutageRequest& request) {
  Flow<> all{};
  if (stops_pumps(request.fault.kind)) return all;
  for (const AirLine& air : loop.airs)
    if (at(air.vessel) == v)
      all += science::exchange_flow_of_air_stone(air.flow,
                                                 Number<>(std::min(1.0, air.transfer_per_metre * air.depth.si())));
  return all;
}

DrawdownInput input_of(const Loop& loop, std::size_t v, const FaultRun& run, const OutageRequest& request,
                       const OutageAnswer& a) {
  const Vessel& vessel = loop.vessels[v];
  DrawdownInput input;
  input.water = vessel.volume_at(std::min(run.before[v], run.after[v]));
  input.open_surface = vessel.area * (1.0 - vessel.cover);
  input.temperature = request.temperature;
  input.oxygen = request.oxygen;
  input.since = request.since;
  input.since_known = request.since_known;
  input.span = request.span;
  input.fed_ago = request.fed_ago;
  input.air_exchange = air_that_runs_on(loop, v, request);
  if (request.battery_air) input.battery_air = *request.battery_air;
  input.battery = request.battery;
  input.comes_back = a.comes_back;
  input.sump_room = a.sump_room;
  input.elsewhere = to_carry_from(loop, run);
  input.alone = loop.vessels.size() == 1;
  input.siphons = !loop.siphons.empty();
  input.vent_in_doubt = std::any_of(loop.overflows.begin(), loop.overflows.end(), [&](const Overflow& o) {
    return at(o.from) == v && o.sleeve && o.back &&
           (!o.vented || std::any_of(loop.assumptions.begin(), loop.assumptions.end(),
                                     [&](const Assumption& assumed) { return assumed.path == o.path + ".vented"; }));
  });
  return input;
}

/// A tank that is still fed keeps its oxygen.
void tell_fish(const Loop& loop, const FaultRun& run, const OutageRequest& request, OutageAnswer& a) {
  a.has_fish = std::any_of(loop.fish.begin(), loop.fish.end(), [](const FishGroup& g) { return g.count > 0.0; });
  for (std::size_t v = 0; v < loop.vessels.size(); ++v)
    if (fish_in(loop, v) && run.fed_until[v])
      a.fish.push_back(draw_down_surely(
          loop, v, [&](const Loop& member) { return input_of(member, v, run, request, a); }, request.draws));
}

/// The power back after a while, and failing once more while the vessels refill.
void tell_return(const Loop& loop, const Cycle& cycle, const OutageRequest& request, OutageAnswer& a) {
  FaultTimes times;
  times.span = request.span;
  times.returns = request.returns.value_or(Duration<>(3600.0));
  const auto from_return = [&](const FaultRun& run) {
    std::vector<WaterEvent> later;
    for (const WaterEvent& e : run.events)
      if (e.at >= *times.returns) later.push_back(e);
    return later;
  };
  const FaultRun back = run_fault(loop, request.fault, cycle.start, times);
  a.returning = words_of(from_return(back), loop, 8);
  std::string last;
  for (std::size_t v = 0; v < loop.vessels.size(); ++v)
    if (loop.vessels[v].kind == VesselKind::tank && back.fed_until[v]) last += " " + loop.vessels[v].path;
  a.returning.push_back(last.empty() ? "every tank is fed again" : "still without water:" + last);
  times.fails_again = request.fails_again.value_or(*times.returns + Duration<>(300.0));
  const FaultRun again = run_fault(loop, request.fault, cycle.start, times);
  a.lost_second = again.lost();
  for (const WaterEvent& e : felt(again.events))
    if (e.at >= *times.fails_again && a.failing_again.size() < 8) a.failing_again.push_back(event_words(e, loop));
}

}  // namespace

std::string fault_words(const Fault& fault) {
  switch (fault.kind) {
    case Kind::power:
      return "the power fails";
    case Kind::power_and_valves:
      return "the power fails, no check valve holds";
    case Kind::pump:
      return fault.path + " stops";
    case Kind::blocked:
      return fault.path + " is blocked";
    case Kind::half_blocked:
      return fault.path + " is half blocked";
    case Kind::check_valve:
      return "the power fails, " + fault.path + "'s check valve leaks";
    case Kind::valve_stuck:
      return fmt::format("{} sticks on outlet {}", fault.path, fault.outlet + 1);
    case Kind::top_up_open:
      return "the float valve stays open";
    case Kind::blocked_and_open:
      return fault.path + " is blocked, the float open";
    case Kind::burst:
      return fault.path + " bursts at its lowest point";
  }
  return {};
}

std::vector<std::pair<std::string, Fault>> named_faults(const Loop& loop) {
  std::vector<std::pair<std::string, Fault>> all;
  for (const Fault& fault : possible_faults(loop)) {
    switch (fault.kind) {
      case Kind::power:
        all.emplace_back("power", fault);
        break;
      case Kind::power_and_valves:
        all.emplace_back("power and check valves", fault);
        break;
      case Kind::pump:
        all.emplace_back(fault.path, fault);
        break;
      case Kind::blocked:
        all.emplace_back(fault.path + " blocked", fault);
        break;
      case Kind::half_blocked:
        all.emplace_back(fault.path + " half blocked", fault);
        break;
      case Kind::check_valve:
        all.emplace_back(fault.path + " check valve", fault);
        break;
      case Kind::valve_stuck:
        all.emplace_back(fmt::format("{} stuck {}", fault.path, fault.outlet + 1), fault);
        break;
      case Kind::top_up_open:
        all.emplace_back("top-up", fault);
        break;
      case Kind::blocked_and_open:
        all.emplace_back(fault.path + " blocked and top-up", fault);
        break;
      case Kind::burst:
        all.emplace_back(fault.path + " burst", fault);
        break;
    }
  }
  if (loop.pumps.size() == 1) all.emplace_back(loop.pumps[0].path, Fault{Kind::pump, loop.pumps[0].path});
  return all;
}

OutageAnswer outage(const Loop& loop, const OutageRequest& request) {
  const Plumbing plumbing(loop);
  const Cycle cycle = find_cycle(plumbing, water_at_rest(loop));
  OutageAnswer a;
  a.loop_name = loop.name;
  a.fault = fault_words(request.fault);
  a.span = request.span;
  a.since = request.since;
  a.since_known = request.since_known;
  a.assumptions = loop.assumptions;
  if (cycle.kind == Cycle::Kind::none) {
    a.finished = false;
    a.said = "the running loop finds no rest: " + cycle.said;
    return a;
  }
  const FaultRun run = worst_run(loop, plumbing, cycle, request);
  tell_water(loop, run, a);
  tell_fish(loop, run, request, a);
  if (stops_pumps(request.fault.kind)) tell_return(loop, cycle, request, a);
  return a;
}

}  // namespace leat::answers
