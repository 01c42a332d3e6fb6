#include "doors/command/week_wording.h"

#include <fmt/core.h>

#include <filesystem>

#include "base/result/problem.h"
#include "doors/command/files.h"

namespace leat::doors {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kLongest = 200'000;

/// Puts the file out of the way under the first number that is free.
bool set_aside(const std::string& path, std::string& told, std::string& why_not) {
  std::error_code failed;
  std::string old;
  for (int n = 1; old.empty() || fs::exists(old, failed); ++n)
    old = fs::path(path).replace_extension(fmt::format(".{}.md", n)).string();
  fs::rename(path, old, failed);
  if (failed)
    why_not = fmt::format("{} could not be set aside ({})", path, failed.message());
  else
    told += fmt::format("Kept the wording that was as {}.\n", old);
  return !failed;
}

std::optional<std::string> text_of(const std::string& path, std::string& why_not) {
  Problems problems;
  auto text = read_file(path, problems);
  if (!text) why_not = problems.text();
  if (text && text->size() > kLongest) {
    why_not = fmt::format("{} is {} bytes long; a wording has {} at most", path, text->size(), kLongest);
    return std::nullopt;
  }
  return text;
}

}  // namespace

std::optional<std::string> own_wording(const std::string& path) {
  std::error_code failed;
  std::string why_not;
  return fs::exists(path, failed) ? text_of(path, why_not) : std::nullopt;
}

std::optional<std::string> wording_at(const std::string& path, const std::string& usual, const WordingWish& wish,
                                      std::string& told, std::string& why_not) {
  std::string wanted = usual;
  if (!wish.file.empty()) {
    auto said = text_of(wish.file, why_not);
    if (!said) return std::nullopt;
    wanted = std::move(*said);
  }
  std::error_code failed;
  if (fs::exists(path, failed)) {
    auto there = text_of(path, why_not);
    if (!there || *there == wanted || (!wish.fresh && wish.file.empty())) return there;
    if (!set_aside(path, told, why_not)) return std::nullopt;
  }
  if (!write_new_file(path, wanted, why_not)) return std::nullopt;
  told += fmt::format("Wrote {}: edit the wording there, and ask again for the page.\n", path);
  return wanted;
}

}  // namespace leat::doors
