#include "doors/command/terminal.h"

#include <fmt/core.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <algorithm>

#include "base/result/problem.h"
#include "tell/table.h"

namespace leat::doors {
namespace {

/// The deepest verb that was named.
const CLI::App& asked(const CLI::App& app) {
  const auto verbs = app.get_subcommands();
  return verbs.empty() ? app : asked(*verbs.front());
}

/// "--urgnt" of what no verb takes; empty when it was no flag.
std::string strange_flag(const CLI::App& verb) {
  for (const std::string& word : verb.remaining(true))
    if (word.size() > 2 && word.starts_with("--")) return word.substr(0, word.find('='));
  return "";
}

std::string near_flag(const CLI::App& verb, const std::string& flag) {
  std::vector<std::string> names;
  for (const CLI::Option* option : verb.get_options())
    for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
  return did_you_mean(flag, {names.begin(), names.end()});
}

/// "Could not convert: --days = x"
std::string no_number(std::string said) {
  const std::string front = "Could not convert: ";
  const std::size_t equals = said.find(" = ");
  if (!said.starts_with(front) || equals == std::string::npos) return said;
  return fmt::format("{}: \"{}\" is no whole number; write such as {} 7",
                     said.substr(front.size(), equals - front.size()), said.substr(equals + 3),
                     said.substr(front.size(), equals - front.size()));
}

}  // namespace

std::optional<std::size_t> columns_of_terminal(int stream) {
  winsize size{};
  if (isatty(stream) == 0 || ioctl(stream, TIOCGWINSZ, &size) != 0 || size.ws_col == 0) return std::nullopt;
  return size.ws_col;
}

std::string fitted_help(const std::string& help, std::size_t columns) {
  std::string out;
  for (std::size_t start = 0; start < help.size();) {
    const std::size_t end = std::min(help.find('\n', start), help.size());
    const std::string line = help.substr(start, end - start);
    start = end + 1;
    // "  --name TEXT        what it does"
    const std::size_t gap = line.starts_with("  ") ? line.find("  ", 2) : std::string::npos;
    const std::size_t meaning = gap == std::string::npos ? gap : line.find_first_not_of(' ', gap);
    if (tell::width_of(line) <= columns)
      out += line + "\n";
    else if (meaning == std::string::npos)
      out += tell::wrapped(line, columns, "");
    else
      out += line.substr(0, gap) + "\n" + tell::wrapped("      " + line.substr(meaning), columns, "      ");
  }
  return out;
}

std::string said_of_flags(const CLI::App& app, const CLI::ParseError& error) {
  const CLI::App& verb = asked(app);
  const std::string name = &verb == &app ? "leat" : "leat " + verb.get_name();
  std::string said = no_number(error.what());
  const bool extra = dynamic_cast<const CLI::ExtrasError*>(&error) != nullptr;
  if (const std::string flag = strange_flag(verb); extra && !flag.empty())
    said = fmt::format("{} is no flag of it{}", flag, near_flag(verb, flag));
  else if (extra && !verb.remaining(true).empty())
    said = fmt::format("\"{}\" is one word too many", verb.remaining(true).front());
  else if (const std::size_t at = said.find(": 1 required "); at != std::string::npos)
    said = fmt::format("{} wants something behind it", said.substr(0, at));
  else if (const std::size_t more = said.find(": At Most 1 required "); more != std::string::npos)
    said = fmt::format("{} is said more than once, and may be said once", said.substr(0, more));
  return fmt::format("{}: {}{} {} --help shows what may be asked.\n", name, said, said.ends_with('?') ? "" : ".", name);
}

std::string first_words() {
  return "leat answers questions about a loop of fish tanks and\n"
         "beds of plants. To begin:\n"
         "  leat new               writes loop.toml to fill in\n"
         "  leat check             is its plumbing sound?\n"
         "  leat round             what to look at and do today\n"
         "  leat note \"fed 60 g\"   put in what you did or read\n"
         "  leat serve             the page, for phone and desk\n"
         "leat --help lists every question;\n"
         "leat round --help tells what one of them takes.\n";
}

}  // namespace leat::doors
