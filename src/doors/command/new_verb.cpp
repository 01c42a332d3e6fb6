#include "doors/command/new_verb.h"

#include <fmt/core.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "answers/starter.h"
#include "base/words/verbs.h"
#include "doors/command/example.h"
#include "doors/command/files.h"
#include "doors/command/refused.h"
#include "tell/tell.h"

namespace leat::doors {
namespace {

struct NewFlags {
  std::string file = "loop.toml";
  answers::StarterRequest said;
  bool example = false, dry = false, json = false;
};

/// The example, to play with. One that is there already is gone on with.
int write_example(const NewFlags& flags) {
  const std::string text(example_loop());
  std::string why_not;
  Problems none;
  const auto there = flags.dry ? std::nullopt : read_file(flags.file, none);
  if (!flags.dry && there != text && !write_new_file(flags.file, text, why_not)) return refused("new", why_not);
  if (flags.json)
    fmt::print("{}", tell::starter_json(flags.file, {text, {}, {}}));
  else
    fmt::print(
        "{}", flags.dry ? text : fmt::format("Wrote {}: an example of our own invention, to play with.\n", flags.file));
  return 0;
}

int write_starter(const NewFlags& flags) {
  const answers::Starter starter = answers::starter(flags.said);
  if (!starter.problems.empty()) return refused(starter.problems);
  std::string why_not;
  if (!flags.dry && !write_new_file(flags.file, starter.text, why_not)) return refused("new", why_not);
  if (flags.json)
    fmt::print("{}", tell::starter_json(flags.file, starter));
  else if (flags.dry)
    fmt::print("{}", starter.text);
  else
    fmt::print("Wrote {}. Put in what you know, then ask:\n  leat check {}\n  leat ahead {}\n", flags.file, flags.file,
               flags.file);
  return 0;
}

void add_said(CLI::App& verb, answers::StarterRequest& s) {
  verb.add_option("--name", s.name, "what you call the loop");
  verb.add_option("--latitude", s.latitude, "degrees, south is negative");
  verb.add_option("--longitude", s.longitude, "degrees, west is negative");
  verb.add_option("--altitude", s.altitude, "\"60 m\"");
  verb.add_option("--time-zone", s.time_zone, "such as Europe/London");
  verb.add_option("--fish", s.fish, "\"rainbow trout\"");
  verb.add_option("--count", s.count, "how many fish");
  verb.add_option("--mass", s.mass, "of one fish, \"60 g\"");
  verb.add_option("--plant", s.plant, "what grows in the bed, \"lettuce\"");
  verb.add_option("--tank", s.tank, "what the tank holds, \"1000 L\"");
  verb.add_option("--depth", s.depth, "of the tank, \"1.0 m\"");
  verb.add_option("--sump", s.sump, "what the sump holds, \"300 L\"");
  verb.add_option("--raft", s.raft, "area of the raft bed, \"2.4 m2\"; or none");
  verb.add_option("--gravel", s.gravel, "area of the gravel bed, \"1.2 m2\"; none unless said");
  verb.add_option("--flow", s.flow, "what arrives at the tank by bucket and watch, \"10 L in 30 s\"");
  verb.add_option("--low", s.low, "lowest of the water last night, \"9 degC\"");
  verb.add_option("--high", s.high, "its highest, \"12 degC\"");
}

}  // namespace

void add_new_verb(CLI::App& app, int& code) {
  auto flags = std::make_shared<NewFlags>();
  auto* verb = app.add_subcommand("new", words::answers_of("new"));
  verb->add_option("file", flags->file, "file to write (default loop.toml)");
  add_said(*verb, flags->said);
  verb->add_flag("--example", flags->example, "the example instead, to play with");
  verb->add_flag("--dry-run", flags->dry, "print it and write nothing");
  verb->add_flag("--json", flags->json, "what was written and what was guessed, as JSON");
  verb->callback([flags, &code] { code = flags->example ? write_example(*flags) : write_starter(*flags); });
}

}  // namespace leat::doors
