// Reads one value of a description, or says what is wrong with it.
#pragma once

#include <toml++/toml.h>

#include <string>
#include <variant>

#include "model/loop/description.h"

namespace leat::model {

/// Where a value is wrong, and the clause that says how, with its cure.
struct Refused {
  toml::source_region at;
  std::string why;
};
using ReadValue = std::variant<Said, Refused>;

/// The value of a key, as the table of words wants it.
ReadValue read_value(const words::Key& key, const toml::node& node);

/// The value as it stands in the file, for a message.
std::string shown(const toml::node& node);

// By form.
ReadValue read_measured_value(const words::Key& key, const toml::node& node);
ReadValue read_number_value(const words::Key& key, const toml::node& node);
ReadValue read_words_value(const words::Key& key, const toml::node& node);
ReadValue read_times_value(const words::Key& key, const toml::node& node);
ReadValue read_moment_value(const words::Key& key, const toml::node& node);
ReadValue read_curve_value(const words::Key& key, const toml::node& node);

/// What to write for text with a comma in its number, as a clause: `has a comma in its number; write "1.2 m"`.
std::string comma_cure(std::string_view text);

}  // namespace leat::model
