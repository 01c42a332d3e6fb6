// The command line: it only asks, and tells.
#include <fmt/core.h>

#include <CLI/CLI.hpp>
#include <algorithm>

#include "base/result/problem.h"
#include "base/words/verbs.h"
#include "doors/command/listen_verb.h"
#include "doors/command/new_verb.h"
#include "doors/command/record_verbs.h"
#include "doors/command/round_verbs.h"
#include "doors/command/serve_verb.h"
#include "doors/command/terminal.h"
#include "doors/command/trial_verbs.h"
#include "doors/command/verbs.h"
#include "tell/table.h"

namespace {

using namespace leat;

/// Where readings, fish, feed and weather are taken from.
void add_from_flags(CLI::App* verb, doors::FromFlags& from) {
  verb->add_option("--record", from.record,
                   "a record to take readings and fish from, or none (default the one beside)");
  verb->add_option("--now", from.now, "the moment that counts as now for the record (default: by the clock)");
}

/// A first word that is no verb gets the nearest one, instead of a list of flags.
bool is_unknown_verb(int argc, char** argv, std::string& said) {
  if (argc < 2 || argv[1][0] == '-') return false;
  std::vector<std::string_view> names;
  for (const words::Verb& v : words::kVerbs) names.push_back(v.name);
  if (std::find(names.begin(), names.end(), argv[1]) != names.end()) return false;
  said = fmt::format("leat: \"{}\" is no verb{}\nVerbs:\n", argv[1], did_you_mean(argv[1], names));
  for (const words::Verb& v : words::kVerbs) said += fmt::format("  {:<8} {}\n", v.name, v.answers);
  return true;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) {
    fmt::print(stderr, "{}", doors::first_words());
    return 2;
  }
  const auto columns = doors::columns_of_terminal(1);
  if (columns) tell::set_line_width(*columns);
  std::string unknown;
  if (is_unknown_verb(argc, argv, unknown)) {
    fmt::print(stderr, "{}", unknown);
    return 2;
  }
  CLI::App app{"leat: a second pair of eyes on a loop of fish tanks and beds, and its arithmetic.", "leat"};
  app.require_subcommand(1);
  int code = 0;

  doors::add_new_verb(app, code);

  doors::CheckFlags check;
  auto* verb_check = app.add_subcommand("check", words::answers_of("check"));
  verb_check->add_option("loop", check.loop, "the loop's file (default loop.toml)");
  verb_check->add_flag("--json", check.json, "the answer as JSON");
  verb_check->add_option("--drawing", check.drawing,
                         "write a drawing of the loop, SVG, to this file; - prints it alone");
  verb_check->add_flag("--assumptions", check.assumptions, "list all that was assumed, with reasons");
  verb_check->add_flag("--all", check.all, "tell each check that holds as well, with its numbers");
  verb_check->callback([&] { code = doors::verb_check(check); });

  doors::AheadFlags ahead;
  auto* verb_ahead = app.add_subcommand("ahead", words::answers_of("ahead"));
  verb_ahead->add_option("loop", ahead.loop, "the loop's file (default loop.toml)");
  verb_ahead->add_option("--days", ahead.days, "how many days (default 14)");
  verb_ahead->add_option("--start", ahead.start, "first day, such as 2026-11-25 (default today)");
  verb_ahead->add_option("--today", ahead.today, "the day that typed days count from (default: by the clock)");
  verb_ahead->add_option("--month", ahead.month, "start on the first of this month instead, the next one to come");
  verb_ahead->add_option("--weather", ahead.weather, "daily record, CSV with date, min, max and what else there is");
  verb_ahead->add_option("--location", ahead.location, "which place, when the daily record holds several");
  verb_ahead->add_option("--hourly", ahead.hourly, "hourly record, CSV");
  verb_ahead->add_option("--forecast", ahead.forecast, "file of typed days");
  verb_ahead->add_option("--tomorrow", ahead.tomorrow, "typed: \"min 4 max 12 clear light wind\"; more days after a ;");
  verb_ahead->add_option("--seed", ahead.seed, "seed of generated weather and of the bands (default 1)");
  verb_ahead->add_option("--members", ahead.members,
                         "runs that the bands come from, 0 for none (default: what fits in two seconds)");
  verb_ahead->add_option("--picture", ahead.picture, "draws where heat, oxygen, nitrogen went, SVG; - prints it");
  verb_ahead->add_flag("--json", ahead.json, "the answer as JSON");
  verb_ahead->add_flag("--csv", ahead.csv, "one row a vessel and day");
  verb_ahead->add_flag("--assumptions", ahead.assumptions, "list all that was assumed, with reasons");
  add_from_flags(verb_ahead, ahead.from);
  verb_ahead->callback([&] { code = doors::verb_ahead(ahead); });

