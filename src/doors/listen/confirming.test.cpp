// When a message is confirmed to the broker: a broker of a few bytes on the loopback, which sees what comes back and
// when.
#include <gtest/gtest.h>
#include <poll.h>

#include <atomic>

#include "doors/listen/broker.h"
#include "doors/listen/listener.h"

namespace leat::doors {
namespace {

using namespace std::chrono_literals;

constexpr int kPuback = 0x40;

/// Speaks as much MQTT 3.1.1 as one listener needs (MQTT 3.1.1, 3: the first byte says the kind).
class SmallBroker {
  int door_ = -1, line_ = -1;

  std::vector<unsigned char> read_packet(int wait_ms) {
    pollfd one{line_, POLLIN, 0};
    if (::poll(&one, 1, wait_ms) <= 0) return {};
    unsigned char head[2] = {};
    if (::recv(line_, head, 2, MSG_WAITALL) != 2) return {};
    std::vector<unsigned char> all(2u + head[1]);
    std::copy(head, head + 2, all.begin());
    if (head[1] > 0 && ::recv(line_, all.data() + 2, head[1], MSG_WAITALL) != head[1]) return {};
    return all;
  }
  void write(std::vector<unsigned char> bytes) { ::send(line_, bytes.data(), bytes.size(), MSG_NOSIGNAL); }

 public:
  int port = 0;

  SmallBroker() {
    door_ = ::socket(AF_INET, SOCK_STREAM, 0);
    sockaddr_in at{};
    at.sin_family = AF_INET;
    at.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    socklen_t size = sizeof at;
    ::bind(door_, reinterpret_cast<sockaddr*>(&at), size);
    ::getsockname(door_, reinterpret_cast<sockaddr*>(&at), &size);
    ::listen(door_, 1);
    port = ntohs(at.sin_port);
  }
  ~SmallBroker() {
    ::close(line_);
    ::close(door_);
  }
  /// Lets a listener in, takes its subscription, and sends a message of QoS 1.
  void hand_over() {
    line_ = ::accept(door_, nullptr, nullptr);
    read_packet(5000);
    write({0x20, 2, 0, 0});
    const auto subscribe = read_packet(5000);
    write({0x90, 3, subscribe.at(2), subscribe.at(3), 1});
    write({0x32, 8, 0, 3, 'a', '/', 'b', 0, 7, '9'});
  }
  /// The kind of the next packet within a time; 0 if none came.
  int next_kind(int wait_ms) {
    const auto packet = read_packet(wait_ms);
    return packet.empty() ? 0 : packet[0] & 0xf0;
  }
};

ListenFile file_for(int port) {
  ListenFile file;
  file.broker.address = "127.0.0.1";
  file.broker.port = port;
  file.topics.push_back({});
  file.topics[0].filter = "a/b";
  return file;
}

TEST(Confirming, ComesAfterTheMessageWasTaken) {
  SmallBroker broker;
  std::atomic<bool> begun = false, go_on = false, done = false;
  Listening how;
  how.told = [](const std::string&) {};
  how.heard = [&](const Message& m) {
    EXPECT_EQ(m.payload, "9");
    begun = true;
    while (!go_on) std::this_thread::sleep_for(5ms);
    return true;
  };
  how.enough = [&] { return done.load(); };
  std::thread listener([&] { listen(file_for(broker.port), how); });
  broker.hand_over();
  while (!begun) std::this_thread::sleep_for(5ms);
  EXPECT_EQ(broker.next_kind(500), 0) << "confirmed while it is still being put on the disk";
  go_on = true;
  EXPECT_EQ(broker.next_kind(5000), kPuback);
  done = true;
  listener.join();
}

TEST(Confirming, NeverComesForAMessageThatCouldNotBeKept) {
  SmallBroker broker;
  int heard = 0;
  Listening how;
  how.told = [](const std::string&) {};
  how.heard = [&](const Message&) { return ++heard == 0; };
  how.enough = [] { return false; };
  std::thread listener([&] { listen(file_for(broker.port), how); });
  broker.hand_over();
  listener.join();
  EXPECT_EQ(heard, 1);
  EXPECT_EQ(broker.next_kind(500), 0);
}

}  // namespace
}  // namespace leat::doors
