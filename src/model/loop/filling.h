// Reads values out of a component, and writes down what had to be assumed.
#pragma once

#include <fmt/core.h>

#include <algorithm>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>

#include "model/loop/loop.h"

namespace leat::model {

class Filling {
  const Description& description_;
  Problems& problems_;
  std::vector<Assumption>& assumptions_;

 public:
  Filling(const Description& description, Problems& problems, std::vector<Assumption>& assumptions)
      : description_(description), problems_(problems), assumptions_(assumptions) {}

  const Description& description() const { return description_; }

  static bool has(const Component& c, std::string_view key) { return c.find(key) != nullptr; }

  /// Whether none of these keys was refused already: only then can they be held against each other.
  static bool sound(const Component& c, std::initializer_list<std::string_view> keys) {
    return std::none_of(keys.begin(), keys.end(), [&](std::string_view key) { return c.refused.contains(key); });
  }

  /// The text of a value as the grower wrote it.
  static std::string written(const Component& c, std::string_view key) {
    const Said* value = c.find(key);
    return value ? value->text : std::string();
  }

  template <Dimension D>
  std::optional<Quantity<D>> said(const Component& c, std::string_view key) const {
    const Said* value = c.find(key);
    return value ? std::optional(Quantity<D>(value->number)) : std::nullopt;
  }

  void assume(const Component& c, std::string_view key, std::string value, std::string reason) {
    assumptions_.push_back({c.path() + "." + std::string(key), std::move(value), std::move(reason)});
  }

  template <Dimension D>
  Quantity<D> take(const Component& c, std::string_view key, Quantity<D> otherwise, std::string shown,
                   std::string reason) {
    if (const auto value = said<D>(c, key)) return *value;
    assume(c, key, std::move(shown), std::move(reason));
    return otherwise;
  }

  double number(const Component& c, std::string_view key, double otherwise, std::string reason) {
    if (const Said* value = c.find(key)) return value->number;
    assume(c, key, fmt::format("{:g}", otherwise), std::move(reason));
    return otherwise;
  }

  Temperature<> temperature(const Component& c, std::string_view key, double otherwise_c, std::string reason) {
    if (const Said* value = c.find(key)) return Temperature<>::from_kelvin(value->number);
    assume(c, key, fmt::format("{:.1f} degC", otherwise_c), std::move(reason));
    return Temperature<>::from_celsius(otherwise_c);
  }

  std::string word(const Component& c, std::string_view key, std::string otherwise, std::string reason) {
    if (const Said* value = c.find(key)) return value->text;
    assume(c, key, otherwise, std::move(reason));
    return otherwise;
  }

  bool flag(const Component& c, std::string_view key, bool otherwise) const {
    const Said* value = c.find(key);
    return value ? value->number != 0.0 : otherwise;
  }

  /// A mistake at a key of a component, or at its heading when the key is missing. A key that was refused already is
  /// not blamed again.
  void complain(const Component& c, std::string_view key, std::string said) {
    if (c.refused.contains(key)) return;
    const Said* value = key.empty() ? nullptr : c.find(key);
    const std::string path = key.empty() ? c.path() : c.path() + "." + std::string(key);
    const std::string& own = value ? value->file : c.file;
    problems_.add({own.empty() ? description_.file : own, value ? value->line : c.line,
                   value ? value->column : c.column, path, std::move(said)});
  }
};

}  // namespace leat::model
