#include "model/loop/description.h"

#include <fmt/core.h>
#include <toml++/toml.h>

#include <algorithm>
#include <cmath>

namespace leat::model {
namespace {

using words::Form;
using words::Key;
using words::Kind;

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

std::string_view noun(Dimension d) {
  struct Noun {
    Dimension dimension;
    std::string_view noun;
  };
  static constexpr Noun nouns[] = {{dim::length, "a length"},
                                   {dim::area, "an area"},
                                   {dim::volume, "a volume"},
                                   {dim::mass, "a mass"},
                                   {dim::time, "a time"},
                                   {dim::flow, "a flow"},
                                   {dim::density, "an amount in water"},
                                   {dim::power, "a power"},
                                   {dim::temperature, "a temperature"},
                                   {dim::mass_rate, "a mass per time"},
                                   {dim::frequency, "a rate"},
                                   {dim::none, "a plain number"},
                                   {dim::pressure, "a pressure"},
                                   {dim::velocity, "a speed"},
                                   {dim::energy, "an energy"},
                                   {dim::concentration, "an amount in water"}};
  for (const Noun& n : nouns)
    if (n.dimension == d) return n.noun;
  return "something else";
}

/// Decodes one file, remembering where it is for its messages.
class Decoder {
  Problems& problems_;
  std::string file_;

 public:
  Decoder(std::string file, Problems& problems) : problems_(problems), file_(std::move(file)) {}

  Description run(const toml::table& root) {
    Description description{file_, {}};
    for (const auto& [key, node] : root) take_table(key, node, description);
    const auto earlier = [](const Component& a, const Component& b) { return a.line < b.line; };
    std::stable_sort(description.components.begin(), description.components.end(), earlier);
    check_references(description);
    return description;
  }

 private:
  void complain(const toml::source_region& at, std::string path, std::string said) {
    problems_.add(
        {file_, static_cast<int>(at.begin.line), static_cast<int>(at.begin.column), std::move(path), std::move(said)});
  }

  void take_table(const toml::key& key, const toml::node& node, Description& out) {
    const std::string name(key.str());
    const Kind* kind = words::find_kind(name);
    if (!kind) return complain(key.source(), name, "is no part of a loop" + did_you_mean(name, names_of_kinds()));
    const toml::table* table = node.as_table();
    if (kind->single) {
      if (!table)
        return complain(key.source(), name, fmt::format("must be a table; write [{}] on a line of its own", name));
      return take_component(*kind, "", key.source(), *table, out);
    }
    if (!table) return complain(key.source(), name, fmt::format("must be a named table such as [{}.main]", name));
    for (const auto& [child_key, child] : *table) {
      const std::string child_name(child_key.str());
      const toml::table* child_table = child.as_table();
      if (!child_table)
        complain(child_key.source(), name + "." + child_name,
                 fmt::format("stands in [{}], which has no name; write [{}.main] or the like above it", name, name));
      else
        take_component(*kind, child_name, child_key.source(), *child_table, out);
    }
  }

  void take_component(const Kind& kind, const std::string& name, const toml::source_region& at,
                      const toml::table& table, Description& out) {
    Component component{
        std::string(kind.name), name, static_cast<int>(at.begin.line), static_cast<int>(at.begin.column), {}};
    for (const auto& [key, node] : table) {
      const std::string key_name(key.str());
      const std::string path = component.path() + "." + key_name;
      const Key* known = words::find_key(kind, key_name);
      if (!known) {
        complain(key.source(), path,
                 fmt::format("is no word of a {}", kind.name) + did_you_mean(key_name, names_of_keys(kind)));
        continue;
      }
      if (auto said = take_value(*known, path, node)) {
        said->line = static_cast<int>(node.source().begin.line);
        said->column = static_cast<int>(node.source().begin.column);
        component.values.emplace(key_name, std::move(*said));
      }
    }
    out.components.push_back(std::move(component));
  }

  std::optional<Said> refuse(const toml::node& node, const std::string& path, std::string said) {
    complain(node.source(), path, std::move(said));
    return std::nullopt;
  }

  std::optional<Said> take_value(const Key& key, const std::string& path, const toml::node& node) {
    switch (key.form) {
      case Form::quantity:
      case Form::temperature:
        return take_measured(key, path, node);
      case Form::share:
      case Form::number:
      case Form::count:
        return take_number(key, path, node);
      case Form::flag:
        if (const auto flag = node.value_exact<bool>())
          return Said{.number = *flag ? 1.0 : 0.0, .text = *flag ? "true" : "false"};
        return refuse(node, path, fmt::format("{} is neither true nor false; write {}", shown(node), key.example));
      case Form::word:
      case Form::text:
      case Form::reference:
        return take_word(key, path, node);
      case Form::words:
        return take_words(key, path, node);
      case Form::times:
        return take_times(key, path, node);
      case Form::curve:
        return take_curve(key, path, node);
    }
    return std::nullopt;
  }

