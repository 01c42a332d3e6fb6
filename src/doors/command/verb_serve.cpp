#include <fmt/core.h>
#include <signal.h>

#include <cstdio>
#include <ctime>
#include <filesystem>

#include "doors/command/home_flags.h"
#include "doors/command/serve_verb.h"
#include "doors/page/server.h"
#include "doors/page/trust_page.h"

namespace leat::doors {
namespace {

namespace fs = std::filesystem;

int refused(const std::string& why) {
  fmt::print(stderr, "leat serve: {}.\n", why);
  return 2;
}

/// Waits for Ctrl-C, or for whoever started it to end it.
void wait_for_end(const sigset_t& signals) {
  int which = 0;
  while (sigwait(&signals, &which) != 0) {
  }
}

/// Serves until it is ended.
int serve(const ServeFlags& flags, const ServeSettings& settings, bool there) {
  sigset_t signals;
  sigemptyset(&signals);
  for (const int s : {SIGINT, SIGTERM, SIGHUP}) sigaddset(&signals, s);
  pthread_sigmask(SIG_BLOCK, &signals, nullptr);
  signal(SIGPIPE, SIG_IGN);
  Server server(settings);
  std::string why_not;
  if (!server.start(why_not)) return refused(why_not);
  std::optional<TrustPage> trust;
  if (settings.home) {
    const std::string site = fmt::format("https://{}:{}/", in_link(settings.home->address), server.port());
    trust.emplace(site, settings.home->fingerprint, settings.home->authority);
    const int usual = flags.port == 0 || flags.port == 65535 ? 0 : flags.port + 1;
    int port = trust->start(usual);
    if (port == 0 && usual != 0) port = trust->start(0);  // phones that are paired need it no more
    if (port == 0) return refused("no port is free where phones could learn to trust the page");
    if (usual != 0 && port != usual)
      fmt::print("Port {} is used by another program; where phones learn to trust the page is another this time.\n",
                 usual);
    tell_home(settings, server.port(), port);
  } else {
    fmt::print("The page is at http://127.0.0.1:{}/ on this machine only. Ctrl-C ends it; nothing is lost.\n",
               server.port());
  }
  if (!there)
    fmt::print("{} is not there yet: the page asks a few questions and writes it, or shows an example.\n", flags.loop);
  std::fflush(stdout);
  wait_for_end(signals);
  return 0;
}

}  // namespace

int verb_serve(const ServeFlags& flags) {
  const fs::path loop = fs::absolute(flags.loop).lexically_normal();
  std::error_code none;
  const bool there = fs::is_regular_file(loop, none);
  if (!there && (fs::exists(loop, none) || !fs::is_directory(loop.parent_path(), none)))
    return refused(
        fmt::format("{} is no file, and none can be written there; name a loop's file, such as loop.toml", flags.loop));
  const std::string name = loop.filename().string();
  if (loop.extension() != ".toml" || name.find(' ') != std::string::npos || name.starts_with("-"))
    return refused(fmt::format("\"{}\" must be a name without blanks that ends in .toml, such as loop.toml", name));
  if (flags.port < 0 || flags.port > 65535)
    return refused(
        fmt::format("--port {} is no port; write one from 1024 to 65535, or 0 for any that is free", flags.port));
  ServeSettings settings{loop.parent_path().string(), name, "", flags.port};
  if (!flags.weather.empty()) settings.weather = fs::absolute(flags.weather).string();
  if (const auto done = ask_of_devices(flags, settings)) return *done;
  if (flags.home) {
    auto home = open_home(settings.base(), names_of_this_machine(), std::time(nullptr));
    if (const auto* why = std::get_if<std::string>(&home)) return refused(*why);
    settings.home = std::get<Home>(home);
  }
  return serve(flags, settings, there);
}

}  // namespace leat::doors
