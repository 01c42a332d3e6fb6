// A patch on a description.
#include "model/loop/patch.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "model/loop/references.h"
#include "model/loop/wording.h"

namespace leat::model {
namespace {

/// Keys that are heights above the common mark, and whose vessel they go with: all of a vessel's own, and of what
/// stands in it.
constexpr std::string_view kOwnHeights[] = {"floor", "rim", "level", "held_level"};
constexpr std::string_view kHeightsAtStart[] = {"rim", "crest", "level", "inlet_level", "break_level"};
constexpr std::string_view kHeightsAtEnd[] = {"outlet_level"};
constexpr std::string_view kSourceHeights[] = {"level"};
constexpr std::string_view kPumpHeights[] = {"dry_run_level", "float_on", "float_off"};
constexpr double kFarthestMove = 20.0;  // m

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

  void copy(const Said& said) {
    for (const std::string& text : said.words) {
      const std::size_t as = text.find(" as ");
      const std::string from = text.substr(0, as);
      if (as == std::string::npos)
        complain(said, "copy",
                 fmt::format("{} does not say under which name; write for example {}", quoted(text),
                             quoted(from + " as " + from + "_2")));
      else if (!find(from))
        complain(said, "copy", not_there(from));
      else if (const std::string wrong = copy_vessel(out_, from, text.substr(as + 4), file_, said); !wrong.empty())
        complain(said, "copy", wrong);
    }
  }

  void remove(const Said& said) {
    for (const std::string& path : said.words) {
      if (!find(path)) {
        complain(said, "remove", not_there(path));
        continue;
      }
      std::erase_if(out_.components, [&](const Component& c) { return c.path() == path; });
      out_.removed.push_back({path, file_, said.line, said.column});
    }
  }

  /// A height that was moved is what the patch says: a mistake in it is the patch's.
  void lift(Component& c, std::string_view key, double by, const Said& said) const {
    const auto value = c.values.find(key);
    if (value == c.values.end()) return;
    value->second.number += by;
    value->second.text = metres(Length<>(value->second.number));
    value->second.file = file_;
    value->second.line = said.line;
    value->second.column = said.column;
  }

  /// A vessel and all heights that belong to it: standpipes, mouths and holes in it, pipe ends over it, pumps and float
  /// valves in it.
  void lift_all(const std::string& vessel, double by, const Said& said) {
    const auto lift_keys = [&](Component& c, const auto& keys) {
      for (const std::string_view key : keys) lift(c, key, by, said);
    };
    for (Component& c : out_.components) {
      const auto names = [&](std::string_view key) {
        const Said* value = c.find(key);
        return value && value->text == vessel;
      };
      if (c.path() == vessel) lift_keys(c, kOwnHeights);
      if (names("from")) lift_keys(c, kHeightsAtStart);
      if (names("to")) lift_keys(c, kHeightsAtEnd);
      if (names("to") && c.kind == "source") lift_keys(c, kSourceHeights);
      if (names("in")) lift_keys(c, kPumpHeights);
    }
  }

  void move(const Said& said) {
    for (const std::string& text : said.words) {
      const std::size_t blank = text.find(' ');
      const std::string path = text.substr(0, blank);
      const auto by = blank == std::string::npos ? std::variant<Measured, Unreadable>(Unreadable{"says no height"})
                                                 : read_measured(std::string_view(text).substr(blank + 1));
      const Measured* m = std::get_if<Measured>(&by);
      const Component* c = find(path);
      if (!c)
        complain(said, "move", not_there(path));
      else if (const words::Kind* kind = words::find_kind(c->kind); !kind || !kind->vessel)
        complain(said, "move", fmt::format("{} is no vessel; only vessels are moved", quoted(path)));
      else if (!m || !(m->dimension == dim::length) || !(std::abs(m->si) <= kFarthestMove))
        complain(said, "move",
                 fmt::format("{} does not say how far up, 20 m at most; write for example \"{} 0.20 m\", or \"{} "
                             "-0.10 m\"",
                             quoted(text), path, path));
      else if (!c->find("floor") && !c->find("rim"))
        complain(said, "move",
                 fmt::format("{} says neither floor nor rim, so it is not known where it stands; say its floor in [{}] "
                             "of {}",
                             path, path, out_.file));
      else
        lift_all(path, m->si, said);
    }
  }

  /// Values keep the name of the file they stand in.
  Component marked(Component c) const {
    c.file = file_;
    for (auto& [key, said] : c.values) said.file = file_;
    return c;
  }

  void take(const Component& c) {
    const Component mine = marked(c);
    Component* there = find(c.path());
    if (!there) {
      out_.components.push_back(mine);
      return;
    }
    for (const auto& [key, said] : mine.values) there->values.insert_or_assign(key, said);
    there->refused.insert(mine.refused.begin(), mine.refused.end());
  }

 public:
  Patching(const Description& now, std::string file, Problems& problems)
      : out_(now), file_(std::move(file)), problems_(problems) {}

  Description run(const Description& patch) {
    if (const Component* plan = patch.find("plan")) {
      if (const Said* said = plan->find("copy")) copy(*said);
      if (const Said* said = plan->find("remove")) remove(*said);
      if (const Said* said = plan->find("move")) move(*said);
    }
    for (const Component& c : patch.components)
      if (c.kind != "plan") take(c);
    out_.has_unknown_parts = out_.has_unknown_parts || patch.has_unknown_parts;
    out_.unknown_kinds.insert(out_.unknown_kinds.end(), patch.unknown_kinds.begin(), patch.unknown_kinds.end());
    out_.whole = out_.whole && patch.whole;
    return std::move(out_);
  }
};

}  // namespace

namespace {

bool has_vessel(const Description& d) {
  return std::any_of(d.components.begin(), d.components.end(), [](const Component& c) {
    const words::Kind* kind = words::find_kind(c.kind);
    return kind && kind->vessel;
  });
}

/// Whether a value names a part that is not here but in today's loop.
bool leans_on(const Description& now, const Description& plan) {
  for (const Component& c : plan.components)
    for (const auto& [key, said] : c.values)
      if (!said.text.empty() && !plan.find(said.text) && now.find(said.text)) return true;
  return false;
}

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

Description read_plan(const Description& now, std::string_view text, std::string_view file, Problems& problems) {
  if (is_patch(text)) return patched(now, text, file, problems);
  Problems ignored;
  const Description parts = read_parts(text, file, ignored);
  const bool empty_handed = parts.whole && !has_vessel(parts);
  if (!parts.components.empty() && (empty_handed || leans_on(now, parts))) {
    problems.add(
        {std::string(file), 1, 1, "",
         fmt::format("holds only a part of a loop; if it is what changes in {}, write [plan] as its first line",
                     now.file)});
    return parts;
  }
  return read_description(text, file, problems);
}

}  // namespace leat::model
