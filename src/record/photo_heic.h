// HEIC, as many phones write it: made JPEG, which every browser shows.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace leat::record {

/// Whether the bytes begin as HEIC (or AVIF, the same kind of file) does.
bool is_heic(std::string_view bytes);
/// The picture as JPEG, turned upright and with nothing beside it; nothing if it cannot be read, or is larger than 60
/// million points.
std::optional<std::string> jpeg_of_heic(std::string_view bytes);

}  // namespace leat::record
