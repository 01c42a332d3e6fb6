#include "record/places.h"

#include <algorithm>

#include "base/words/letters.h"

namespace leat::record {
namespace {

std::string with_blanks(std::string text) {
  std::replace(text.begin(), text.end(), '_', ' ');
  return words::in_small_letters(text);
}

/// "raft_bed" is also called "raft" and "bed"; a tank "fish tank".
std::vector<std::string> kind_names(const std::string& kind) {
  std::vector<std::string> names = {with_blanks(kind)};
  if (const std::size_t at = kind.find('_'); at != std::string::npos) {
    names.push_back(kind.substr(0, at));
    names.push_back(kind.substr(kind.rfind('_') + 1));
  }
  if (kind == "tank") names.push_back("fish tank");
  if (kind == "gravel_bed") names.push_back("media bed");
  return names;
}

bool is_only_one(const Context& context, const Spot& spot) {
  return std::count_if(context.spots.begin(), context.spots.end(),
                       [&](const Spot& other) { return other.kind == spot.kind; }) == 1;
}

std::vector<std::string> names_of(const Context& context, const Spot& spot) {
  const std::string own = with_blanks(spot.name);
  std::vector<std::string> names = {with_blanks(spot.path), spot.path};
  // A number alone names nothing: it is a count.
  if (own.find_first_not_of("0123456789") != std::string::npos) names.push_back(own);
  for (const std::string& kind : kind_names(spot.kind)) {
    names.push_back(kind);
    names.push_back(kind + " " + own);
    names.push_back(own + " " + kind);
    if (is_only_one(context, spot)) names.push_back(kind + " 1");
  }
  return names;
}

bool is_vessel(const std::string& kind) {
  return kind == "tank" || kind == "sump" || kind == "raft_bed" || kind == "gravel_bed";
}

std::vector<std::string> called(const Context& context, const std::string& words) {
  std::vector<std::string> paths;
  for (const Spot& spot : context.spots) {
    const auto names = names_of(context, spot);
    if (std::find(names.begin(), names.end(), words) != names.end()) paths.push_back(spot.path);
  }
  if (paths.size() < 2) return paths;
  // A vessel goes before a pipe or a planting of the same name.
  std::vector<std::string> vessels;
  for (const std::string& path : paths)
    if (is_vessel(path.substr(0, path.find('.')))) vessels.push_back(path);
  return vessels.size() == 1 ? vessels : paths;
}

}  // namespace

Context context_of(const model::Description& description, Clock clock, Moment now) {
  Context context;
  context.clock = std::move(clock);
  context.now = now;
  for (const model::Component& c : description.components) {
    if (c.name.empty()) continue;
    if (c.kind == "fish") {
      context.fish.push_back(with_blanks(c.name));
      if (const auto* species = c.find("species")) context.fish.push_back(with_blanks(species->text));
      if (const auto* in = c.find("in")) context.fish_in.push_back(in->text);
    } else if (c.kind == "planting") {
      if (const auto* crop = c.find("crop")) context.crops.push_back(with_blanks(crop->text));
    } else {
      context.spots.push_back({c.path(), c.kind, c.name});
    }
  }
  std::sort(context.fish_in.begin(), context.fish_in.end());
  context.fish_in.erase(std::unique(context.fish_in.begin(), context.fish_in.end()), context.fish_in.end());
  return context;
}

std::optional<FoundPlace> take_place(const Context& context, const Tokens& tokens, std::size_t& at, std::size_t end) {
  std::size_t start = at;
  while (start < end && (tokens[start].plain == "the" || tokens[start].plain == "my")) ++start;
  for (std::size_t n = std::min<std::size_t>(4, end - start); n > 0; --n) {
    std::string words;
    for (std::size_t i = start; i < start + n; ++i) words += (words.empty() ? "" : " ") + tokens[i].plain;
    const auto paths = called(context, words);
    // "raft 2" of a loop with one raft is not that raft.
    const std::size_t next = start + n;
    const bool numbered = next < end && tokens[next].number &&
                          (next + 1 == end || tokens[next + 1].plain == "," || tokens[next + 1].plain == "and");
    if (paths.empty() || numbered) continue;
    at = next;
    if (paths.size() == 1) return FoundPlace{paths[0], {}};
    return FoundPlace{"", paths};
  }
  return std::nullopt;
}

std::vector<std::string> near_places(const Context& context, const std::string& words) {
  std::vector<std::string> names, all;
  for (const Spot& spot : context.spots) {
    if (is_vessel(spot.kind)) all.push_back(spot.path);
    for (const std::string& name : names_of(context, spot)) names.push_back(name);
  }
  const std::vector<std::string_view> views(names.begin(), names.end());
  const std::string_view near = nearest_word(words, views);
  if (near.empty()) return all;
  const auto paths = called(context, std::string(near));
  return paths.empty() ? all : paths;
}

std::string usual_place(const Context& context) {
  if (context.fish_in.size() == 1) return context.fish_in[0];
  std::vector<std::string> tanks;
  for (const Spot& spot : context.spots)
    if (spot.kind == "tank") tanks.push_back(spot.path);
  return context.fish_in.empty() && tanks.size() == 1 ? tanks[0] : "";
}

}  // namespace leat::record
