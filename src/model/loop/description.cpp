#include "model/loop/description.h"

#include <fmt/core.h>
#include <toml++/toml.h>

#include <algorithm>

#include "model/loop/meant.h"
#include "model/loop/references.h"
#include "model/loop/syntax.h"
#include "model/loop/value.h"
#include "model/loop/wording.h"

namespace leat::model {
namespace {

using words::Form;
using words::Key;
using words::Kind;

constexpr std::size_t kLongestName = 40;

std::vector<std::string_view> names_of_kinds() {
  std::vector<std::string_view> names;
  for (const Kind& kind : words::kinds()) names.push_back(kind.name);
  return names;
}

std::vector<std::string_view> names_of_keys(const Kind& kind) {
  std::vector<std::string_view> names;
  for (const Key& key : kind.keys) names.push_back(key.name);
  return names;
}

/// The name with '_' for every letter that a name cannot have, as something to write instead.
std::string bare_name(std::string_view name) {
  std::string bare;
  for (const char c : name.substr(0, kLongestName))
    if (is_bare({&c, 1}))
      bare += c;
    else if (!bare.empty() && bare.back() != '_')
      bare += '_';
  while (!bare.empty() && bare.back() == '_') bare.pop_back();
  return bare.empty() ? "main" : bare;
}

bool is_earlier(int line_a, int column_a, int line_b, int column_b) {
  return line_a != line_b ? line_a < line_b : column_a < column_b;
}

/// Decodes the tables of one file.
class Decoder {
  Problems& problems_;
  Description out_;

 public:
  Decoder(std::string file, bool whole, Problems& problems) : problems_(problems), out_{std::move(file), {}, whole} {}

  Description run(const toml::table& root) {
    for (const auto& [key, node] : root) take_heading(key, node);
    std::stable_sort(out_.components.begin(), out_.components.end(), [](const Component& a, const Component& b) {
      return is_earlier(a.line, a.column, b.line, b.column);
    });
    return std::move(out_);
  }

 private:
  void complain(const toml::source_region& at, std::string_view path, std::string said) {
    problems_.add({out_.file, static_cast<int>(at.begin.line), static_cast<int>(at.begin.column), one_line(path, 90),
                   std::move(said)});
  }

  /// A heading that cannot be taken. What points to its parts, or misses them, is not blamed again.
  void refuse_heading(const toml::key& key, std::string said) {
    complain(key.source(), key.str(), std::move(said));
    out_.has_unknown_parts = true;
    out_.unknown_kinds.emplace_back(key.str());
  }

  void take_heading(const toml::key& key, const toml::node& node) {
    const Kind* kind = words::find_kind(key.str());
    if (!node.is_table() && !node.is_array_of_tables()) {
      if (words::find_key(*words::find_kind("plan"), key.str()))
        return complain(key.source(), key.str(),
                        "stands above the first heading; it belongs under a heading [plan], in the second file of leat "
                        "compare");
      if (kind) return refuse_heading(key, fmt::format("must be a heading of its own, such as {}", heading_of(*kind)));
      return complain(
          key.source(), key.str(),
          fmt::format("{} stands above the first heading; put it under one such as [tank.main]", shown(node)));
    }
    const bool known = kind != nullptr;
    if (!known) kind = meant_kind(key.str());
    if (!kind)
      return refuse_heading(
          key, fmt::format("is not known as a part of a loop; the parts are {}", listed(names_of_kinds(), "and")));
    if (!known)
      complain(key.source(), key.str(),
               fmt::format("is not known as a part of a loop; did you mean [{}]?", kind->name));
    const toml::table* table = node.as_table();
    if (!table)
      return refuse_heading(key, fmt::format("has double brackets; write one pair, such as {}", heading_of(*kind)));
    if (kind->single)
      take_component(*kind, "", key.source(), entries_of(*table));
    else
      take_named(*kind, key, *table);
  }

  static std::string heading_of(const Kind& kind) {
    return kind.single ? fmt::format("[{}]", kind.name) : fmt::format("[{}.main]", kind.name);
  }

  using Entries = std::vector<std::pair<const toml::key*, const toml::node*>>;

  static Entries entries_of(const toml::table& table) {
    Entries entries;
    for (const auto& [key, node] : table) entries.emplace_back(&key, &node);
    return entries;
  }

  /// The tables [kind.name] of one kind. Values that stand in [kind] itself are read as those of a part without a name.
  void take_named(const Kind& kind, const toml::key& heading, const toml::table& table) {
    Entries nameless;
    for (const auto& [key, node] : table) {
      if (const toml::table* inner = node.as_table(); inner && !words::find_key(kind, key.str()))
        take_named_component(kind, key, *inner);
      else
        nameless.emplace_back(&key, &node);
    }
    if (nameless.empty() && !table.empty()) return;
    complain(heading.source(), kind.name,
             fmt::format("has no name; write [{}.main], or any other name behind the point", kind.name));
    take_component(kind, "", heading.source(), nameless);
  }

