// Who holds how many connections on a home network, so that one enemy, however many addresses it takes, leaves room for
// those who are let in.
#pragma once

#include <sys/socket.h>

#include <array>
#include <cstdint>
#include <deque>
#include <map>
#include <mutex>
#include <set>

namespace leat::doors {

/// An address as 16 bytes, one of IPv4 in the clothes of IPv6.
using PeerAddress = std::array<std::uint8_t, 16>;
PeerAddress peer_address(const sockaddr* peer);

class Crowd {
 public:
  /// The most connections of one address; of strangers from one net (the first 64 bits of IPv6, the first 24 of IPv4,
  /// which cost nothing to fill with addresses); of all strangers.
  struct Room {
    unsigned of_one = 96, of_one_net = 384, of_strangers = 1200;
  };
  Crowd() = default;
  explicit Crowd(Room room) : room_(room) {}

  /// Whether one more connection from there is taken.
  bool admits(const PeerAddress& from) const;
  void opened(const PeerAddress& from);
  void closed(const PeerAddress& from);
  /// A device that was let in has asked from there: it is no stranger any more.
  void knows(const PeerAddress& from);
  /// Somebody was put out: who is still let in becomes known again by asking.
  void forget();

 private:
  static constexpr std::size_t kMostKnown = 64;
  Room room_{};
  mutable std::mutex mutex_;
  std::map<PeerAddress, unsigned> open_;
  std::deque<PeerAddress> newest_;  ///< of those known, the newest first
  std::set<PeerAddress> known_;
  bool is_known(const PeerAddress& from) const;
};

}  // namespace leat::doors
