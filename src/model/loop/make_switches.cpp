// What opens, shuts and switches: timers, floats, hand valves, sequencing valves.
#include <algorithm>

#include "model/loop/make.h"
#include "model/loop/wording.h"
#include "science/hydraulics/minor_losses.h"

namespace leat::model {
namespace {

using namespace units;

void set_timer(Filling& fill, const Component& c, Pump& pump) {
  const auto on = fill.said<dim::time>(c, "on_for"), off = fill.said<dim::time>(c, "off_for");
  const auto after = fill.said<dim::time>(c, "starts_after");
  if (on && off) pump.schedule = Schedule{*on, *off, after.value_or(Duration<>(0.0))};
  if (on.has_value() != off.has_value())
    fill.complain(c, on ? "on_for" : "off_for",
                  fmt::format("has no {0} beside it; a timer has both, such as {0} = \"{1}\"",
                              on ? "off_for" : "on_for", on ? "45 min" : "15 min"));
  if (after && !on && !off)
    fill.complain(c, "starts_after", "belongs to a timer; add on_for and off_for, or leave it out");
}

void set_float(Filling& fill, const Component& c, const Loop& loop, Pump& pump) {
  pump.float_on = fill.said<dim::length>(c, "float_on");
  pump.float_off = fill.said<dim::length>(c, "float_off");
  if (pump.float_on.has_value() != pump.float_off.has_value()) {
    fill.complain(c, pump.float_on ? "float_on" : "float_off",
                  fmt::format("has no {} beside it; a float switch starts at one height and stops at a lower one",
                              pump.float_on ? "float_off" : "float_on"));
    pump.float_on = pump.float_off = std::nullopt;
    return;
  }
  if (!pump.float_on) return;
  if (*pump.float_off >= *pump.float_on && Filling::sound(c, {"float_on", "float_off"}))
    fill.complain(c, "float_off",
                  fmt::format("{} is not under float_on at {}; the pump starts at the higher and stops at the lower",
                              quoted(Filling::written(c, "float_off")), metres(*pump.float_on)));
  if (pump.vessel < 0) return;
  const Vessel& v = loop.vessels[static_cast<std::size_t>(pump.vessel)];
  if (sound_heights(fill, v) && (*pump.float_off < v.floor || *pump.float_on > v.rim))
    fill.complain(c, "float_on",
                  fmt::format("{} with float_off is not between the floor at {} and the rim at {} of {}",
                              quoted(Filling::written(c, "float_on")), metres(v.floor), metres(v.rim), v.path));
}

SequencingValve make_valve(Filling& fill, const Component& c) {
  SequencingValve valve;
  valve.path = c.path();
  valve.bore = fill.take<dim::length>(c, "bore", 32.0 * millimetre, "32 mm", "not said; measure the inside");
  valve.loss = fill.number(c, "loss", 12.0, "the maker's sheet says it; a small valve takes 8 to 15 (common practice)");
  valve.lift_flow = fill.take<dim::flow>(c, "lift_flow", 2000.0 * litre_per_hour, "2000 L/h",
                                         "the maker's sheet says it; small ones need about 2 m3/h");
  valve.lift_time = fill.said<dim::time>(c, "lift_time").value_or(Duration<>(0.0));
  valve.drop_time = fill.said<dim::time>(c, "drop_time").value_or(Duration<>(0.0));
  valve.level = fill.said<dim::length>(c, "level");
  valve.drop_head = fill.said<dim::length>(c, "drop_head");
  if (valve.drop_head && !valve.level)
    fill.complain(c, "drop_head", "needs the height of the valve, such as level = \"1.60 m\"");
  valve.stuck = fill.flag(c, "stuck", false);
  const Said* first = c.find("first");
  valve.first = first ? static_cast<int>(first->number) - 1 : 0;
  return valve;
}

/// Its outlets in the order said, or as the pipes stand in the file.
void order_one(Filling& fill, const Component& c, const Loop& loop, int v, SequencingValve& valve) {
  std::vector<int> leaving;
  int arriving = 0;
  for (std::size_t i = 0; i < loop.pipes.size(); ++i) {
    const Pipe& pipe = loop.pipes[i];
    if (pipe.from.what == End::What::valve && pipe.from.index == v) leaving.push_back(static_cast<int>(i));
    arriving += pipe.to.what == End::What::valve && pipe.to.index == v;
  }
  if (leaving.size() < 2 || leaving.size() > 6)
    fill.complain(c, "",
                  fmt::format("has {} pipe{} leaving it; a sequencing valve has two to six outlets, each a pipe "
                              "with from = {}",
                              leaving.size(), leaving.size() == 1 ? "" : "s", quoted(c.path())));
  if (arriving != 1)
    fill.complain(c, "", fmt::format("is fed by {} pipes; exactly one pipe has to = {}", arriving, quoted(c.path())));
  valve.outlets = leaving;
  if (const Said* said = c.find("outlets")) {
    std::vector<int> order;
    for (const std::string& name : said->words) {
      const auto found = std::find_if(leaving.begin(), leaving.end(),
                                      [&](int i) { return loop.pipes[static_cast<std::size_t>(i)].path == name; });
      if (found == leaving.end() || std::count(order.begin(), order.end(), *found) > 0) {
        fill.complain(c, "outlets",
                      fmt::format("{} is not a pipe that leaves this valve, or stands twice; name each "
                                  "pipe with from = {} once, such as \"pipe.line_1\"",
                                  quoted(name), quoted(c.path())));
        return;
      }
      order.push_back(*found);
    }
    if (order.size() != leaving.size())
      return fill.complain(
          c, "outlets",
          fmt::format("names {} of the {} pipes that leave this valve; name each once", order.size(), leaving.size()));
    valve.outlets = order;
  }
  if (valve.first >= static_cast<int>(leaving.size()) && !leaving.empty())
    fill.complain(c, "first", fmt::format("{} is more than its {} outlets", valve.first + 1, leaving.size()));
}

}  // namespace

void switch_pump(Filling& fill, const Component& c, const Loop& loop, Pump& pump) {
  set_timer(fill, c, pump);
  set_float(fill, c, loop, pump);
}

void make_valves(Filling& fill, Loop& loop) {
  for (const Component* c : fill.description().of_kind("sequencing_valve")) loop.valves.push_back(make_valve(fill, *c));
}

void order_outlets(Filling& fill, Loop& loop) {
  for (std::size_t v = 0; v < loop.valves.size(); ++v)
    order_one(fill, *fill.description().find(loop.valves[v].path), loop, static_cast<int>(v), loop.valves[v]);
}

bool open_valve(const Component& c, PipeRun& run) {
  const Said* opening = c.find("opening");
  if (!opening || opening->number >= 1.0) return false;
  const double turned = 90.0 * (1.0 - opening->number);
  run.minor_losses = run.minor_losses + science::minor_loss_ball_valve(Number<>(turned)) -
                     science::minor_loss_ball_valve(Number<>(0.0));
  return true;
}

PipeRun fouled(PipeRun run, double times) {
  run.length = times * run.length;
  run.minor_losses = times * run.minor_losses;
  return run;
}

}  // namespace leat::model
