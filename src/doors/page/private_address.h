// Which addresses are a home's own.
#pragma once

#include <cstdint>

namespace leat::doors {

/// Whether an IPv4 address, in the order of this machine, is never routed outside (RFC 1918, 3927, loopback).
constexpr bool is_private(std::uint32_t a) {
  return (a >> 24) == 10 || (a >> 20) == 0xAC1 || (a >> 16) == 0xC0A8 || (a >> 16) == 0xA9FE || (a >> 24) == 127;
}

/// The same of an IPv6 address, its 16 bytes in order (RFC 4193, RFC 4291; an IPv4 address in its clothes counts as that).
constexpr bool is_private_v6(const std::uint8_t* a) {
  bool zeros = true;
  for (int i = 0; i < 10; ++i) zeros = zeros && a[i] == 0;
  if (zeros && a[10] == 0xFF && a[11] == 0xFF)
    return is_private(std::uint32_t{a[12]} << 24 | std::uint32_t{a[13]} << 16 | std::uint32_t{a[14]} << 8 | a[15]);
  const bool loopback = zeros && a[10] == 0 && a[11] == 0 && a[12] == 0 && a[13] == 0 && a[14] == 0 && a[15] == 1;
  return loopback || (a[0] & 0xFE) == 0xFC || (a[0] == 0xFE && (a[1] & 0xC0) == 0x80);
}

}  // namespace leat::doors
