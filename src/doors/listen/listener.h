// The connection to an MQTT broker: subscribes, hands on what comes, and connects again when it was lost.
#pragma once

#include <functional>

#include "doors/listen/listen_file.h"

namespace leat::doors {

struct Listening {
  /// Takes a message, and says whether it is safe. The broker is told that it arrived only afterwards, and never when
  /// it is not: then listening ends, and the broker keeps the message for the next time.
  std::function<bool(const Message&)> heard;
  std::function<void(const std::string&)> told;  ///< connected, lost, why not
  std::function<bool()> enough;                  ///< looked at several times a second
};

/// Listens until it is enough. What cannot be begun at all (a certificate that is not there) comes back as a sentence.
std::string listen(const ListenFile& file, const Listening& how);

}  // namespace leat::doors
