// leat serve: its flags.
#pragma once

#include <optional>
#include <string>

namespace CLI {
class App;
}

namespace leat::doors {

struct ServeFlags {
  std::string loop = "loop.toml", weather, forget;
  int port = 8017;
  bool openapi = false, home = false, devices = false, code = false;
};
int verb_serve(const ServeFlags& flags);
void add_serve_verb(CLI::App& app, int& code);

}  // namespace leat::doors