  void take_named_component(const Kind& kind, const toml::key& key, const toml::table& table) {
    const std::string name(key.str());
    check_name(kind, name, key.source());
    take_component(kind, name, key.source(), entries_of(table));
  }

  void check_name(const Kind& kind, const std::string& name, const toml::source_region& at) {
    if (name.size() > kLongestName)
      complain(at, fmt::format("{}.{}", kind.name, one_line(name, kLongestName)), "has a name of more than 40 letters");
    else if (!is_bare(name))
      complain(at, fmt::format("{}.{}", kind.name, name),
               fmt::format("has a name with other letters than a to z, 0 to 9, _ and -; write [{}.{}]", kind.name,
                           bare_name(name)));
  }

  void take_component(const Kind& kind, const std::string& name, const toml::source_region& at,
                      const Entries& entries) {
    Component component{
        std::string(kind.name), name, static_cast<int>(at.begin.line), static_cast<int>(at.begin.column), {}};
    for (const auto& [key, node] : entries) take_entry(kind, component, *key, *node);
    out_.components.push_back(std::move(component));
  }

  void take_entry(const Kind& kind, Component& component, const toml::key& key, const toml::node& node) {
    const std::string name(key.str());
    const std::string path = component.path() + "." + name;
    const Key* known = words::find_key(kind, name);
    if (!known) return unknown_entry(kind, component, key, node);
    if (const auto text = node.value_exact<std::string_view>();
        text && text->find(kUnreadable) != std::string_view::npos) {
      component.refused.insert(name);
      return;
    }
    ReadValue read = read_value(*known, node);
    if (const auto* bad = std::get_if<Refused>(&read)) {
      complain(bad->at, path, bad->why);
      component.refused.insert(name);
      return;
    }
    Said said = std::get<Said>(std::move(read));
    said.line = static_cast<int>(node.source().begin.line);
    said.column = static_cast<int>(node.source().begin.column);
    component.values.emplace(name, std::move(said));
  }

  void unknown_entry(const Kind& kind, Component& component, const toml::key& key, const toml::node& node) {
    const std::string path = component.path() + "." + std::string(key.str());
    if (node.is_table())
      return complain(key.source(), path,
                      kind.single ? fmt::format("has a name too many; write [{}]", kind.name)
                                  : fmt::format("has a name too many; write [{}.{}]", kind.name,
                                                bare_name(component.name + "_" + std::string(key.str()))));
    if (const Key* meant = meant_key(kind, key.str())) {
      component.refused.insert(std::string(meant->name));
      return complain(key.source(), path, fmt::format("is not known here; did you mean \"{}\"?", meant->name));
    }
    complain(key.source(), path,
             fmt::format("is not known here; [{}] takes {}", kind.name, listed(names_of_keys(kind), "and")));
  }
};

}  // namespace

const Said* Component::find(std::string_view key) const {
  const auto found = values.find(key);
  return found == values.end() ? nullptr : &found->second;
}

const Component* Description::find(std::string_view path) const {
  for (const Component& c : components)
    if (c.path() == path) return &c;
  return nullptr;
}

std::vector<const Component*> Description::of_kind(std::string_view kind) const {
  std::vector<const Component*> found;
  for (const Component& c : components)
    if (c.kind == kind) found.push_back(&c);
  return found;
}

namespace {

Description in_order(std::string_view toml_text, std::string_view file, Problems& problems, bool whole_loop) {
  Problems found;
  const Tables tables = read_tables(toml_text, file, found);
  Description description = Decoder(std::string(file), tables.whole, found).run(tables.root);
  if (whole_loop) check_references(description, found);
  std::vector<Problem> ordered = found.all();
  std::stable_sort(ordered.begin(), ordered.end(),
                   [](const Problem& a, const Problem& b) { return is_earlier(a.line, a.column, b.line, b.column); });
  for (Problem& problem : ordered) problems.add(std::move(problem));
  return description;
}

}  // namespace

Description read_description(std::string_view toml_text, std::string_view file, Problems& problems) {
  Description description = in_order(toml_text, file, problems, true);
  if (const Component* plan = description.find("plan"))
    problems.add({description.file, plan->line, plan->column, "plan",
                  "belongs into a patch, the second file of leat compare; take it out"});
  return description;
}

Description read_parts(std::string_view toml_text, std::string_view file, Problems& problems) {
  return in_order(toml_text, file, problems, false);
}

}  // namespace leat::model
