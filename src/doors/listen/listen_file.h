// loop.listen.toml: the broker, the topics, and what the names of sensors mean. It holds no secret: that stands in a
// file of its own, which nobody else may read.
#pragma once

#include "doors/listen/payload.h"

namespace leat::doors {

struct Broker {
  std::string address = "localhost";
  int port = 0;  ///< 0: 1883, or 8883 with TLS
  bool tls = false;
  std::string ca;                ///< file of certificates; empty: those of this computer
  std::string certificate, key;  ///< of this client
  std::string user, secret;      ///< secret: the password, read from its file
  std::string client = "leat";
  std::string protocol = "3.1.1";
  int qos = 1;
};

struct ListenFile {
  Broker broker;
  std::vector<Topic> topics;
  std::vector<NameMeaning> names;
};

/// What the broker is asked for. QoS 2 hands a message over only after the broker has forgotten it, so a killed
/// program would lose it; with 1 it may come twice, and what comes twice is dropped.
inline int asked_qos(const Broker& broker) {
  return broker.qos < 1 ? 0 : 1;
}

/// Reads the file; paths in it are taken from its folder.
ListenFile read_listen_file(std::string_view text, const std::string& file, const record::Context& context,
                            Problems& problems);

/// The first line of a secret's file; a problem when it is not there or others may read it.
std::string read_secret(const std::string& path, const std::string& said_at, Problems& problems);

/// Whether a topic fits a filter with + and # (MQTT 3.1.1, 4.7).
bool fits(std::string_view filter, std::string_view topic);
bool is_filter(std::string_view filter);

}  // namespace leat::doors
