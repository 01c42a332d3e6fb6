// A verb with its flags, as each of them begins and ends.
#pragma once

#include <functional>
#include <memory>
#include <string>

namespace CLI {
class App;
}

namespace leat::doors {

/// Names a verb and what it answers; `options` names its flags, before the one for the moment that counts as now. What
/// `run` hands back goes to `code`.
void add_verb(CLI::App& app, int& code, const std::string& name, const std::function<void(CLI::App&)>& options,
              std::string& now, std::function<int()> run);

/// The same for flags that live as long as the verb.
template <class Flags>
void add_verb(CLI::App& app, int& code, const std::string& name, int (*run)(const Flags&),
              void (*options)(CLI::App&, Flags&)) {
  auto flags = std::make_shared<Flags>();
  add_verb(
      app, code, name, [&](CLI::App& verb) { options(verb, *flags); }, flags->now,
      [flags, run] { return run(*flags); });
}

/// The first word of most.
void add_loop(CLI::App& verb, std::string& loop);

}  // namespace leat::doors
