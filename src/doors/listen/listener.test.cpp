// The listener against a real broker on this computer's loopback; skipped, and counted as skipped, where there is none.
#include "doors/listen/listener.h"

#include <fmt/core.h>
#include <gtest/gtest.h>
#include <mosquitto.h>
#include <mqtt_protocol.h>

#include <chrono>
#include <thread>

#include "doors/listen/broker.h"

namespace leat::doors {
namespace {

using namespace std::chrono_literals;
using tests::Broker, tests::free_port, tests::program, tests::Scratch;

/// Sends one message and waits until the broker has it.
void send(int port, const std::string& topic, const std::string& payload, bool retained = false,
          const char* user = nullptr, const char* password = nullptr) {
  mosquitto* m = mosquitto_new(nullptr, true, nullptr);
  if (user) mosquitto_username_pw_set(m, user, password);
  int sent = 0;
  mosquitto_user_data_set(m, &sent);
  mosquitto_publish_callback_set(m, [](mosquitto*, void* done, int) { *static_cast<int*>(done) = 1; });
  mosquitto_connect(m, "127.0.0.1", port, 10);
  mosquitto_publish(m, nullptr, topic.c_str(), static_cast<int>(payload.size()), payload.data(), 1, retained);
  for (int i = 0; i < 100 && !sent; ++i) mosquitto_loop(m, 20, 1);
  EXPECT_EQ(sent, 1);
  mosquitto_disconnect(m);
  mosquitto_destroy(m);
}

struct Ears {
  std::vector<Message> heard;
  std::vector<std::string> told;
  std::function<void()> once_connected;
  std::chrono::steady_clock::time_point until = std::chrono::steady_clock::now() + 15s;