  /// The value as it stands in the file, for a message.
  static std::string shown(const toml::node& node) {
    if (const auto text = node.value_exact<std::string>()) return fmt::format("\"{}\"", *text);
    if (const auto whole = node.value_exact<std::int64_t>()) return fmt::format("{}", *whole);
    if (const auto number = node.value_exact<double>()) return shortest(*number);
    if (const auto flag = node.value_exact<bool>()) return *flag ? "true" : "false";
    if (node.is_array()) return "a list";
    if (node.is_table()) return "a table";
    return "a date or time";
  }

  std::optional<Said> take_measured(const Key& key, const std::string& path, const toml::node& node) {
    const auto text = node.value_exact<std::string>();
    if (!text) {
      if (node.is_number())
        return refuse(node, path, fmt::format("{} has no unit; write {}", shown(node), key.example));
      return refuse(node, path, fmt::format("{} is not a number with a unit; write {}", shown(node), key.example));
    }
    return measured_text(key, path, node, *text);
  }

  std::optional<Said> measured_text(const Key& key, const std::string& path, const toml::node& node,
                                    const std::string& text) {
    const auto read = read_measured(text);
    if (const auto* bad = std::get_if<Unreadable>(&read)) {
      const bool has_cure =
          bad->wrong.find("; write") != std::string::npos && bad->wrong.find("decimal comma") == std::string::npos;
      return refuse(
          node, path,
          fmt::format("\"{}\" {}{}", text, bad->wrong, has_cure ? "" : fmt::format("; write {}", key.example)));
    }
    const Measured& m = std::get<Measured>(read);
    if (!(m.dimension == key.dimension))
      return refuse(node, path,
                    fmt::format("\"{}\" is {}, but {} is wanted; write {}", text, noun(m.dimension),
                                noun(key.dimension), key.example));
    if (key.form == Form::temperature && !m.temperature_point)
      return refuse(node, path, fmt::format("\"{}\" is a difference of temperature; write {}", text, key.example));
    const double compared = key.form == Form::temperature ? m.si - 273.15 : m.si;
    if (compared < key.low || compared > key.high)
      return refuse(
          node, path,
          fmt::format("\"{}\" is beyond anything plausible here; write something like {}", text, key.example));
    if (!key.basis.empty() && key.basis != "O2" && m.basis.empty() && m.si != 0.0)
      return refuse(node, path, fmt::format("\"{}\" does not say as what; write {}", text, key.example));
    return Said{.number = m.si, .text = text, .basis = m.basis};
  }

  std::optional<Said> take_number(const Key& key, const std::string& path, const toml::node& node) {
    double number = 0.0;
    std::string text = shown(node);
    if (const auto plain = node.value<double>(); plain && node.is_number()) {
      number = *plain;
    } else if (const auto written = node.value_exact<std::string>()) {
      const auto read = read_measured(*written, true);
      if (const auto* bad = std::get_if<Unreadable>(&read))
        return refuse(node, path, fmt::format("\"{}\" {}; write {}", *written, bad->wrong, key.example));
      const Measured& m = std::get<Measured>(read);
      if (!(m.dimension == dim::none))
        return refuse(node, path,
                      fmt::format("\"{}\" is {}, but a plain number is wanted; write {}", *written, noun(m.dimension),
                                  key.example));
      number = m.si;
    } else {
      return refuse(node, path, fmt::format("{} is not a number; write {}", text, key.example));
    }
    if (!std::isfinite(number))
      return refuse(node, path, fmt::format("{} is not a number; write {}", text, key.example));
    if (number < key.low || number > key.high)
      return refuse(node, path,
                    fmt::format("{} is not between {} and {}; write {}", text, shortest(key.low), shortest(key.high),
                                key.example));
    if (key.form == Form::count && number != std::floor(number))
      return refuse(node, path, fmt::format("{} is not a whole number; write {}", text, key.example));
    return Said{.number = number, .text = text};
  }

  std::optional<Said> take_word(const Key& key, const std::string& path, const toml::node& node) {
    const auto text = node.value_exact<std::string>();
    if (!text) return refuse(node, path, fmt::format("{} is not a word; write {}", shown(node), key.example));
    if (text->empty()) return refuse(node, path, fmt::format("is empty; write {}", key.example));
    if (key.form == Form::word) {
      const auto choices = words::split_words(key.choices);
      if (std::find(choices.begin(), choices.end(), *text) == choices.end())
        return refuse(node, path,
                      fmt::format("\"{}\" is none of: {}{}", *text, key.choices, did_you_mean(*text, choices)));
    }
    return Said{.text = *text};
  }

