// A vessel copied with what belongs to it.
#include <fmt/core.h>

#include <algorithm>

#include "model/loop/patch.h"
#include "model/loop/syntax.h"
#include "model/loop/wording.h"

namespace leat::model {
namespace {

constexpr std::size_t kLongestName = 40;
constexpr std::string_view kBelongs[] = {"pipe", "overflow", "siphon", "drain_hole", "gravity_return", "weir", "air"};
constexpr std::string_view kEnds[] = {"from", "to"};

std::string wrong_name(const Description& out, const Component& vessel, const std::string& as) {
  const words::Kind* kind = words::find_kind(vessel.kind);
  if (!kind || !kind->vessel)
    return fmt::format("{} is no vessel; only vessels are copied, with what belongs to them", quoted(vessel.path()));
  const std::size_t point = as.find('.');
  const std::string name = point == std::string::npos ? "" : as.substr(point + 1);
  if (as.substr(0, point) != vessel.kind || name.empty() || !is_bare(name) || name.size() > kLongestName)
    return fmt::format("{} is no name for a copy of a {}; write for example {}", quoted(as), vessel.kind,
                       quoted(vessel.path() + " as " + vessel.path() + "_2"));
  if (out.find(as)) return fmt::format("{} is there already; choose another name", quoted(as));
  return {};
}

/// The same part in the patch's name, so that a mistake in it names the line that asks for the copy.
Component said_by(Component c, const std::string& file, const Said& where) {
  c.file = file;
  c.line = where.line;
  c.column = where.column;
  for (auto& [key, value] : c.values) {
    value.file = file;
    value.line = where.line;
    value.column = where.column;
  }
  return c;
}

std::string free_name(const Description& out, const std::string& kind, const std::string& name) {
  std::string free = name;
  for (int n = 2; out.find(kind + "." + free); ++n) free = fmt::format("{}_{}", name, n);
  return free;
}

}  // namespace

std::string copy_vessel(Description& out, const std::string& vessel, const std::string& as, const std::string& file,
                        const Said& where) {
  const Component original = *out.find(vessel);
  if (std::string wrong = wrong_name(out, original, as); !wrong.empty()) return wrong;
  const std::string name = as.substr(as.find('.') + 1);
  Component copy = said_by(original, file, where);
  copy.name = name;
  const std::vector<Component> before = out.components;
  out.components.push_back(std::move(copy));
  for (const Component& c : before) {
    if (std::find(std::begin(kBelongs), std::end(kBelongs), c.kind) == std::end(kBelongs)) continue;
    Component part = said_by(c, file, where);
    bool touches = false;
    for (const std::string_view end : kEnds)
      if (const auto value = part.values.find(end); value != part.values.end() && value->second.text == vessel) {
        value->second.text = as;
        touches = true;
      }
    if (!touches) continue;
    part.name = free_name(out, part.kind, name);
    out.components.push_back(std::move(part));
  }
  return {};
}

}  // namespace leat::model