  doors::AheadFlags compare;
  compare.days = 3;
  std::string plan;
  auto* verb_compare = app.add_subcommand("compare", words::answers_of("compare"));
  verb_compare->add_option("now", compare.loop, "the loop's file as it is")->required();
  verb_compare->add_option("plan", plan, "the plan: another loop's file, or a patch with a heading [plan]")->required();
  verb_compare->add_option("--days", compare.days, "how many days both are run (default 3)");
  verb_compare->add_option("--start", compare.start, "first day, such as 2026-11-25 (default today)");
  verb_compare->add_option("--today", compare.today, "the day that typed days count from (default: by the clock)");
  verb_compare->add_option("--month", compare.month, "start on the first of this month instead, the next one to come");
  verb_compare->add_option("--weather", compare.weather, "daily record, CSV");
  verb_compare->add_option("--location", compare.location, "which place, when the daily record holds several");
  verb_compare->add_option("--seed", compare.seed, "seed of generated weather and of the bands (default 1)");
  verb_compare->add_option("--members", compare.members,
                           "runs of each side that the bands come from, 0 for none (default: what fits in one second)");
  verb_compare->add_flag("--json", compare.json, "the answer as JSON");
  verb_compare->callback([&] { code = doors::verb_compare(compare, plan); });

  doors::OutageFlags outage;
  auto* verb_outage = app.add_subcommand("outage", words::answers_of("outage"));
  verb_outage->add_option("loop", outage.loop, "the loop's file (default loop.toml)");
  verb_outage->add_option("--fails", outage.fails, "what fails (default power); \"help\" lists what this loop has");
  verb_outage->add_option("--since", outage.since, "how long ago: now, \"30 min\", \"2 h\" or unknown");
  verb_outage->add_option("--seen", outage.seen, "with --since unknown: how long ago all was last seen well, \"3 h\"");
  verb_outage->add_option("--returns", outage.returns,
                          "when the power comes back, after the failure (default \"1 h\")");
  verb_outage->add_option("--again", outage.again, "when it fails once more, after the failure (default 5 min later)");
  verb_outage->add_option("--span", outage.hours, "how long to follow the water (default \"4 h\")");
  verb_outage->add_option("--temperature", outage.temperature, "of the water, \"14 degC\"");
  verb_outage->add_option("--oxygen", outage.oxygen, "when it failed, \"9.0 mg/L\"");
  verb_outage->add_option("--fed", outage.fed, "how long ago the fish were fed, \"2 h\"");
  verb_outage->add_option("--air", outage.air, "power of a battery air kit, \"8 W\"");
  verb_outage->add_option("--battery", outage.battery, "what its battery holds, \"115 Wh\"");
  verb_outage->add_option("--members", outage.members, "draws behind the bands, 0 for none (default 1000)");
  verb_outage->add_option("--seed", outage.seed, "seed of the draws (default 1)");
  verb_outage->add_flag("--table", outage.table,
                        "the table to keep by the tank: time over temperature, stock and state");
  verb_outage->add_flag("--json", outage.json, "the answer as JSON");
  verb_outage->add_flag("--assumptions", outage.assumptions, "list all that was assumed, with reasons");
  add_from_flags(verb_outage, outage.from);
  verb_outage->callback([&] { code = doors::verb_outage(outage); });

