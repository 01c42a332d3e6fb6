// What the server answers about codes and devices, when it serves a home.
#pragma once

#include <ctime>
#include <string>
#include <string_view>

#include "doors/page/devices.h"
#include "doors/page/reply.h"

namespace leat::doors {

/// The token that a request carries, from its cookie, or "".
std::string token_of(std::string_view cookie);
/// `device`: who asks, "" if it is not known.
struct HomeQuestion {
  std::string_view method, path, body;
  std::string device;
};
/// False when it is none of these questions.
bool answer_home(Devices& devices, const HomeQuestion& x, std::time_t now, Reply& reply);

}  // namespace leat::doors