  std::optional<Said> take_words(const Key& key, const std::string& path, const toml::node& node) {
    const toml::array* list = node.as_array();
    if (!list) return refuse(node, path, fmt::format("{} is not a list; write {}", shown(node), key.example));
    Said said{.text = "list"};
    for (const toml::node& item : *list) {
      const auto text = item.value_exact<std::string>();
      if (!text) return refuse(item, path, fmt::format("{} is not a word; write {}", shown(item), key.example));
      said.words.push_back(*text);
    }
    return said;
  }

  std::optional<Said> take_times(const Key& key, const std::string& path, const toml::node& node) {
    const toml::array* list = node.as_array();
    if (!list) return refuse(node, path, fmt::format("{} is not a list of times; write {}", shown(node), key.example));
    Said said{.text = "list"};
    for (const toml::node& item : *list) {
      const auto text = item.value<std::string>();
      int hour = 0, minute = 0;
      char tail = 0;
      if (!text || std::sscanf(text->c_str(), "%2d:%2d%c", &hour, &minute, &tail) != 2 || hour < 0 || hour > 23 ||
          minute < 0 || minute > 59)
        return refuse(item, path, fmt::format("{} is not a time of day; write {}", shown(item), key.example));
      said.hours.push_back(hour + minute / 60.0);
    }
    std::sort(said.hours.begin(), said.hours.end());
    return said;
  }

  std::optional<Said> take_curve(const Key& key, const std::string& path, const toml::node& node) {
    static const Key flow{"flow", Form::quantity, dim::flow, 0.0, 0.1, "\"3000 L/h\"", ""};
    static const Key head{"head", Form::quantity, dim::length, 0.0, 100.0, "\"3 m\"", ""};
    const toml::array* list = node.as_array();
    if (!list) return refuse(node, path, fmt::format("{} is not a list of points; write {}", shown(node), key.example));
    Said said{.text = "curve"};
    for (const toml::node& item : *list) {
      const toml::array* pair = item.as_array();
      if (!pair || pair->size() != 2)
        return refuse(item, path, fmt::format("{} is not a pair of flow and head; write {}", shown(item), key.example));
      const auto q = take_measured(flow, path, *pair->get(0));
      const auto h = take_measured(head, path, *pair->get(1));
      if (!q || !h) return std::nullopt;
      said.points.emplace_back(q->number, h->number);
    }
    if (said.points.size() < 2)
      return refuse(node, path, fmt::format("needs at least two points; write {}", key.example));
    for (std::size_t i = 1; i < said.points.size(); ++i)
      if (said.points[i].first <= said.points[i - 1].first || said.points[i].second >= said.points[i - 1].second)
        return refuse(node, path, "must run from small to large flow with the head falling at each point");
    return said;
  }

  void check_references(const Description& description) {
    std::vector<std::string> storage;
    for (const Component& c : description.components) storage.push_back(c.path());
    for (const Component& c : description.components) {
      const Kind* kind = words::find_kind(c.kind);
      for (const Key& key : kind->keys)
        if (const Said* said = key.form == Form::reference ? c.find(key.name) : nullptr)
          check_reference(c, key, *said, storage);
    }
  }

  void check_reference(const Component& c, const Key& key, const Said& said, const std::vector<std::string>& paths) {
    const auto place = [&](std::string text) {
      problems_.add({file_, said.line, said.column, c.path() + "." + std::string(key.name), std::move(text)});
    };
    if (std::find(paths.begin(), paths.end(), said.text) == paths.end()) {
      std::vector<std::string_view> known(paths.begin(), paths.end());
      return place(fmt::format("\"{}\" is not described in this file{}", said.text, did_you_mean(said.text, known)));
    }
    const auto kinds = words::split_words(key.choices);
    const std::string kind = said.text.substr(0, said.text.find('.'));
    if (std::find(kinds.begin(), kinds.end(), kind) == kinds.end())
      place(fmt::format("\"{}\" is a {}, but one of these is wanted here: {}", said.text, kind, key.choices));
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

Description read_description(std::string_view toml_text, std::string_view file, Problems& problems) {
  try {
    const toml::table root = toml::parse(toml_text, file);
    return Decoder(std::string(file), problems).run(root);
  } catch (const toml::parse_error& error) {
    problems.add({std::string(file), static_cast<int>(error.source().begin.line),
                  static_cast<int>(error.source().begin.column), "",
                  fmt::format("is not TOML from here on: {}", error.description())});
    return Description{std::string(file), {}};
  }
}

}  // namespace leat::model
