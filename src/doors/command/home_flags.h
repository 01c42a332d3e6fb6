// leat serve at home: who is known, and what is told when it begins.
#pragma once

#include "doors/command/serve_verb.h"
#include "doors/page/server.h"

namespace leat::doors {

/// Lists the devices, forgets one, makes a code, as the flags say. Nothing when they say none of it; else the exit
/// code.
std::optional<int> ask_of_devices(const ServeFlags& flags, const ServeSettings& settings);

/// How to reach the page, how to trust it, and a code.
void tell_home(const ServeSettings& settings, int port, int trust_port);

}  // namespace leat::doors
