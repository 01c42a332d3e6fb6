// The page's own files, which travel inside the program.
#pragma once

#include <span>
#include <string_view>

namespace leat::doors {

struct Asset {
  std::string_view path;  ///< "/", "/app.js"
  std::string_view type;
  std::string_view plain, packed;  ///< as it is, and as gzip
  std::string_view tag;            ///< changes with its bytes
};

/// Empty when the program was built without its page.
std::span<const Asset> assets();
const Asset* find_asset(std::string_view path);

}  // namespace leat::doors