  doors::NightFlags night;
  auto* verb_night = app.add_subcommand("night", words::answers_of("night"));
  verb_night->add_option("loop", night.loop, "the loop's file (default loop.toml)");
  verb_night->add_option("--reading", night.readings, "oxygen at a time, \"18:00 14.0 mg/L\"; two at least")
      ->take_all();
  verb_night->add_option("--dawn", night.dawn, "when the night ends (default sunrise at the place)");
  verb_night->add_option("--temperature", night.temperature, "of the water, \"17 degC\"");
  verb_night->add_option("--reaeration", night.reaeration, "if known or fitted, \"0.30 1/h\"");
  verb_night->add_option("--kit", night.kit, "spread of the oxygen kit, \"0.5 mg/L\"");
  verb_night->add_option("--ph", night.pH, "of the afternoon");
  verb_night->add_option("--ammonia", night.ammonia, "total ammonia as N, \"1.0 mg/L\"");
  verb_night->add_option("--demand", night.demand,
                         "what all takes in an hour, \"2.4 mg/L\", instead of what the readings say");
  verb_night->add_option("--seed", night.model.seed, "seed of the draws (default 1)");
  verb_night->add_option("--members", night.model.members,
                         "draws or runs that the band comes from, 0 for none (default 20000, or what fits)");
  verb_night->add_option("--start", night.model.start, "without readings: which evening (default today)");
  verb_night->add_option("--weather", night.model.weather, "without readings: daily record, CSV");
  verb_night->add_option("--location", night.model.location, "which place, when the daily record holds several");
  verb_night->add_option("--tomorrow", night.model.tomorrow, "without readings: typed days, \"min 4 max 12 clear\"");
  verb_night->add_option("--today", night.model.today, "the day that typed days count from (default: by the clock)");
  verb_night->add_flag("--assumptions", night.model.assumptions, "without readings: list all that was assumed");
  verb_night->add_flag("--json", night.model.json, "the answer as JSON");
  add_from_flags(verb_night, night.model.from);
  verb_night->callback([&] { code = doors::verb_night(night); });

  doors::AheadFlags carry;
  auto* verb_carry = app.add_subcommand("carry", words::answers_of("carry"));
  verb_carry->add_option("loop", carry.loop, "the loop's file (default loop.toml)");
  verb_carry->add_option("--start", carry.start, "first day of the year, such as 2026-11-25 (default today)");
  verb_carry->add_option("--month", carry.month, "start on the first of this month instead, the next one to come");
  verb_carry->add_option("--today", carry.today, "the day that --month counts from (default: by the clock)");
  verb_carry->add_option("--weather", carry.weather, "daily record of the year, CSV; generated where it has no day");
  verb_carry->add_option("--location", carry.location, "which place, when the daily record holds several");
  verb_carry->add_option("--seed", carry.seed, "seed of generated weather and of the bands (default 1)");
  verb_carry->add_option("--members", carry.members,
                         "years that the bands come from, 0 for none (default: what fits in six seconds, 20 at least)");
  verb_carry->add_flag("--assumptions", carry.assumptions, "list what was drawn anew in each year");
  verb_carry->add_flag("--json", carry.json, "the answer as JSON");
  verb_carry->callback([&] { code = doors::verb_carry(carry); });

  doors::SeasonFlags season;
  auto* verb_season = app.add_subcommand("season", words::answers_of("season"));
  verb_season->add_option("loop", season.ahead.loop, "the loop's file (default loop.toml)");
  verb_season->add_option("--months", season.months, "how many months, 1 to 24 (default 6)");
  verb_season->add_option("--years", season.years,
                          "how many years of weather, 2 to 200 (default: what fits in three seconds, 10 at least)");
  verb_season->add_option("--size", season.size, "a fish to eat, \"250 g\" (the default)");
  verb_season->add_option("--start", season.ahead.start, "first day, such as 2026-11-25 (default today)");
  verb_season->add_option("--month", season.ahead.month, "start on the first of this month, the next one to come");
  verb_season->add_option("--today", season.ahead.today, "the day that --month counts from (default: by the clock)");
  verb_season->add_option("--weather", season.ahead.weather, "daily record, CSV: what its months were like");
  verb_season->add_option("--location", season.ahead.location, "which place, when the daily record holds several");
  verb_season->add_option("--seed", season.ahead.seed, "seed of the first year, the others follow (default 1)");
  verb_season->add_flag("--no-base", season.no_base, "nobody doses base: what the water does by itself");
  verb_season->add_flag("--json", season.ahead.json, "the answer as JSON");
  verb_season->add_flag("--assumptions", season.ahead.assumptions, "list all that was assumed, with reasons");
  verb_season->callback([&] { code = doors::verb_season(season); });

  doors::FeedFlags feed;
  auto* verb_feed = app.add_subcommand("feed", words::answers_of("feed"));
  verb_feed->add_option("loop", feed.loop, "the loop's file (default loop.toml)");
  verb_feed->add_option("--temperature", feed.temperature, "of the water, \"12.5 degC\"");
  verb_feed->add_option("--oxygen", feed.oxygen, "at the last reading, \"8.5 mg/L\"");
  verb_feed->add_option("--ammonia", feed.ammonia, "total ammonia as N, \"0.3 mg/L\"");
  verb_feed->add_option("--ph", feed.pH, "with --ammonia");
  verb_feed->add_option("--nitrite", feed.nitrite, "as N, \"0.05 mg/L\"");
  verb_feed->add_flag("--left-over", feed.left_over, "feed was left at the last meal");
  verb_feed->add_flag("--json", feed.json, "the answer as JSON");
  add_from_flags(verb_feed, feed.from);
  verb_feed->callback([&] { code = doors::verb_feed(feed); });

