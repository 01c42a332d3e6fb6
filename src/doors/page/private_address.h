// Which addresses are a home's own.
#pragma once

#include <cstdint>

namespace leat::doors {

/// Whether an IPv4 address, in the order of this machine, is never routed outside (RFC 1918, 3927, loopback).
constexpr bool is_private(std::uint32_t a) {
  return (a >> 24) == 10 || (a >> 20) == 0xAC1 || (a >> 16) == 0xC0A8 || (a >> 16) == 0xA9FE || (a >> 24) == 127;
}

}  // namespace leat::doors
