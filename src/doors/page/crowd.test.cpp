// One enemy with many addresses, and those who are let in.
#include "doors/page/crowd.h"

#include <arpa/inet.h>
#include <fmt/core.h>
#include <gtest/gtest.h>
#include <netinet/in.h>

namespace leat::doors {
namespace {

PeerAddress of(const std::string& text) {
  sockaddr_in6 six{};
  sockaddr_in four{};
  if (inet_pton(AF_INET6, text.c_str(), &six.sin6_addr) == 1) {
    six.sin6_family = AF_INET6;
    return peer_address(reinterpret_cast<const sockaddr*>(&six));
  }
  EXPECT_EQ(inet_pton(AF_INET, text.c_str(), &four.sin_addr), 1) << text;
  four.sin_family = AF_INET;
  return peer_address(reinterpret_cast<const sockaddr*>(&four));
}

/// Opens as many as are taken from an address; how many that is.
int fill(Crowd& crowd, const std::string& from) {
  int n = 0;
  for (; n < 5000 && crowd.admits(of(from)); ++n) crowd.opened(of(from));
  return n;
}

TEST(Crowd, OneAddressHoldsSoManyAndGetsThemBack) {
  Crowd crowd;
  EXPECT_EQ(fill(crowd, "192.168.1.9"), 96);
  EXPECT_TRUE(crowd.admits(of("192.168.1.10")));
  crowd.closed(of("192.168.1.9"));
  EXPECT_EQ(fill(crowd, "192.168.1.9"), 1);
  EXPECT_EQ(of("192.168.1.9"), of("::ffff:192.168.1.9"));
}

TEST(Crowd, ManyAddressesOfOneNetOfIPv6HoldNoMoreThanANetMay) {
  Crowd crowd;
  int all = 0;
  for (int i = 1; i <= 3000; ++i) all += fill(crowd, fmt::format("fd00:1:2:3::{:x}", i));
  EXPECT_EQ(all, 384);
  EXPECT_FALSE(crowd.admits(of("fd00:1:2:3:ffff::1"))) << "the rest of an address does not make another net";
  EXPECT_TRUE(crowd.admits(of("fd00:1:2:4::1")));
  EXPECT_TRUE(crowd.admits(of("192.168.1.20")));
}

TEST(Crowd, WhoeverIsLetInHasRoomHoweverManyNetsAreTaken) {
  Crowd crowd;
  crowd.knows(of("fd00:1:2:3::abcd"));
  int all = 0;
  for (int net = 0; net < 40; ++net)
    for (int i = 1; i <= 8; ++i) all += fill(crowd, fmt::format("fd00:1:2:{:x}::{:x}", net, i));
  for (int i = 1; i <= 250; ++i) all += fill(crowd, fmt::format("10.0.0.{}", i));
  EXPECT_EQ(all, 1200);
  EXPECT_FALSE(crowd.admits(of("10.9.0.1")));
  EXPECT_EQ(fill(crowd, "fd00:1:2:3::abcd"), 96) << "of the enemy's own net, and let in";
  crowd.forget();
  EXPECT_FALSE(crowd.admits(of("fd00:1:2:3::abce")));
}

TEST(Crowd, WhoBecomesKnownIsNoLongerCountedAmongStrangers) {
  Crowd crowd({4, 6, 8});
  EXPECT_EQ(fill(crowd, "fd00::1"), 4);
  EXPECT_EQ(fill(crowd, "fd00::2"), 2);
  crowd.knows(of("fd00::1"));
  EXPECT_EQ(fill(crowd, "fd00::3"), 4) << "the net has its room again";
}

}  // namespace
}  // namespace leat::doors
