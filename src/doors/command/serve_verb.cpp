#include "doors/command/serve_verb.h"

#include <fmt/core.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "base/words/verbs.h"
#include "doors/page/body.h"

namespace leat::doors {

void add_serve_verb(CLI::App& app, int& code) {
  std::string answers;
  for (const words::Verb& v : words::kVerbs)
    if (v.name == "serve") answers = v.answers;
  auto flags = std::make_shared<ServeFlags>();
  auto* verb = app.add_subcommand("serve", answers);
  verb->add_option("loop", flags->loop, "the loop's file (default loop.toml)");
  verb->add_option("--port", flags->port, "port on this machine (default 8017; 0: any that is free)");
  verb->add_option("--weather", flags->weather, "daily record, CSV, for the days that are run");
  verb->add_flag("--home", flags->home, "for the home network too, over https, to devices that were let in by a code");
  verb->add_flag("--code", flags->code, "a new code that lets one device in; the server may be running");
  verb->add_flag("--devices", flags->devices, "list the devices that were let in");
  verb->add_option("--forget", flags->forget, "a device that may read and write no more, by its number");
  verb->add_flag("--openapi", flags->openapi, "print what may be asked over HTTP, OpenAPI 3.1, and end");
  verb->callback([flags, &code] {
    if (flags->openapi)
      fmt::print("{}", openapi("0.1.0"));
    else
      code = verb_serve(*flags);
  });
}

}  // namespace leat::doors
