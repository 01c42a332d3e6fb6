// What the command line owes the terminal: its width, help that fits it, and mistakes in flags in plain words.
#pragma once

#include <optional>
#include <string>

namespace CLI {
class App;
class ParseError;
}  // namespace CLI

namespace leat::doors {

/// Columns of the terminal that a stream goes to; nothing when it is none.
std::optional<std::size_t> columns_of_terminal(int stream);

/// Help with each meaning under its flag where the two do not fit beside each other.
std::string fitted_help(const std::string& help, std::size_t columns);

/// What was wrong with the flags, with the nearest one that there is.
std::string said_of_flags(const CLI::App& app, const CLI::ParseError& error);

/// For somebody who has never asked anything.
std::string first_words();

}  // namespace leat::doors
