#include <fmt/core.h>

#include "tell/record_text.h"

namespace leat::tell {
namespace {

std::string number_of(const record::Entry& e) {
  return e.number > 0 ? fmt::format("{:>5}  ", e.number) : "       ";
}

std::string taken_text(const std::vector<std::string>& taken) {
  std::string text;
  for (const std::string& t : taken) text += (text.empty() ? "" : "; ") + t;
  return text.empty() ? "" : fmt::format("       taken: {}\n", text);
}

std::string in_quotes(std::string text) {
  for (char& c : text)
    if (c == '"') c = '\'';
  return "\"" + text + "\"";
}

/// What is not plain: why, and the command that would complete it.
std::string doubt_text(const record::Understood& u, const std::string& loop_file) {
  std::string text = fmt::format("       kept as words: {}{}\n", u.doubt, u.doubt.ends_with('?') ? "" : ".");
  if (u.offer.empty()) return text;
  const auto number = u.entries.front().number;
  if (number > 0)
    return text + fmt::format("       To complete it: leat record {} --correct {} {} --why completed\n", loop_file,
                              number, in_quotes(u.offer));
  return text + fmt::format("       Plainer: {}\n", in_quotes(u.offer));
}

/// A question about what was kept, and the command that would answer it.
std::string ask_text(const record::Understood& u, const std::string& loop_file) {
  const auto first = u.entries.front().number, last = u.entries.back().number;
  std::string text = fmt::format("       kept as written; {}", u.ask);
  if (first <= 0 || u.offer.empty()) return text + (u.offer.empty() ? "" : " Then: " + in_quotes(u.offer)) + "\n";
  if (last > first) return text + fmt::format(" Then correct each of {} to {}.\n", first, last);
  return text + fmt::format("\n       If so: leat record {} --correct {} {} --why slip\n", loop_file, first,
                            in_quotes(u.offer));
}

/// What cannot wait for a second question.
std::string first_thing(const record::Entry& e, const std::string& loop_file) {
  const bool off = (e.what == "power" || e.what == "pump") && e.subject == "off";
  if (off) return fmt::format("How long do the fish have? leat outage {}\n", loop_file);
  return e.kind == record::Kind::text && e.said.find("gasp") != std::string::npos
             ? "Gasping fish come first: air and splash, no feed, then questions.\n"
             : "";
}

}  // namespace

std::string note_text(const answers::NoteAnswer& answer, const Clock& clock, const std::string& loop_file) {
  std::string text;
  if (answer.understood.empty()) return "Nothing was said. Write for example: leat note \"fed 60 g\"\n";
  if (answer.dry) text += "Understood, and not kept:\n";
  for (const record::Understood& u : answer.understood) {
    for (const record::Entry& e : u.entries) text += number_of(e) + entry_line(e, clock) + "\n";
    if (!u.doubt.empty()) text += doubt_text(u, loop_file);
    if (u.doubt.empty()) text += taken_text(u.taken);
    if (!u.ask.empty()) text += ask_text(u, loop_file);
  }
  for (const record::Understood& u : answer.understood)
    for (const record::Entry& e : u.entries) text += first_thing(e, loop_file);
  if (answer.chapter > 0)
    text += fmt::format("A first chapter begins with this; {} is kept in it as it is now (entry {}).\n", loop_file,
                        answer.chapter);
  if (answer.loop_changed)
    text += fmt::format(
        "{} has changed since the last chapter. If the plumbing did: leat note {} \"replumbed: what "
        "changed\"\n",
        loop_file, loop_file);
  return text;
}

}  // namespace leat::tell
