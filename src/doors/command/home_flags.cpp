#include "doors/command/home_flags.h"

#include <fmt/core.h>

#include <ctime>

#include "doors/page/devices.h"
#include "doors/page/qr.h"

namespace leat::doors {
namespace {

std::string day_of(std::time_t t) {
  std::tm local{};
  localtime_r(&t, &local);
  return fmt::format("{:04}-{:02}-{:02}", local.tm_year + 1900, local.tm_mon + 1, local.tm_mday);
}

int list(const Devices& devices) {
  const auto all = devices.all();
  if (all.empty()) fmt::print("No device is known yet.\n");
  for (const Device& d : all) fmt::print("{}  since {}  {}\n", d.id, day_of(d.paired), d.name);
  return 0;
}

int code(Devices& devices) {
  const std::string digits = devices.new_code(std::time(nullptr));
  if (digits.empty()) {
    fmt::print(stderr, "leat serve: {} cannot be written; a code must be kept there.\n", devices.path());
    return 2;
  }
  fmt::print("Code for one device, good for 10 minutes: {} {}\n", digits.substr(0, 4), digits.substr(4));
  return 0;
}

}  // namespace

std::optional<int> ask_of_devices(const ServeFlags& flags, const ServeSettings& settings) {
  Devices devices(settings.devices_path());
  if (!flags.forget.empty()) {
    if (devices.forget(flags.forget, std::time(nullptr))) {
      fmt::print("{} is not known any more.\n", flags.forget);
      return 0;
    }
    fmt::print(stderr, "leat serve: --forget \"{}\" is no device; leat serve --devices lists them, such as 3f9a1c.\n",
               flags.forget);
    return 2;
  }
  if (flags.devices) return list(devices);
  if (flags.code) return code(devices);
  return std::nullopt;
}

void tell_home(const ServeSettings& settings, int port, int trust_port) {
  const Home& home = *settings.home;
  const std::string trust = fmt::format("http://{}:{}/", in_link(home.address), trust_port);
  fmt::print("The page is at https://{}:{}/ for the home network. Ctrl-C ends it; nothing is lost.\n",
             in_link(home.address), port);
  fmt::print("A phone learns to trust it, once, at {} . There it must show this fingerprint (SHA-256):\n  {}\n  {}\n",
             trust, home.fingerprint.substr(0, 47), home.fingerprint.substr(48));
  fmt::print("{}", qr_text(trust + "#" + home.fingerprint));
  Devices devices(settings.devices_path());
  code(devices);
  fmt::print("Another code: leat serve --code. Who is known: leat serve --devices.\n");
}

}  // namespace leat::doors
