#include "model/loop/meant.h"

#include <algorithm>
#include <string>

#include "base/result/problem.h"

namespace leat::model {
namespace {

struct OtherWord {
  std::string_view written, meant;
};

constexpr OtherWord kKinds[] = {
    {"location", "place"},
    {"site", "place"},
    {"position", "place"},
    {"constants", "laws"},
    {"reservoir", "sump"},
    {"raft", "raft_bed"},
    {"floating_bed", "raft_bed"},
    {"deep_water_bed", "raft_bed"},
    {"gravel", "gravel_bed"},
    {"media_bed", "gravel_bed"},
    {"grow_bed", "gravel_bed"},
    {"growbed", "gravel_bed"},
    {"tee", "junction"},
    {"hose", "pipe"},
    {"tube", "pipe"},
    {"standpipe", "overflow"},
    {"drain", "overflow"},
    {"return", "overflow"},
    {"weir", "overflow"},
    {"blower", "air"},
    {"aerator", "air"},
    {"air_pump", "air"},
    {"airstone", "air"},
    {"stock", "fish"},
    {"plants", "planting"},
    {"plant", "planting"},
    {"crop", "planting"},
    {"crops", "planting"},
    {"top_up", "source"},
    {"tap", "source"},
    {"fish_tank", "tank"},
    {"system", "loop"},
};

constexpr OtherWord kKeys[] = {
    {"height", "depth"},
    {"size", "volume"},
    {"capacity", "volume"},
    {"litres", "volume"},
    {"surface", "area"},
    {"breadth", "width"},
    {"bottom", "floor"},
    {"brim", "rim"},
    {"top", "rim"},
    {"water_level", "level"},
    {"material", "wall"},
    {"thickness", "wall_thickness"},
    {"insulation", "cladding"},
    {"lagging", "cladding"},
    {"covered", "cover"},
    {"temp", "temperature"},
    {"kh", "alkalinity"},
    {"hardness", "alkalinity"},
    {"oxygen", "dissolved_oxygen"},
    {"do", "dissolved_oxygen"},
    {"tan", "ammonia"},
    {"nh3", "ammonia"},
    {"nh4", "ammonia"},
    {"no2", "nitrite"},
    {"no3", "nitrate"},
    {"lat", "latitude"},
    {"lon", "longitude"},
    {"long", "longitude"},
    {"elevation", "altitude"},
    {"zone", "time_zone"},
    {"tz", "time_zone"},
    {"number", "count"},
    {"how_many", "count"},
    {"weight", "mass"},
    {"kind", "species"},
    {"type", "species"},
    {"tank", "in"},
    {"bed", "in"},
    {"vessel", "in"},
    {"protein", "feed_protein"},
    {"ration", "feed"},
    {"plants", "places"},
    {"number", "places"},
    {"count", "places"},
    {"variety", "crop"},
    {"kind", "crop"},
    {"type", "crop"},
    {"species", "crop"},
    {"diameter", "bore"},
    {"inside_diameter", "bore"},
    {"head", "shut_off_head"},
    {"max_head", "shut_off_head"},
    {"flow", "largest_flow"},
    {"max_flow", "largest_flow"},
    {"watts", "power"},
    {"start", "from"},
    {"end", "to"},
    {"in", "to"},
    {"in", "from"},
    {"out", "to"},
    {"diameter", "standpipe_bore"},
    {"height", "rim"},
    {"k", "losses"},
    {"bends", "fittings"},
    {"stone", "grain"},
    {"void", "porosity"},
    {"voids", "porosity"},
};

std::string plain_word(std::string_view written) {
  std::string word(written);
  for (char& c : word) c = c == '-' || c == ' ' ? '_' : c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return word;
}

/// The longest word for which a near one is looked for.
constexpr std::size_t kLongest = 40;

}  // namespace

const words::Kind* meant_kind(std::string_view written) {
  if (written.size() > kLongest) return nullptr;
  const std::string word = plain_word(written);
  if (const words::Kind* same = words::find_kind(word)) return same;
  for (const auto& [other, meant] : kKinds)
    if (other == word) return words::find_kind(meant);
  std::vector<std::string_view> names;
  for (const words::Kind& kind : words::kinds()) names.push_back(kind.name);
  return words::find_kind(nearest_word(word, names));
}

const words::Key* meant_key(const words::Kind& kind, std::string_view written) {
  if (written.size() > kLongest) return nullptr;
  const std::string word = plain_word(written);
  if (const words::Key* same = words::find_key(kind, word)) return same;
  for (const auto& [other, meant] : kKeys)
    if (const words::Key* key = other == word ? words::find_key(kind, meant) : nullptr) return key;
  std::vector<std::string_view> names;
  for (const words::Key& key : kind.keys) names.push_back(key.name);
  return words::find_key(kind, nearest_word(word, names));
}

}  // namespace leat::model
