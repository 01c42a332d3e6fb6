// SHA-256 (FIPS 180-4), for the chain over the entries.
#pragma once

#include <string>
#include <string_view>

namespace leat::record {

/// 64 hexadecimal digits.
std::string sha256(std::string_view bytes);

}  // namespace leat::record
