// What a loop.toml says, and nothing else: every value with the place where it stands. Nothing is assumed here yet.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/result/problem.h"
#include "base/units/parse.h"
#include "base/words/keys.h"

namespace leat::model {

/// One value of the description.
struct Said {
  double number = 0.0;                              ///< SI; for a temperature kelvin; for a flag 0 or 1
  std::string text{};                               ///< as written, or the word
  std::string basis{};                              ///< "N" from "mg/L as N"
  std::vector<std::string> words{};                 ///< of a list
  std::vector<double> hours{};                      ///< times of day
  std::vector<std::pair<double, double>> points{};  ///< of a curve, SI
  int line = 0, column = 0;
  std::string file{};  ///< where it stands, if not in the description's own file
};

/// One table: [kind] or [kind.name].
struct Component {
  std::string kind, name;
  int line = 0, column = 0;
  std::map<std::string, Said, std::less<>> values;
  std::set<std::string, std::less<>> refused{};  ///< keys that are there but wrong, which has been said already
  std::string file{};                            ///< where it stands, if not in the description's own file

  std::string path() const { return name.empty() ? kind : kind + "." + name; }
  const Said* find(std::string_view key) const;
};

/// A part that a patch takes out, and where it says so.
struct Removed {
  std::string path, file;
  int line = 0, column = 0;
};

struct Description {
  std::string file;
  std::vector<Component> components;  ///< in the order of the file
  bool whole = true;                  ///< false when parts of the file could not be read at all
  bool has_unknown_parts = false;     ///< headings that are no part of a loop, which has been said already
  std::vector<std::string> unknown_kinds{};
  std::vector<Removed> removed{};  ///< by a patch

  const Component* find(std::string_view path) const;
  std::vector<const Component*> of_kind(std::string_view kind) const;
};

/// Reads a description. All mistakes that can be seen without knowing the trade are collected: TOML's own, unknown
/// tables and keys, wrong types and units, values out of any plausible range, references to nothing.
Description read_description(std::string_view toml_text, std::string_view file, Problems& problems);

/// Whether a file is a patch: it has a heading [plan].
bool is_patch(std::string_view toml_text);

/// A description with a patch on it: parts that the patch names anew are added, keys of parts that are there replaced,
/// `[plan]` copy, remove and move done, in this order and before the keys. Mistakes name the file in which they stand.
Description patched(const Description& now, std::string_view patch_text, std::string_view patch_file,
                    Problems& problems);

/// A plan: a patch on `now`, or a description of its own. One that looks like a patch but lacks its heading is told so.
Description read_plan(const Description& now, std::string_view text, std::string_view file, Problems& problems);

}  // namespace leat::model
