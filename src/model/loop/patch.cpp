// A patch on a description.
#include <fmt/core.h>

#include <algorithm>

#include "model/loop/references.h"
#include "model/loop/wording.h"

namespace leat::model {
namespace {

/// Keys that are heights above the common mark, and whose vessel they go with: all of a vessel's own, and of what
/// stands in it.
constexpr std::string_view kOwnHeights[] = {"floor", "rim", "level", "held_level"};
constexpr std::string_view kHeightsAtStart[] = {"rim", "crest", "level", "inlet_level", "break_level"};
constexpr std::string_view kHeightsAtEnd[] = {"outlet_level"};
constexpr std::string_view kPumpHeights[] = {"dry_run_level", "float_on", "float_off"};

class Patching {
  Description out_;
  std::string file_;
  Problems& problems_;

  void complain(const Said& said, std::string_view key, std::string what) {
    problems_.add({file_, said.line, said.column, "plan." + std::string(key), std::move(what)});
  }

  Component* find(std::string_view path) {
    for (Component& c : out_.components)
      if (c.path() == path) return &c;
    return nullptr;
  }

  std::string not_there(const std::string& path) {
    std::vector<std::string> paths;
    for (const Component& c : out_.components) paths.push_back(c.path());
    const std::vector<std::string_view> known(paths.begin(), paths.end());
    return fmt::format("{} is not in the loop{}", quoted(path), did_you_mean(path, known));
  }

  void remove(const Said& said) {
    for (const std::string& path : said.words) {
      if (!find(path)) {
        complain(said, "remove", not_there(path));
        continue;
      }
      std::erase_if(out_.components, [&](const Component& c) { return c.path() == path; });
    }
  }

  static void lift(Component& c, std::string_view key, double by) {
    if (const auto value = c.values.find(key); value != c.values.end()) {
      value->second.number += by;
      value->second.text = fmt::format("{:.4g} m", value->second.number);
    }
  }

  /// A vessel and all heights that belong to it: standpipes, mouths and holes in it, pipe ends over it, pumps in it.
  void lift_all(const std::string& vessel, double by) {
    for (Component& c : out_.components) {
      if (c.path() == vessel)
        for (const auto key : kOwnHeights) lift(c, key, by);
      const auto names = [&](std::string_view key) {
        const Said* said = c.find(key);
        return said && said->text == vessel;
      };
      if (names("from") && c.kind != "source")
        for (const auto key : kHeightsAtStart) lift(c, key, by);
      if (names("to"))
        for (const auto key : kHeightsAtEnd) lift(c, key, by);
      if (names("in"))
        for (const auto key : kPumpHeights) lift(c, key, by);
    }
  }

  void move(const Said& said) {
    for (const std::string& text : said.words) {
      const std::size_t blank = text.find(' ');
      const std::string path = text.substr(0, blank);
      const auto by = blank == std::string::npos ? std::variant<Measured, Unreadable>(Unreadable{"says no height"})
                                                 : read_measured(std::string_view(text).substr(blank + 1));
      const Component* c = find(path);
      if (!c)
        complain(said, "move", not_there(path));
      else if (const words::Kind* kind = words::find_kind(c->kind); !kind || !kind->vessel)
        complain(said, "move", fmt::format("{} is no vessel; only vessels are moved", quoted(path)));
      else if (const Measured* m = std::get_if<Measured>(&by); !m || !(m->dimension == dim::length))
        complain(said, "move",
                 fmt::format("{} does not say how far up; write for example \"{} 0.20 m\", or \"{} -0.10 m\"",
                             quoted(text), path, path));
      else
        lift_all(path, m->si);
    }
  }

  /// Values keep the name of the file they stand in.
  Component marked(Component c) const {
    c.file = file_;
    for (auto& [key, said] : c.values) said.file = file_;
    return c;
  }

 public:
  Patching(const Description& now, std::string file, Problems& problems)
      : out_(now), file_(std::move(file)), problems_(problems) {}

  Description run(const Description& patch) {
    if (const Component* plan = patch.find("plan")) {
      if (const Said* said = plan->find("remove")) remove(*said);
      if (const Said* said = plan->find("move")) move(*said);
    }
    for (const Component& c : patch.components) {
      if (c.kind == "plan") continue;
      const Component mine = marked(c);
      if (Component* there = find(c.path())) {
        for (const auto& [key, said] : mine.values) there->values.insert_or_assign(key, said);
        there->refused.insert(mine.refused.begin(), mine.refused.end());
      } else {
        out_.components.push_back(mine);
      }
    }
    out_.has_unknown_parts = out_.has_unknown_parts || patch.has_unknown_parts;
    out_.unknown_kinds.insert(out_.unknown_kinds.end(), patch.unknown_kinds.begin(), patch.unknown_kinds.end());
    out_.whole = out_.whole && patch.whole;
    return std::move(out_);
  }
};

}  // namespace

bool is_patch(std::string_view toml_text) {
  Problems ignored;
  return read_parts(toml_text, "", ignored).find("plan") != nullptr;
}

Description patched(const Description& now, std::string_view patch_text, std::string_view patch_file,
                    Problems& problems) {
  const Description patch = read_parts(patch_text, patch_file, problems);
  Description plan = Patching(now, std::string(patch_file), problems).run(patch);
  check_references(plan, problems);
  return plan;
}

}  // namespace leat::model
