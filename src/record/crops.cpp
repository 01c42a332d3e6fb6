#include "record/crops.h"

#include <algorithm>
#include <array>
#include <string_view>

#include "base/result/problem.h"
#include "science/crops/crop.h"

namespace leat::record {
namespace {

/// Plain words beside those of the table, so that a slip in them is seen and they are not taken for slips.
constexpr std::array<std::string_view, 46> kPlain = {
    "arugula", "bean",     "beans",    "beet",    "beetroot",   "bok choy",   "broccoli",     "cabbage",
    "carrot",  "celery",   "chard",    "chicory", "chilli",     "chives",     "cilantro",     "coriander",
    "cress",   "cucumber", "dill",     "endive",  "fennel",     "kale",       "leek",         "marigold",
    "mint",    "mizuna",   "mustard",  "onion",   "oregano",    "nasturtium", "parsley",      "pea",
    "pepper",  "purslane", "radish",   "sage",    "sorrel",     "silverbeet", "strawberries", "strawberry",
    "swede",   "thyme",    "tomatoes", "turnip",  "watercress", "wombok"};

bool is_known(std::string_view word) {
  return science::find_crop(word) || std::find(kPlain.begin(), kPlain.end(), word) != kPlain.end();
}

bool is_among(const std::string& word, const std::vector<std::string>& own) {
  return std::find(own.begin(), own.end(), word) != own.end();
}

std::string near_in(const std::string& word, const std::vector<std::string_view>& names) {
  return std::string(nearest_word(word, names));
}

}  // namespace

bool is_crop(const std::string& subject, const std::vector<std::string>& own) {
  if (is_among(subject, own) || is_known(subject)) return true;
  return subject.ends_with("s") && is_known(std::string_view(subject).substr(0, subject.size() - 1));
}

std::string likely_crop(const std::string& subject, const std::vector<std::string>& own) {
  if (subject.empty() || is_among(subject, own)) return "";
  const science::Crop* crop = science::find_crop(subject);
  for (const std::string& name : own)
    if (crop && science::find_crop(name) == crop) return name;
  if (const std::string near = near_in(subject, {own.begin(), own.end()}); !near.empty() && !is_known(subject))
    return near;
  if (is_crop(subject, own)) return "";
  std::vector<std::string_view> all(kPlain.begin(), kPlain.end());
  for (const std::string_view name : science::crop_names()) all.push_back(name);
  return near_in(subject, all);
}

}  // namespace leat::record
