// leat new: its flags.
#pragma once

namespace CLI {
class App;
}

namespace leat::doors {

void add_new_verb(CLI::App& app, int& code);

}  // namespace leat::doors
