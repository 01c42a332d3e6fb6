// The rules that HOUSE.md states, as functions from sources to faults.
#pragma once

#include <array>
#include <set>
#include <span>

#include "tools/sources.h"

namespace leat::tools {

using Sources = std::vector<Source>;
using Faults = std::vector<Fault>;

/// From the top of the house down. A file may include from its own storey and from those above it. The first line that
/// a path starts with is its storey, so a part of a folder may stand apart.
inline constexpr std::array<std::string_view, 16> kStoreys = {
    "base/",
    "numerics/",
    "science/",
    "model/weather/",
    "model/loop/",
    "model/books/",
    "model/flow/",
    "model/equations/forcing.",  // the weather, as processes want it
    "model/processes/",
    "model/equations/",
    "model/simulate/",
    "record/",
    "learn/",
    "answers/",
    "tell/",
    "doors/"};

inline std::size_t storey_of(std::string_view path_in_src) {
  for (std::size_t i = 0; i < kStoreys.size(); ++i)
    if (path_in_src.starts_with(kStoreys[i])) return i;
  return kStoreys.size();
}

inline std::string_view in_src(std::string_view path) {
  return path.substr(std::string_view("src/").size());
}

inline Faults wrong_storeys(const Sources& sources) {
  Faults faults;
  for (const Source& source : sources) {
    const std::size_t own = storey_of(in_src(source.path));
    if (own == kStoreys.size())
      faults.push_back({source.path, 1, "stands in no storey", "a folder that HOUSE.md names"});
    for (const Include& include : source.includes) {
      if (!include.quoted) continue;
      const std::size_t other = storey_of(include.path);
      if (other <= own) continue;
      faults.push_back({source.path, include.line, "includes \"" + include.path + "\"",
                        "nothing from below " + std::string(own < kStoreys.size() ? kStoreys[own] : "the house")});
    }
  }
  return faults;
}

/// Headers that take long to compile or whose types should not spread, and where they may be included.
struct Heavy {
  std::string_view starts, home;
};
inline constexpr Heavy kHeavy[] = {{"toml++/", "src/model/loop/"},
                                   {"nlohmann/", "src/tell/"},
                                   {"nlohmann/", "src/doors/page/"},
                                   {"nlohmann/", "src/doors/listen/"},
                                   {"toml++/", "src/doors/listen/"},
                                   {"mosquitto.h", "src/doors/listen/"},
                                   {"microhttpd.h", "src/doors/page/"},
                                   {"gnutls/", "src/doors/page/authority.cpp"},
                                   {"qrcodegen/", "src/doors/page/qr.cpp"},
                                   {"Eigen/", "src/numerics/"},
                                   {"Eigen/", "src/model/flow/"},
                                   {"CLI/", "src/doors/command/"},
                                   {"date/", "src/base/time/"},
                                   {"sqlite3.h", "src/record/"},
                                   {"libheif/", "src/record/"},
                                   {"jpeglib.h", "src/record/"},
                                   {"cvodes/", "src/numerics/bdf_integrator.cpp"},
                                   {"sundials/", "src/numerics/bdf_integrator.cpp"},
                                   {"nvector/", "src/numerics/bdf_integrator.cpp"},
                                   {"sunlinsol/", "src/numerics/bdf_integrator.cpp"},
                                   {"sunmatrix/", "src/numerics/bdf_integrator.cpp"}};

/// A named exception and why it stands. One that is no longer needed is a fault.
struct Exception {
  std::string_view file, reason;
};
inline constexpr Exception kHeavyInHeader[] = {
    {"src/doors/page/events.h", "it keeps connections of the server open; only this folder includes it"},
    {"src/doors/page/exchange.h", "it answers on connections of the server; only this folder includes it"},
    {"src/model/loop/value.h", "its functions take a node of the parsed file; only this folder includes it"},
    {"src/model/loop/syntax.h", "it hands over the parsed file; only this folder includes it"},
    {"src/tell/json_writer.h", "it hands over parts of a document; only the files that write JSON include it"}};

inline bool is_named(std::string_view file, std::span<const Exception> list) {
  return std::any_of(list.begin(), list.end(), [&](const Exception& e) { return e.file == file; });
}

inline bool is_heavy(const Include& include) {
  return std::any_of(std::begin(kHeavy), std::end(kHeavy),
                     [&](const Heavy& h) { return include.path.starts_with(h.starts); });
}

inline bool has_heavy(const Source& source) {
  return std::any_of(source.includes.begin(), source.includes.end(), is_heavy);
}

inline Faults strayed_heavy_headers(const Sources& sources) {
  Faults faults;
  for (const Source& source : sources)
    for (const Include& include : source.includes) {
      if (!is_heavy(include)) continue;
      const bool at_home = std::any_of(std::begin(kHeavy), std::end(kHeavy), [&](const Heavy& h) {
        return include.path.starts_with(h.starts) && source.path.starts_with(h.home);
      });
      if (!at_home)
        faults.push_back({source.path, include.line, "includes <" + include.path + ">", "it in its home only"});
      else if (source.is_header() && !is_named(source.path, kHeavyInHeader))
        faults.push_back({source.path, include.line, "is a header and includes <" + include.path + ">",
                          "heavy headers in .cpp files only"});
    }
  return faults;
}

/// A header that may hold a heavy one must not carry it out of its folder.
inline Faults leaking_heavy_headers(const Sources& sources) {
  Faults faults;
  for (const Source& source : sources)
    for (const Include& include : source.includes) {
      const std::string file = "src/" + include.path;
      if (include.quoted && is_named(file, kHeavyInHeader) &&
          (source.folder() != file.substr(0, file.rfind('/') + 1) ||
           (source.is_header() && !is_named(source.path, kHeavyInHeader))))
        faults.push_back({source.path, include.line, "includes \"" + include.path + "\", which holds a heavy header",
                          "that only in .cpp files of its own folder"});
    }
  return faults;
}

inline constexpr std::size_t kLongest = 400;
/// Files that may be longer, each with its reason.
inline constexpr std::span<const Exception> kLong = {};

inline Faults long_files(const Sources& sources) {
  Faults faults;
  for (const Source& source : sources)
    if (source.code.size() > kLongest && !is_named(source.path, kLong))
      faults.push_back({source.path, static_cast<int>(source.code.size()),
                        "has " + std::to_string(source.code.size()) + " lines", "at most 400: one idea a file"});
  return faults;
}

inline Faults headers_without_pragma_once(const Sources& sources) {
  Faults faults;
  for (const Source& source : sources) {
    if (!source.is_header()) continue;
    const auto first = std::find_if(source.code.begin(), source.code.end(), [](const std::string& line) {
      return line.find_first_not_of(" \t\r") != std::string::npos;
    });
    if (first == source.code.end() || !first->starts_with("#pragma once"))
      faults.push_back({source.path, 1, "does not start with #pragma once", "it before any other code"});
  }
  return faults;
}

inline bool is_word_letter(char c) {
  return std::isalnum(static_cast<unsigned char>(c)) || c == '_';
}

/// Whether a line calls a function of that name: the word, then '('; and what stands in the bracket at first.
inline bool calls(std::string_view line, std::string_view name, std::string_view first_argument = {}) {
  for (std::size_t at = line.find(name); at != std::string_view::npos; at = line.find(name, at + 1)) {
    if (at > 0 && (is_word_letter(line[at - 1]) || line[at - 1] == '.' || line[at - 1] == '>')) continue;
    const std::size_t open = line.find_first_not_of(' ', at + name.size());
    if (open == std::string_view::npos || line[open] != '(') continue;
    const std::size_t argument = std::min(line.find_first_not_of(' ', open + 1), line.size());
    if (line.substr(argument).starts_with(first_argument)) return true;
  }
  return false;
}

inline bool prints(std::string_view line) {
  for (const std::string_view name : {"printf", "vprintf", "puts", "putchar"})
    if (calls(line, name)) return true;
  for (const std::string_view name : {"fprintf", "vfprintf"})
    if (calls(line, name, "stdout")) return true;
  if (line.find("stdout") != std::string_view::npos || line.find("std::cout") != std::string_view::npos) return true;
  const std::size_t fmt_print = line.find("fmt::print(");
  return fmt_print != std::string_view::npos && !line.substr(fmt_print).starts_with("fmt::print(stderr");
}

inline Faults banned_code(const Sources& sources) {
  Faults faults;
  for (const Source& source : sources) {
    for (const Include& include : source.includes)
      if (include.path == "regex")
        faults.push_back({source.path, include.line, "includes <regex>", "a few lines of one's own: it is slow twice"});
    if (source.path.starts_with("src/doors/")) continue;
    for (std::size_t i = 0; i < source.code.size(); ++i)
      if (prints(source.code[i]))
        faults.push_back({source.path, static_cast<int>(i) + 1, "prints", "text handed back; only the doors print"});
  }
  return faults;
}

inline Faults stale_exceptions(const Sources& sources) {
  Faults faults;
  const auto look = [&](std::span<const Exception> list, auto needed, const char* what) {
    for (const Exception& e : list) {
      const auto at = std::find_if(sources.begin(), sources.end(), [&](const Source& s) { return s.path == e.file; });
      if (at == sources.end() || !needed(*at))
        faults.push_back({"tools/house_rules.h", 0, "still lists " + std::string(e.file), what});
    }
  };
  look(kHeavyInHeader, has_heavy, "it left out: no heavy header is in it");
  look(
      kLong, [](const Source& s) { return s.code.size() > kLongest; }, "it left out: the file is short");
  return faults;
}

inline Faults quoted_includes_of_nothing(const Sources& sources) {
  std::set<std::string> known;
  for (const Source& source : sources) known.insert(std::string(in_src(source.path)));
  Faults faults;
  for (const Source& source : sources)
    for (const Include& include : source.includes)
      if (include.quoted && !known.contains(include.path))
        faults.push_back({source.path, include.line, "includes \"" + include.path + "\"", "a path below src/"});
  return faults;
}

}  // namespace leat::tools
