#include "doors/listen/listener.h"

#include <fmt/core.h>
#include <mosquitto.h>
#include <mqtt_protocol.h>

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <cstring>
#include <memory>
#include <thread>

namespace leat::doors {
namespace {

constexpr int kAliveSeconds = 30, kLongestWaitMs = 30'000;

record::Moment by_this_clock() {
  const auto now = std::chrono::system_clock::now().time_since_epoch();
  return std::chrono::duration_cast<std::chrono::milliseconds>(now).count();
}

/// What the callbacks of the library work on.
struct Session {
  const ListenFile& file;
  const Listening& how;
  bool connected = false;
  bool refused = false;  ///< by the broker: trying again at once is of no use
  bool unsafe = false;   ///< a message could not be kept: no more is confirmed
};

std::string name_of(const Broker& b) {
  return fmt::format("{}:{}", b.address, b.port > 0 ? b.port : b.tls ? 8883 : 1883);
}

void on_connect(mosquitto* connection, void* of, int code, int, const mosquitto_property*) {
  auto& session = *static_cast<Session*>(of);
  const Broker& b = session.file.broker;
  if (code != 0) {
    session.refused = true;
    const char* why = b.protocol == "5" ? mosquitto_reason_string(code) : mosquitto_connack_string(code);
    return session.how.told(fmt::format("{} refused: {}", name_of(b), why));
  }
  session.connected = true;
  session.refused = false;
  session.how.told(fmt::format("connected to {}", name_of(b)));
  for (const Topic& t : session.file.topics) mosquitto_subscribe(connection, nullptr, t.filter.c_str(), asked_qos(b));
}

void on_disconnect(mosquitto*, void* of, int code, const mosquitto_property*) {
  auto& session = *static_cast<Session*>(of);
  if (session.connected && code != 0)
    session.how.told(fmt::format("lost {}; trying again", name_of(session.file.broker)));
  session.connected = false;
}

void on_message(mosquitto*, void* of, const mosquitto_message* m, const mosquitto_property*) {
  auto& session = *static_cast<Session*>(of);
  if (session.unsafe) return;
  const auto* bytes = static_cast<const char*>(m->payload);
  session.unsafe = !session.how.heard(
      {m->topic, bytes ? std::string(bytes, static_cast<std::size_t>(m->payloadlen)) : "", m->retain, by_this_clock()});
}

const char* or_none(const std::string& text) {
  return text.empty() ? nullptr : text.c_str();
}

/// Version, name, secret and certificates; a sentence if one of them cannot be used.
std::string set_up(mosquitto* connection, const Broker& b) {
  // By itself the library writes the confirmation of a message before it hands the message over. Told that we have
  // threads, it lays what it has to say in a queue, which is written when its loop is run next: after the message was
  // taken.
  mosquitto_threaded_set(connection, true);
  mosquitto_int_option(connection, MOSQ_OPT_PROTOCOL_VERSION,
                       b.protocol == "5" ? MQTT_PROTOCOL_V5 : MQTT_PROTOCOL_V311);
  if (!b.user.empty()) mosquitto_username_pw_set(connection, b.user.c_str(), or_none(b.secret));
  if (!b.tls) return "";
  if (b.ca.empty()) mosquitto_int_option(connection, MOSQ_OPT_TLS_USE_OS_CERTS, 1);
  const int code = b.ca.empty() && b.certificate.empty()
                       ? MOSQ_ERR_SUCCESS
                       : mosquitto_tls_set(connection, or_none(b.ca), b.ca.empty() ? "/etc/ssl/certs" : nullptr,
                                           or_none(b.certificate), or_none(b.key), nullptr);
  if (code != MOSQ_ERR_SUCCESS)
    return fmt::format("the certificates cannot be used ({}); look at ca, certificate and key",
                       mosquitto_strerror(code));
  return "";
}

/// Waits in small steps, so that it can be told enough.
void wait(const Listening& how, int ms) {
  for (int waited = 0; waited < ms && !how.enough(); waited += 100)
    std::this_thread::sleep_for(std::chrono::milliseconds(100));
}

int connect(mosquitto* connection, const Broker& b) {
  const int port = b.port > 0 ? b.port : b.tls ? 8883 : 1883;
  if (b.protocol != "5") return mosquitto_connect(connection, b.address.c_str(), port, kAliveSeconds);
  mosquitto_property* properties = nullptr;
  // A day for which the broker keeps what it could not hand over.
  mosquitto_property_add_int32(&properties, MQTT_PROP_SESSION_EXPIRY_INTERVAL, 86'400);
  const int code = mosquitto_connect_bind_v5(connection, b.address.c_str(), port, kAliveSeconds, nullptr, properties);
  mosquitto_property_free_all(&properties);
  return code;
}

void run(mosquitto* connection, Session& session) {
  const Broker& b = session.file.broker;
  int pause = 500;
  std::string last;
  while (!session.how.enough()) {
    int code = connect(connection, b);
    if (code == MOSQ_ERR_SUCCESS) last.clear();
    while (code == MOSQ_ERR_SUCCESS && !session.unsafe && !session.how.enough()) {
      code = mosquitto_loop(connection, 200, 1);
      if (session.connected) pause = 500;
    }
    // No farewell: it would take the confirmation in the queue along.
    if (session.unsafe) return;
    if (session.how.enough()) break;
    const std::string why = fmt::format("{} cannot be reached ({}); trying again", name_of(b),
                                        code == MOSQ_ERR_ERRNO ? std::strerror(errno) : mosquitto_strerror(code));
    if (code != MOSQ_ERR_CONN_LOST && code != MOSQ_ERR_CONN_REFUSED && why != last) session.how.told(last = why);
    wait(session.how, session.refused ? kLongestWaitMs : pause);
    pause = std::min(2 * pause, kLongestWaitMs);
  }
  mosquitto_disconnect(connection);
  for (int i = 0; i < 5 && mosquitto_loop(connection, 20, 1) == MOSQ_ERR_SUCCESS; ++i) {
  }
}

}  // namespace

std::string listen(const ListenFile& file, const Listening& how) {
  mosquitto_lib_init();
  Session session{file, how};
  // The session is kept by the broker while we are away, so that what is sent meanwhile is not lost.
  const std::unique_ptr<mosquitto, void (*)(mosquitto*)> connection(
      mosquitto_new(file.broker.client.c_str(), false, &session), mosquitto_destroy);
  if (!connection) return "the connection cannot be made; look at the client's name";
  std::string trouble = set_up(connection.get(), file.broker);
  if (trouble.empty()) {
    mosquitto_connect_v5_callback_set(connection.get(), on_connect);
    mosquitto_disconnect_v5_callback_set(connection.get(), on_disconnect);
    mosquitto_message_v5_callback_set(connection.get(), on_message);
    run(connection.get(), session);
  }
  return trouble;
}

}  // namespace leat::doors
