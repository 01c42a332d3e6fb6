// leat listen: its flags.
#pragma once

#include <string>

namespace CLI {
class App;
}

namespace leat::doors {

struct ListenFlags {
  std::string loop = "loop.toml", file;
  int messages = 0, seconds = 0;
  bool check = false;
};
int verb_listen(const ListenFlags& flags);
void add_listen_verb(CLI::App& app, int& code);

}  // namespace leat::doors
