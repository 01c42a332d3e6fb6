// The words of a loop file as JSON Schema (draft 2020-12), for editors that check a TOML file while it is written.
#include <nlohmann/json.hpp>

#include "base/words/keys.h"
#include "tell/tell.h"

namespace leat::tell {
namespace {

using nlohmann::ordered_json;
using words::Form;
using words::Key;
using words::Kind;

ordered_json list_of(std::string_view list) {
  ordered_json all = ordered_json::array();
  for (const std::string_view word : words::split_words(list)) all.push_back(std::string(word));
  return all;
}

/// A path of one of some kinds: tank.nursery.
std::string reference_pattern(std::string_view kinds) {
  std::string either;
  for (const std::string_view kind : words::split_words(kinds))
    either += (either.empty() ? "" : "|") + std::string(kind);
  return "^(" + either + ")\\..+$";
}

ordered_json form_of(const Key& key) {
  switch (key.form) {
    case Form::quantity:
    case Form::temperature:
      return {{"type", "string"}, {"pattern", "^\\s*[-+0-9.].*[A-Za-z%].*$"}};
    case Form::share:
    case Form::number:
      return {{"type", {"number", "string"}}};
    case Form::count:
      return {{"type", {"integer", "number", "string"}}};
    case Form::flag:
      return {{"type", "boolean"}};
    case Form::word:
      return {{"enum", list_of(key.choices)}};
    case Form::text:
      return {{"type", "string"}};
    case Form::reference:
      return {{"type", "string"}, {"pattern", reference_pattern(key.choices)}};
    case Form::words:
    case Form::times:
      return {{"type", "array"}, {"items", {{"type", "string"}}}};
    case Form::moment:
      return {{"type", "string"},
              {"pattern", "^[0-9]{4}[-/][0-9]{1,2}[-/][0-9]{1,2}([T ][0-9]{1,2}:[0-9]{2}(:[0-9]{2})?)?$"}};
    case Form::curve:
      return {{"type", "array"},
              {"minItems", 2},
              {"items", {{"type", "array"}, {"minItems", 2}, {"maxItems", 2}, {"items", {{"type", "string"}}}}}};
  }
  return {};
}

ordered_json table_of(const Kind& kind) {
  ordered_json properties = ordered_json::object();
  for (const Key& key : kind.keys) {
    ordered_json form = form_of(key);
    form["description"] = std::string(key.meaning);
    form["examples"] = ordered_json::array({std::string(key.example)});
    properties[std::string(key.name)] = std::move(form);
  }
  return {{"type", "object"},
          {"description", std::string(kind.meaning)},
          {"properties", properties},
          {"additionalProperties", false}};
}

}  // namespace

std::string loop_schema() {
  ordered_json properties = ordered_json::object();
  for (const Kind& kind : words::kinds()) {
    if (kind.single)
      properties[std::string(kind.name)] = table_of(kind);
    else
      properties[std::string(kind.name)] = {
          {"type", "object"}, {"description", std::string(kind.meaning)}, {"additionalProperties", table_of(kind)}};
  }
  const ordered_json schema = {{"$schema", "https://json-schema.org/draft/2020-12/schema"},
                               {"title", "A loop of leat"},
                               {"type", "object"},
                               {"properties", properties},
                               {"additionalProperties", false}};
  return schema.dump(2) + "\n";
}

}  // namespace leat::tell
