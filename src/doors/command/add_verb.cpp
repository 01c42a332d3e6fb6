#include "doors/command/add_verb.h"

#include <CLI/CLI.hpp>

#include "base/words/verbs.h"

namespace leat::doors {

void add_verb(CLI::App& app, int& code, const std::string& name, const std::function<void(CLI::App&)>& options,
              std::string& now, std::function<int()> run) {
  auto* verb = app.add_subcommand(name, words::answers_of(name));
  options(*verb);
  verb->add_option("--now", now, "the moment that counts as now (default: by the clock)");
  verb->callback([&code, run = std::move(run)] { code = run(); });
}

void add_loop(CLI::App& verb, std::string& loop) {
  verb.add_option("loop", loop, "the loop's file (default loop.toml)");
}

}  // namespace leat::doors
