#include "doors/command/round_verbs.h"

#include <CLI/CLI.hpp>
#include <memory>

#include "base/words/verbs.h"

namespace leat::doors {
namespace {

std::string description_of(std::string_view verb) {
  for (const words::Verb& v : words::kVerbs)
    if (v.name == verb) return std::string(v.answers);
  return {};
}

void add_odd(CLI::App& app, int& code) {
  auto flags = std::make_shared<OddFlags>();
  auto* verb = app.add_subcommand("odd", description_of("odd"));
  verb->add_option("loop", flags->loop, "the loop's file (default loop.toml), beside its record");
  verb->add_option("--days", flags->days, "tell what could first be seen in these days (default 14)");
  verb->add_option("--most", flags->most, "how many things to tell (default 3)");
  verb->add_flag("--all", flags->all, "all that was ever odd, in the order of time");
  verb->add_option("--weather", flags->weather, "daily record, CSV, of the days that the record has no air of");
  verb->add_option("--location", flags->location, "which place, when the daily record holds several");
  verb->add_flag("--json", flags->json, "the answer as JSON");
  verb->add_option("--now", flags->now, "the moment that counts as now (default: by the clock)");
  verb->callback([flags, &code] { code = verb_odd(*flags); });
}

}  // namespace

void add_round_verbs(CLI::App& app, int& code) {
  add_odd(app, code);
}

}  // namespace leat::doors
