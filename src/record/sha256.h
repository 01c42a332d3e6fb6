// SHA-256 (FIPS 180-4), for the chain over the entries and the seals over readings.
#pragma once

#include <string>
#include <string_view>

namespace leat::record {

/// 64 hexadecimal digits.
std::string sha256(std::string_view bytes);
/// The same without the instructions that some machines have for it.
std::string sha256_plain(std::string_view bytes);

}  // namespace leat::record
