#include "doors/page/home_answers.h"

#include <fmt/core.h>

#include "doors/page/body.h"

namespace leat::doors {
namespace {

// Bound to this host, https and path; no script can read it, no other site can send it.
constexpr std::string_view kCookie = "__Host-leat";
constexpr std::string_view kKeeps = "; Path=/; Secure; HttpOnly; SameSite=Strict; Max-Age=";

Values sent(const HomeQuestion& x) {
  auto values = values_of_body(x.body);
  const auto* good = std::get_if<Values>(&values);
  return good ? *good : Values{};
}

std::string value_of(const Values& values, std::string_view name) {
  for (const auto& [key, value] : values)
    if (key == name) return value;
  return "";
}

Reply paired_reply(Devices& devices, const HomeQuestion& x, std::time_t now) {
  const Values values = sent(x);
  std::string token;
  switch (devices.pair(value_of(values, "code"), value_of(values, "name"), now, token)) {
    case Devices::Tried::wrong:
      return refused(403, "that is not the code; look again at the terminal. After five wrong ones it is void");
    case Devices::Tried::no_code:
      return refused(403,
                     "no code is good now: it lasts ten minutes and serves one device. Get a new one with leat serve "
                     "--code, or from a device that is known");
    case Devices::Tried::too_soon:
      return refused(429, "one try a second; try again");
    case Devices::Tried::not_kept:
      return refused(500, "the device cannot be kept: the folder beside the loop's file cannot be written");
    case Devices::Tried::paired:
      break;
  }
  constexpr long kYear_s = 366L * 86400L;
  return {200,
          "application/json",
          "{\"paired\":true}\n",
          {{"Set-Cookie", fmt::format("{}={}{}{}", kCookie, token, kKeeps, kYear_s)}}};
}

}  // namespace

std::string token_of(std::string_view cookie) {
  while (!cookie.empty()) {
    const std::size_t end = std::min(cookie.find(';'), cookie.size());
    std::string_view one = cookie.substr(0, end);
    while (one.starts_with(' ')) one.remove_prefix(1);
    if (one.starts_with(kCookie) && one.substr(kCookie.size()).starts_with('='))
      return std::string(one.substr(kCookie.size() + 1));
    cookie.remove_prefix(std::min(end + 1, cookie.size()));
  }
  return "";
}

bool answer_home(Devices& devices, const HomeQuestion& x, std::time_t now, Reply& reply) {
  const bool post = x.method == "POST";
  if (x.path == "/api/pair" && post) {
    reply = paired_reply(devices, x, now);
  } else if (x.device.empty()) {
    return false;
  } else if (x.path == "/api/code" && post) {
    const std::string code = devices.new_code(now);
    reply = code.empty() ? refused(500, "the folder beside the loop's file cannot be written")
                         : Reply{200, "application/json", texts_body({{"code", code}}), {}};
  } else if (x.path == "/api/devices" && !post) {
    reply.body = devices_body(devices.all(), x.device);
  } else if (x.path == "/api/forget" && post) {
    const bool gone = devices.forget(value_of(sent(x), "device"), now);
    reply =
        gone ? Reply{200, "application/json", "{\"forgotten\":true}\n", {}} : refused(404, "there is no such device");
  } else {
    return false;
  }
  return true;
}

}  // namespace leat::doors
