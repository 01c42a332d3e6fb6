// The wording of a week: a Markdown file that is the grower's once it is written.
#pragma once

#include <optional>
#include <string>

namespace leat::doors {

/// What should become of the wording that is there.
struct WordingWish {
  bool fresh = false;  ///< written anew
  std::string file{};  ///< what stands in this file, instead
};

/// The wording that stands at `path`, as the grower left it; nothing when there is none.
std::optional<std::string> own_wording(const std::string& path);

/// The wording at `path` from now on: what is wished, else what is there, else the usual. One that is replaced is kept
/// as .1.md, .2.md ... `told` is for the grower; nothing when it cannot be had, and then `why_not` says why.
std::optional<std::string> wording_at(const std::string& path, const std::string& usual, const WordingWish& wish,
                                      std::string& told, std::string& why_not);

}  // namespace leat::doors
