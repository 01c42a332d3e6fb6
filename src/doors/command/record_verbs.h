// The verbs that put in and look up: note, record, backup, restore. Their flags.
#pragma once

namespace CLI {
class App;
}

namespace leat::doors {

void add_record_verbs(CLI::App& app, int& code);
void add_backup_verbs(CLI::App& app, int& code);

}  // namespace leat::doors
