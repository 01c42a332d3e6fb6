#include "doors/page/assets.h"

namespace leat::doors {

const Asset* find_asset(std::string_view path) {
  for (const Asset& asset : assets())
    if (asset.path == path) return &asset;
  return nullptr;
}

}  // namespace leat::doors
