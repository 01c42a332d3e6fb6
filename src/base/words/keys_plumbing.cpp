// The words for what moves water.
#include "base/words/key_rows.h"

namespace leat::words {
namespace {

constexpr double kDay = 86400.0;

Key level(std::string_view name, std::string_view example, std::string_view meaning) {
  return length(name, -10.0, 50.0, example, meaning);
}
Key duration(std::string_view name, double low, double high, std::string_view example, std::string_view meaning) {
  return quantity(name, dim::time, low, high, example, meaning);
}
Key flow(std::string_view name, std::string_view example, std::string_view meaning) {
  return quantity(name, dim::flow, 1e-7, 0.1, example, meaning);
}
Key blocked() {
  return flag("blocked", "false", "true when nothing can pass");
}
std::vector<Key> ends(std::string_view from_meaning, std::string_view to_meaning) {
  return {reference("from", kVessels, "\"gravel_bed.south\"", from_meaning),
          reference("to", kVessels, "\"sump.main\"", to_meaning)};
}

Kind pump() {
  return {"pump",
          false,
          false,
          "a pump",
          {reference("in", kVessels, "\"sump.main\"", "the vessel it draws from"),
           quantity("shut_off_head", dim::length, 0.05, 100.0, "\"4.0 m\"", "head at which it delivers nothing"),
           quantity("largest_flow", dim::flow, 1e-6, 0.1, "\"6000 L/h\"", "flow without any head"),
           {"curve", Form::curve, dim::none, 0, 0, "[[\"0 L/h\", \"4 m\"], [\"3000 L/h\", \"3 m\"]]",
            "points of its curve: flow, head"},
           share("speed", "\"80 %\"", "speed as a share of the one its curve was taken at", 0.1, 2.0),
           quantity("power", dim::power, 0.5, 20000.0, "\"65 W\"", "electric power, measured at the socket"),
           share("efficiency", "0.35", "wire to water, when the power was not measured", 0.01, 1.0),
           flag("check_valve", "true", "a valve that lets no water back when it stops"),
           number("stopped_loss", 0.0, 1e5, "4.0", "loss factor K of the stopped pump, on the bore of its pipe"),
           level("dry_run_level", "\"0.12 m\"", "height of the water at which it stops or sucks air"),
           duration("on_for", 1.0, 7.0 * kDay, "\"15 min\"", "how long a timer lets it run each time"),
           duration("off_for", 1.0, 7.0 * kDay, "\"45 min\"", "how long the timer then stops it"),
           duration("starts_after", 0.0, 7.0 * kDay, "\"0 min\"", "when the timer's first start comes"),
           level("float_on", "\"0.40 m\"", "height of the rising water at which its float switch starts it"),
           level("float_off", "\"0.25 m\"", "height of the falling water at which its float switch stops it"),
           flag("on", "true", "false for a pump that stands still")}};
}

Kind pipe() {
  return {"pipe", false, false, "a pipe that runs full",
          joined({{reference("from", "pump junction sequencing_valve tank sump raft_bed gravel_bed", "\"pump.main\"",
                             "where it starts"),
                   reference("to", "junction sequencing_valve tank sump raft_bed gravel_bed", "\"tank.nursery\"",
                             "where it ends")},
                  pipe_run("inside diameter"),
                  {level("inlet_level", "\"0.60 m\"",
                         "height of its mouth in the vessel it starts from; its floor if not said"),
                   level("outlet_level", "\"1.35 m\"", "height of its open end above the mark"),
                   level("lowest_level", "\"0.00 m\"", "height of the lowest point on its way"),
                   level("highest_level", "\"1.60 m\"", "height of the highest point on its way"),
                   number("fouling", 0.5, 20.0, "1.3", "how many times the loss of the clean pipe it has"),
                   share("opening", "\"50 %\"", "how far the hand valve on it is open; 1 is all the way"),
                   flag("blocked", "false", "true when nothing can pass")}})};
}

Kind sequencing_valve() {
  return {"sequencing_valve",
          false,
          false,
          "a valve that sends the water to one outlet after another, the next each time the pump stops",
          {{"outlets", Form::words, dim::none, 0, 0, "[\"pipe.line_1\", \"pipe.line_2\"]",
            "the pipes that leave it, in the order of their turns"},
           length("bore", 0.005, 0.5, "\"34 mm\"", "inside diameter its loss factor is counted on"),
           number("loss", 0.0, 1e5, "12", "loss factor K of the open way through it"),
           flow("lift_flow", "\"2268 L/h\"", "least flow that lifts its disc, by the maker's sheet"),
           duration("lift_time", 0.0, 600.0, "\"5 s\"", "how long that flow must last"),
           duration("drop_time", 0.0, 3600.0, "\"5 s\"", "how long the flow must pause for the disc to fall"),
           level("level", "\"1.60 m\"", "height of the valve"),
           quantity("drop_head", dim::length, 0.0, 20.0, "\"0.5 m\"",
                    "most head that may stand on it in the pause if the disc is to fall"),
           count("first", 6, "1", "which outlet has the first turn"),
           flag("stuck", "false", "true when it stays on its first outlet")}};
}

Kind overflow() {
  return {
      "overflow", false, false, "a standpipe that sets a level, and the pipe its water leaves by",
      joined(
          {{reference("from", kVessels, "\"tank.nursery\"", "the vessel whose level it sets"),
            reference("to", kVessels, "\"raft_bed.north\"", "where its water goes"),
            level("rim", "\"1.20 m\"", "height of the standpipe's rim above the mark"),
            length("standpipe_bore", 0.005, 1.0, "\"68.5 mm\"", "inside diameter of the standpipe"),
            length("standpipe_outside", 0.005, 1.0, "\"75 mm\"", "outside diameter of the standpipe"),
            length("sleeve_bore", 0.01, 1.5, "\"103.6 mm\"", "inside diameter of a sleeve that draws from the floor"),
            number("sleeve_loss", 0.0, 1000.0, "2.0", "loss factor K of the sleeve, on the gap around the standpipe"),
            number("rim_coefficient", 0.5, 3.0, "1.70", "weir coefficient of the rim, m0.5/s"),
            flag("vented", "true", "true when its top is open to the air")},
           pipe_run("inside diameter of the return; none when it falls freely"),
           {level("outlet_level", "\"0.60 m\"", "height of the return's open end"),
            number("fouling", 0.5, 20.0, "1.3", "how many times the loss of the clean return it has"), blocked()}})};
}

Kind siphon() {
  return {"siphon", false, false, "a bell siphon: a cap over a standpipe that empties a bed in a rush",
          joined({ends("the bed it empties", "where its water goes"),
                  {level("rim", "\"1.15 m\"", "height of the standpipe's rim under the bell"),
                   level("break_level", "\"0.94 m\"",
                         "height at which air gets in and it stops: the bell's notch or breather"),
                   level("outlet_level", "\"0.55 m\"", "height of its open end"),
                   number("priming", 0.05, 2.0, "0.54", "flow over the rim that starts it, as V / sqrt(g D)"),
                   number("rim_coefficient", 0.5, 3.0, "1.70", "weir coefficient of the rim, m0.5/s")},
                  pipe_run("inside diameter of its pipe, the standpipe's rim too"),
                  {blocked()}})};
}

Kind drain_hole() {
  return {"drain_hole", false, false, "a hole through which a bed drains all the time",
          joined({ends("the bed", "where its water goes"),
                  {length("diameter", 0.0005, 0.5, "\"14 mm\"", "diameter of one hole"),
                   count("count", 1000, "1", "how many such holes"),
                   level("level", "\"0.90 m\"", "height of the hole; the bed's floor if not said"),
                   number("coefficient", 0.1, 1.0, "0.61", "discharge coefficient"), blocked()}})};
}

Kind weir() {
  return {"weir", false, false, "a straight crest over which water falls",
          joined({ends("the vessel it spills from", "where its water goes"),
                  {level("crest", "\"0.70 m\"", "height of the crest"),
                   length("width", 0.005, 50.0, "\"0.30 m\"", "length of the crest across the water's way"),
                   number("coefficient", 0.5, 3.0, "1.84", "weir coefficient, m0.5/s: 1.84 thin, 1.70 thick"),
                   blocked()}})};
}

Kind gravity_return() {
  return {"gravity_return", false, false, "a sloping pipe through a wall that runs partly full",
          joined({ends("the vessel it leaves", "where its water goes"),
                  pipe_run("inside diameter"),
                  {level("inlet_level", "\"0.62 m\"", "height of the bottom of its mouth"),
                   level("outlet_level", "\"0.58 m\"", "height of the bottom of its end"), blocked()}})};
}

}  // namespace

std::vector<Key> pipe_run(std::string_view bore_meaning) {
  return {
      length("bore", 0.002, 1.0, "\"34 mm\"", bore_meaning),
      length("length", 0.0, 500.0, "\"6 m\"", "length of the pipe"),
      number("losses", 0.0, 1e5, "7.6", "sum of all loss factors K, entry and exit included; instead of fittings"),
      {"fittings", Form::words, dim::none, 0, 0, "[\"entry\", \"3 x elbow\", \"exit\"]",
       "fittings on the pipe, entry and exit included"},
      length("roughness", 0.0, 0.005, "\"0.0015 mm\"", "roughness of the inside"),
  };
}

std::vector<Kind> plumbing_kinds() {
  return {{"junction", false, false, "a point where pipes meet", {}},
          pump(),
          pipe(),
          sequencing_valve(),
          overflow(),
          siphon(),
          drain_hole(),
          weir(),
          gravity_return()};
}

}  // namespace leat::words
