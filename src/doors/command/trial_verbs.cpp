#include "doors/command/trial_verbs.h"

#include <CLI/CLI.hpp>

#include "doors/command/add_verb.h"

namespace leat::doors {
namespace {

void trial_flags(CLI::App& verb, TrialFlags& flags) {
  add_loop(verb, flags.loop);
  verb.add_option("--crop", flags.crop, "only this crop, as it was noted: chard");
  verb.add_option("--treatment", flags.treatments,
                  "a name and its beds, once for each: \"lagged: raft 1, raft 2\" (default the kind of bed)");
  verb.add_option("--wanted", flags.wanted, "the difference that would matter (default \"15 %\")");
  verb.add_option("--since", flags.since, "only what was planted from this time on");
  verb.add_option("--until", flags.until, "only what was planted up to this time");
  verb.add_flag("--json", flags.json, "the answer as JSON");
  verb.add_flag("--csv", flags.csv, "one row a plant, CSV");
}

void helped_flags(CLI::App& verb, HelpedFlags& flags) {
  add_loop(verb, flags.loop);
  verb.add_option("--change", flags.change, "when it was (default the last re-plumbing, or move of fish)");
  verb.add_option("--where", flags.where, "whose min and max (default where the fish are)");
  verb.add_option("--since", flags.since, "readings from this time on");
  verb.add_option("--until", flags.until, "readings up to this time");
  verb.add_option("--windows", flags.windows, "day: resets a day apart; night: overnight (default day, if enough)");
  verb.add_option("--day", flags.day, "swing of the air on the day for which both are told (default \"10 K\")");
  verb.add_option("--heat-capacity", flags.heat_capacity, "of the whole loop, \"11.2 MJ/K\": tells losses in W/K");
  verb.add_option("--weather", flags.weather, "daily record, CSV, where the record has no min and max of the air");
  verb.add_option("--location", flags.location, "which place, when the daily record holds several");
  verb.add_flag("--json", flags.json, "the answer as JSON");
}

void week_flags(CLI::App& verb, WeekFlags& flags) {
  add_loop(verb, flags.loop);
  verb.add_option("--until", flags.until, "its last day (default today)");
  verb.add_option("--days", flags.days, "how many days (default 7)");
  verb.add_option("--out", flags.out, "the page, .html (default week-DATE.html beside the loop's file)");
  verb.add_option("--wording", flags.wording, "your wording, from this file; the one that was is kept beside it");
  verb.add_flag("--text", flags.text, "print it as plain text and write no page");
  verb.add_flag("--json", flags.json, "print the answer as JSON and write no page");
  verb.add_flag("--csv", flags.csv, "print the figures as CSV and write no page");
  verb.add_flag("--pdf", flags.pdf, "write a PDF of the page as well, with chromium");
  verb.add_flag("--fresh", flags.fresh, "write the wording anew; the one that was is kept beside it");
}

}  // namespace

void add_trial_verbs(CLI::App& app, int& code) {
  add_verb(app, code, "trial", verb_trial, trial_flags);
  add_verb(app, code, "helped", verb_helped, helped_flags);
  add_verb(app, code, "week", verb_week, week_flags);
}

}  // namespace leat::doors
