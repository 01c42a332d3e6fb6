#include "doors/command/round_verbs.h"

#include <CLI/CLI.hpp>

#include "doors/command/add_verb.h"

namespace leat::doors {
namespace {

void odd_flags(CLI::App& verb, OddFlags& flags) {
  add_loop(verb, flags.loop);
  verb.add_option("--days", flags.days, "tell what could first be seen in these days (default 14)");
  verb.add_option("--most", flags.most, "how many things to tell (default 3)");
  verb.add_flag("--all", flags.all, "all that was ever odd, in the order of time");
  verb.add_option("--weather", flags.weather, "daily record, CSV, of the days that the record has no air of");
  verb.add_option("--location", flags.location, "which place, when the daily record holds several");
  verb.add_flag("--json", flags.json, "the answer as JSON");
}

void round_flags(CLI::App& verb, RoundFlags& flags) {
  add_loop(verb, flags.loop);
  verb.add_flag("--urgent", flags.urgent, "only what cannot wait, for a timer: exit code 1 when there is something");
  verb.add_option("--hook", flags.hook,
                  "your own command, run with the words on its standard input when something is urgent");
  verb.add_option("--again", flags.again, "tell the hook the same matter again after this time (default \"6 h\")");
  verb.add_flag("--quiet", flags.quiet, "print nothing when nothing is urgent");
  verb.add_option("--ical", flags.ical, "write the routine as iCalendar to this file");
  verb.add_flag("--events", flags.events, "write them as events, for calendars that show no to-dos");
  verb.add_option("--sheet", flags.sheet, "write today's round as a page to print");
  verb.add_option("--card", flags.card, "write the emergency card, a page to print and keep by the tank");
  verb.add_option("--tomorrow", flags.tomorrow, "typed: \"min 4 max 12 clear light wind\"; more days after a ;");
  verb.add_option("--weather", flags.weather, "daily record, CSV");
  verb.add_option("--location", flags.location, "which place, when the daily record holds several");
  verb.add_option("--reaeration", flags.reaeration, "if known or fitted, for the coming night: \"0.30 1/h\"");
  verb.add_option("--most", flags.most, "how many oddities at most, 1 to 3 (default 3)");
  verb.add_flag("--json", flags.json, "the answer as JSON");
}

void cause_flags(CLI::App& verb, CauseFlags& flags) {
  add_loop(verb, flags.loop);
  verb.add_option("--at", flags.at,
                  "near which time they were found: \"yesterday 06:40\" (default the last that were many)");
  verb.add_option("--dead", flags.dead, "how many of the dead were weighed, mean, spread: \"33, 82 g, sd 15 g\"");
  verb.add_option("--alive", flags.alive, "the same of those alive: \"25, 66 g, sd 12 g\"");
  verb.add_option("--reaeration", flags.reaeration, "if known or fitted, for the night before: \"0.30 1/h\"");
  verb.add_option("--dawn", flags.dawn, "when the night ended (default sunrise at the place)");
  verb.add_flag("--json", flags.json, "the answer as JSON");
}

}  // namespace

void add_round_verbs(CLI::App& app, int& code) {
  add_verb(app, code, "cause", verb_cause, cause_flags);
  add_verb(app, code, "round", verb_round, round_flags);
  add_verb(app, code, "odd", verb_odd, odd_flags);
}

}  // namespace leat::doors