  /// Listens until so many messages came, or fifteen seconds passed.
  std::string listen_for(const ListenFile& file, std::size_t messages) {
    Listening how;
    how.heard = [&](const Message& m) {
      heard.push_back(m);
      return true;
    };
    how.told = [&](const std::string& line) { told.push_back(line); };
    int looked = 0;
    how.enough = [&] {
      // A few rounds of the connection later it has subscribed as well.
      if (once_connected && !told.empty() && told.back().starts_with("connected") && ++looked == 5) once_connected();
      return heard.size() >= messages || std::chrono::steady_clock::now() > until;
    };
    return listen(file, how);
  }
};

ListenFile file_for(int port, const char* protocol) {
  ListenFile file;
  file.broker.address = "127.0.0.1";
  file.broker.port = port;
  file.broker.protocol = protocol;
  file.broker.client = "leat-test";
  file.topics.push_back({});
  file.topics[0].filter = "yard/#";
  return file;
}

class Listener : public ::testing::TestWithParam<const char*> {
 protected:
  void SetUp() override {
    if (program("mosquitto").empty()) GTEST_SKIP() << "no broker (mosquitto) on this computer";
    mosquitto_lib_init();
  }
  Scratch scratch;
  int port = free_port();
};

TEST_P(Listener, HearsWhatIsSentAndWhatWasKept) {
  const Broker broker(scratch, port, "allow_anonymous true\n");
  send(port, "yard/kept", "8.5", true);
  Ears ears;
  ears.once_connected = [&] {
    send(port, "yard/temp", "9.5");
    send(port, "elsewhere", "1");
    send(port, "yard/temp", "");
  };
  EXPECT_EQ(ears.listen_for(file_for(port, GetParam()), 3), "");
  ASSERT_EQ(ears.heard.size(), 3u);
  EXPECT_EQ(ears.heard[0].payload, "8.5");
  EXPECT_TRUE(ears.heard[0].retained);
  EXPECT_EQ(ears.heard[1].topic + " " + ears.heard[1].payload, "yard/temp 9.5");
  EXPECT_FALSE(ears.heard[1].retained);
  EXPECT_EQ(ears.heard[2].payload, "");
}

TEST_P(Listener, ConnectsAgainWhenTheBrokerWasGone) {
  Broker broker(scratch, port, "allow_anonymous true\n");
  Ears ears;
  std::thread life;
  ears.once_connected = [&] {
    life = std::thread([&] {
      broker.stop();
      std::this_thread::sleep_for(700ms);
      broker.start();
      for (int i = 0; i < 30 && ears.heard.empty(); ++i) {
        std::this_thread::sleep_for(400ms);
        if (ears.told.size() >= 2 && ears.told.back().starts_with("connected")) send(port, "yard/temp", "9.5");
      }
    });
  };
  EXPECT_EQ(ears.listen_for(file_for(port, GetParam()), 1), "");
  life.join();
  ASSERT_GE(ears.heard.size(), 1u);
  EXPECT_EQ(ears.heard[0].payload, "9.5");
  EXPECT_NE(std::find_if(ears.told.begin(), ears.told.end(),
                         [](const std::string& line) { return line.starts_with("lost"); }),
            ears.told.end());
}

TEST_P(Listener, TheBrokerAsksForASecret) {
  const std::string make = program("mosquitto_passwd");
  if (make.empty()) GTEST_SKIP() << "no mosquitto_passwd";
  ASSERT_EQ(std::system(fmt::format("{} -c -b {} leat hunter2", make, scratch.file("users")).c_str()), 0);
  const Broker broker(scratch, port, fmt::format("allow_anonymous false\npassword_file {}\n", scratch.file("users")));
  ListenFile file = file_for(port, GetParam());
  file.broker.user = "leat";
  file.broker.secret = "wrong";
  Ears shut;
  shut.until = std::chrono::steady_clock::now() + 2s;
  EXPECT_EQ(shut.listen_for(file, 1), "");
  ASSERT_GE(shut.told.size(), 1u);
  EXPECT_NE(shut.told[0].find("refused"), std::string::npos) << shut.told[0];
  file.broker.secret = "hunter2";
  Ears open;
  open.once_connected = [&] { send(port, "yard/temp", "9.5", false, "leat", "hunter2"); };
  EXPECT_EQ(open.listen_for(file, 1), "");
  EXPECT_EQ(open.heard.size(), 1u);
}

INSTANTIATE_TEST_SUITE_P(Mqtt, Listener, ::testing::Values("3.1.1", "5"),
                         [](const auto& p) { return std::string(p.param) == "5" ? "v5" : "v311"; });

TEST(ListenerTls, TrustsOnlyTheAuthorityThatItWasGiven) {
  const std::string ssl = program("openssl");
  if (program("mosquitto").empty() || ssl.empty()) GTEST_SKIP() << "no broker (mosquitto), or no openssl";
  mosquitto_lib_init();
  const Scratch scratch;
  for (const char* name : {"own", "other"})
    ASSERT_EQ(std::system(fmt::format("{0} req -x509 -newkey ec -pkeyopt ec_paramgen_curve:P-256 -nodes -days 2 -subj "
                                      "/CN=localhost -addext subjectAltName=IP:127.0.0.1 -keyout {1}.key -out {1}.pem "
                                      "2>/dev/null",
                                      ssl, scratch.file(name))
                              .c_str()),
              0);
  const int port = free_port();
  const Broker broker(scratch, port,
                      fmt::format("allow_anonymous true\ncertfile {0}.pem\nkeyfile {0}.key\n", scratch.file("own")));
  ListenFile file = file_for(port, "3.1.1");
  file.broker.tls = true;
  file.broker.ca = scratch.file("own.pem");
  Ears ears;
  ears.until = std::chrono::steady_clock::now() + 4s;
  EXPECT_EQ(ears.listen_for(file, 1), "");
  ASSERT_GE(ears.told.size(), 1u);
  EXPECT_TRUE(ears.told[0].starts_with("connected")) << ears.told[0];
  file.broker.ca = scratch.file("other.pem");
  Ears wary;
  wary.until = std::chrono::steady_clock::now() + 2s;
  EXPECT_EQ(wary.listen_for(file, 1), "");
  for (const std::string& line : wary.told) EXPECT_FALSE(line.starts_with("connected")) << line;
  EXPECT_FALSE(wary.told.empty());
  file.broker.ca = scratch.file("nowhere.pem");
  EXPECT_NE(Ears().listen_for(file, 1).find("the certificates cannot be used"), std::string::npos);
}

}  // namespace
}  // namespace leat::doors
