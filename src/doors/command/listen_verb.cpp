#include "doors/command/listen_verb.h"

#include <fmt/core.h>

#include <CLI/CLI.hpp>

#include "base/words/verbs.h"

namespace leat::doors {

void add_listen_verb(CLI::App& app, int& code) {
  static ListenFlags flags;
  auto* verb = app.add_subcommand("listen", words::answers_of("listen"));
  verb->add_option("loop", flags.loop, "the loop's file (default loop.toml)");
  verb->add_option("--from", flags.file, "broker and topics (default loop.listen.toml, beside the loop's file)");
  verb->add_option("--messages", flags.messages, "end after so many messages (default: go on)");
  verb->add_option("--seconds", flags.seconds, "end after so many seconds (default: go on)");
  verb->add_flag("--check", flags.check, "read the files, say what would be listened to, and connect to nothing");
  verb->callback([&code] { code = verb_listen(flags); });
}

}  // namespace leat::doors
