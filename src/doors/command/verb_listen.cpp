#include <fmt/core.h>

#include <chrono>
#include <csignal>
#include <cstdio>
#include <filesystem>

#include "doors/command/files.h"
#include "doors/command/listen_verb.h"
#include "doors/command/record_file.h"
#include "doors/command/refused.h"
#include "doors/listen/intake.h"
#include "doors/listen/listener.h"
#include "record/seal.h"

namespace leat::doors {
namespace {

volatile std::sig_atomic_t stop_asked = 0;

void ask_to_stop(int) {
  stop_asked = 1;
}

record::Moment moment_now() {
  const auto now = std::chrono::system_clock::now().time_since_epoch();
  return std::chrono::duration_cast<std::chrono::milliseconds>(now).count();
}

void tell(const std::string& line) {
  fmt::print("{}\n", line);
  std::fflush(stdout);
}

std::string listen_path(const ListenFlags& flags) {
  if (!flags.file.empty()) return flags.file;
  return std::filesystem::path(flags.loop).replace_extension(".listen.toml").string();
}

void say_what(const ListenFile& file) {
  const Broker& b = file.broker;
  fmt::print("{} by MQTT {}{}{}, as {}:\n", b.address, b.protocol, b.tls ? ", TLS" : "",
             b.secret.empty() ? "" : ", with a secret", b.client);
  for (const Topic& t : file.topics)
    fmt::print("  {}  {}\n", t.filter,
               t.what.empty()
                   ? "SenML"
                   : t.what + (t.where.empty() ? "" : ", " + t.where) + (t.unit.empty() ? "" : ", in " + t.unit));
  if (b.qos > asked_qos(b))
    fmt::print("QoS {} is asked for as {}: so a message is confirmed when it is in the record.\n", b.qos, asked_qos(b));
  const bool here = b.address == "localhost" || b.address == "::1" || b.address.starts_with("127.");
  if (!b.secret.empty() && !b.tls && !here)
    fmt::print("Without tls = true the secret goes over the network for all to read.\n");
  std::fflush(stdout);
}

int run(const ListenFlags& flags, const ListenFile& file, const record::Context& context) {
  auto opened = record::Store::open(record_path(flags.loop));
  if (const auto* trouble = std::get_if<record::Trouble>(&opened)) return refused("listen", trouble->said);
  Intake intake(std::get<record::Store>(opened), file, context);
  const auto start = std::chrono::steady_clock::now();
  int code = 0;
  Listening how;
  how.told = tell;
  how.heard = [&](const Message& message) {
    if (flags.messages > 0 && intake.tally().messages >= flags.messages) return false;
    const auto taken = intake.take(message);
    if (const auto* trouble = std::get_if<record::Trouble>(&taken)) {
      fmt::print(stderr, "leat listen: {}.{}\n", trouble->said,
                 asked_qos(file.broker) > 0 ? " The broker was not told that this message arrived." : "");
      code = 3;
      return false;
    }
    if (!std::get<std::string>(taken).empty()) tell(std::get<std::string>(taken));
    return true;
  };
  how.enough = [&] {
    const auto passed = std::chrono::steady_clock::now() - start;
    return stop_asked || code != 0 || (flags.messages > 0 && intake.tally().messages >= flags.messages) ||
           (flags.seconds > 0 && passed >= std::chrono::seconds(flags.seconds));
  };
  std::signal(SIGINT, ask_to_stop);
  std::signal(SIGTERM, ask_to_stop);
  if (const std::string why_not = listen(file, how); !why_not.empty()) return refused("listen", why_not);
  fmt::print("{}", tally_text(intake.tally()));
  if (intake.tally().taken > 0) (void)record::seal_all(std::get<record::Store>(opened), moment_now());
  return code;
}

}  // namespace

int verb_listen(const ListenFlags& flags) {
  Problems problems;
  const std::string path = listen_path(flags);
  const auto loop = loop_of_record(flags.loop, "", problems);
  if (!std::filesystem::exists(path))
    problems.add({path, 0, 0, "",
                  "is not there: it says which broker and topics are listened to, such as\n[broker]\naddress = "
                  "\"192.168.1.10\"\n\n[topic.\"yard/tank/temperature\"]\nwhat = \"temperature\"\nwhere = "
                  "\"tank.nursery\"\nunit = \"degC\""});
  const auto text = loop && problems.empty() ? read_file(path, problems) : std::nullopt;
  ListenFile file;
  if (text) file = read_listen_file(*text, path, loop->context, problems);
  if (!problems.empty()) return refused(problems);
  say_what(file);
  return flags.check ? 0 : run(flags, file, loop->context);
}

}  // namespace leat::doors
