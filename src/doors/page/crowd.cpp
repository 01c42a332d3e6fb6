#include "doors/page/crowd.h"

#include <netinet/in.h>

#include <algorithm>
#include <cstring>

namespace leat::doors {
namespace {

constexpr PeerAddress kMapped{0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0xFF, 0xFF};

bool is_mapped(const PeerAddress& a) {
  return std::equal(a.begin(), a.begin() + 12, kMapped.begin());
}

bool same_net(const PeerAddress& a, const PeerAddress& b) {
  const auto bytes = is_mapped(a) ? 15 : 8;
  return std::equal(a.begin(), a.begin() + bytes, b.begin());
}

}  // namespace

PeerAddress peer_address(const sockaddr* peer) {
  PeerAddress a = kMapped;
  if (peer && peer->sa_family == AF_INET6)
    std::memcpy(a.data(), reinterpret_cast<const sockaddr_in6*>(peer)->sin6_addr.s6_addr, 16);
  else if (peer && peer->sa_family == AF_INET)
    std::memcpy(a.data() + 12, &reinterpret_cast<const sockaddr_in*>(peer)->sin_addr.s_addr, 4);
  return a;
}

bool Crowd::is_known(const PeerAddress& from) const {
  return known_.contains(from);
}

bool Crowd::admits(const PeerAddress& from) const {
  const std::lock_guard lock(mutex_);
  const auto mine = open_.find(from);
  if (mine != open_.end() && mine->second >= room_.of_one) return false;
  if (is_known(from)) return true;
  unsigned strangers = 0, near = 0;
  for (const auto& [address, n] : open_) {
    if (is_known(address)) continue;
    strangers += n;
    if (same_net(from, address)) near += n;
  }
  return strangers < room_.of_strangers && near < room_.of_one_net;
}

void Crowd::opened(const PeerAddress& from) {
  const std::lock_guard lock(mutex_);
  ++open_[from];
}

void Crowd::closed(const PeerAddress& from) {
  const std::lock_guard lock(mutex_);
  const auto at = open_.find(from);
  if (at != open_.end() && --at->second == 0) open_.erase(at);
}

void Crowd::knows(const PeerAddress& from) {
  const std::lock_guard lock(mutex_);
  if (!newest_.empty() && newest_.front() == from) return;
  std::erase(newest_, from);
  newest_.push_front(from);
  known_.insert(from);
  if (newest_.size() <= kMostKnown) return;
  known_.erase(newest_.back());
  newest_.pop_back();
}

void Crowd::forget() {
  const std::lock_guard lock(mutex_);
  known_.clear();
  newest_.clear();
}

}  // namespace leat::doors