  doors::DoseFlags dose;
  auto* verb_dose = app.add_subcommand("dose", words::answers_of("dose"));
  verb_dose->add_option("what", dose.what, "base, acid, nitrite, iron, chlorine, chloramine or change");
  verb_dose->add_option("loop,--loop", dose.loop, "the loop's file, for its water and temperature");
  verb_dose->add_option("--water", dose.water, "all water of the loop, \"3000 L\"");
  verb_dose->add_option("--temperature", dose.temperature, "of the water, \"13 degC\"");
  verb_dose->add_option("--ph", dose.pH, "base, acid: the pH now");
  verb_dose->add_option("--to", dose.target_pH, "base, acid: the pH wanted (default 7.0)");
  verb_dose->add_option("--shaken", dose.shaken, "base, acid: pH of a jar of it shaken with air for two minutes");
  verb_dose->add_option("--kh", dose.alkalinity, "base, acid: alkalinity as CaCO3, \"20 mg/L\"");
  verb_dose->add_option("--ammonia", dose.ammonia, "base, acid: total ammonia as N, \"1.5 mg/L\"");
  verb_dose->add_option("--feed", dose.feed, "base, acid: feed a day, \"150 g/d\"");
  verb_dose->add_option("--protein", dose.protein, "base, acid: protein in the feed (default 0.45)");
  verb_dose->add_option("--plants", dose.plants, "base, acid: share of the nitrogen that plants take up as nitrate");
  verb_dose->add_option("--ionic", dose.ionic, "base, acid: ionic strength, mol/L, such as 0.008");
  verb_dose->add_option("--phosphorus", dose.phosphorus, "base, acid: phosphate as P, \"5 mg/L\"");
  verb_dose->add_option("--with", dose.reagent, "base, acid: what is dosed (default KHCO3, HCl)");
  verb_dose->add_option("--reading", dose.reading, "nitrite as NO2, iron, chlorine, or what a change is to lower");
  verb_dose->add_option("--target", dose.target, "iron, change: what is wanted");
  verb_dose->add_option("--there", dose.source, "nitrite: chloride in the loop; change: what the new water holds");
  verb_dose->add_option("--ratio", dose.ratio, "nitrite: chloride over nitrite (default 10)");
  verb_dose->add_option("--share", dose.share, "iron: share of iron in the product (default 0.06)");
  verb_dose->add_option("--new-water", dose.new_water, "chlorine, chloramine: how much new water, \"200 L\"");
  verb_dose->add_flag("--json", dose.json, "the answer as JSON");
  add_from_flags(verb_dose, dose.from);
  verb_dose->callback([&] { code = doors::verb_dose(dose); });

  doors::add_record_verbs(app, code);
  doors::add_trial_verbs(app, code);
  doors::add_round_verbs(app, code);
  doors::add_serve_verb(app, code);
  doors::add_listen_verb(app, code);

  doors::add_backup_verbs(app, code);
  doors::CalcFlags calc;
  auto* verb_calc = app.add_subcommand("calc", words::answers_of("calc"));
  verb_calc->add_option("relation", calc.words, "the relation, then its inputs as name=\"value unit\"");
  verb_calc->add_flag("--list", calc.list, "every relation with what it gives and takes");
  verb_calc->add_flag("--json", calc.json, "the answer, or the list, as JSON");
  verb_calc->add_option("--checks", calc.checks, "run a CSV table of published values");
  verb_calc->callback([&] { code = doors::verb_calc(calc); });

  std::string kind;
  bool schema = false;
  auto* verb_words = app.add_subcommand("words", words::answers_of("words"));
  verb_words->add_option("kind", kind, "only this table, such as pump");
  verb_words->add_flag("--schema", schema, "the same as JSON Schema, for an editor");
  verb_words->callback([&] { code = doors::verb_words(kind, schema); });

  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    if (error.get_exit_code() == 0) {
      fmt::print("{}", doors::fitted_help(app.help(), columns.value_or(1000)));
      return 0;
    }
    fmt::print(stderr, "{}", doors::said_of_flags(app, error));
    return 2;
  }
  return code;
}
