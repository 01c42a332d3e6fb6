#include "model/loop/references.h"

#include <fmt/core.h>

#include <algorithm>

#include "model/loop/wording.h"

namespace leat::model {
namespace {

using words::Form;
using words::Key;

constexpr std::size_t kLongestName = 40;

/// The described parts of the kinds that a reference may name.
std::vector<std::string> fitting_paths(const Description& out, const Key& key) {
  const auto kinds = words::split_words(key.choices);
  std::vector<std::string> paths;
  for (const Component& c : out.components)
    if (std::find(kinds.begin(), kinds.end(), c.kind) != kinds.end()) paths.push_back(c.path());
  return paths;
}

std::string wrong_reference(const Description& out, const Key& key, const Said& value) {
  const std::string& text = value.text;
  const std::vector<std::string> paths = fitting_paths(out, key);
  if (std::find(paths.begin(), paths.end(), text) != paths.end()) return {};
  if (const Component* other = out.find(text))
    return fmt::format("{} is a {}, but one of these is wanted here: {}", quoted(text), other->kind,
                       listed(words::split_words(key.choices), "or"));
  std::string said =
      quoted(text) + (value.file.empty() || value.file == out.file ? " is not described in this file"
                                                                   : " is described neither here nor in " + out.file);
  std::vector<std::string_view> known(paths.begin(), paths.end());
  for (const std::string_view path : known)
    if (path.substr(path.find('.') + 1) == text) return said + fmt::format("; did you mean {}?", quoted(path));
  if (const std::string near = text.size() > 2 * kLongestName ? "" : did_you_mean(text, known); !near.empty())
    return said + near;
  if (known.empty())
    return said + fmt::format("; add a heading such as [{}.main]", words::split_words(key.choices).front());
  if (known.size() > 8) known.resize(8);
  return said + fmt::format("; what is described and fits: {}", listed(known, "and"));
}

const Removed* removed(const Description& out, const std::string& path) {
  for (const Removed& r : out.removed)
    if (r.path == path) return &r;
  return nullptr;
}

/// What still points to a part that a patch takes out is told at the patch.
Problem told_at_removal(const Description& out, const Component& c, const Key& key, const Said& said,
                        const Removed& r) {
  return {r.file, r.line, r.column, "plan.remove",
          fmt::format("takes out {}, but {}.{} still points to it ({}:{}); take out {} too, or give it another \"{}\"",
                      quoted(r.path), c.path(), key.name, said.file.empty() ? out.file : said.file, said.line, c.path(),
                      key.name)};
}

void check_part(Description& out, Component& c, Problems& problems) {
  for (const Key& key : words::find_kind(c.kind)->keys) {
    const Said* said = key.form == Form::reference ? c.find(key.name) : nullptr;
    if (!said) continue;
    const std::string wrong = wrong_reference(out, key, *said);
    if (wrong.empty()) continue;
    c.refused.insert(std::string(key.name));
    const std::string kind = said->text.substr(0, said->text.find('.'));
    if (std::find(out.unknown_kinds.begin(), out.unknown_kinds.end(), kind) != out.unknown_kinds.end()) continue;
    if (const Removed* r = removed(out, said->text)) {
      problems.add(told_at_removal(out, c, key, *said, *r));
      continue;
    }
    problems.add({said->file.empty() ? out.file : said->file, said->line, said->column,
                  one_line(c.path() + "." + std::string(key.name), 90), wrong});
  }
}

}  // namespace

void check_references(Description& description, Problems& problems) {
  for (Component& c : description.components) check_part(description, c, problems);
}

}  // namespace leat::model
