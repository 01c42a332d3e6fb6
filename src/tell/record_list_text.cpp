#include <fmt/core.h>

#include <map>

#include "record/when.h"
#include "tell/record_text.h"

namespace leat::tell {
namespace {

std::string counted(std::size_t n, const char* one, const char* many) {
  return fmt::format("{} {}", n, n == 1 ? one : many);
}

/// Which entry corrected which, within a list.
std::map<std::int64_t, std::int64_t> corrections_in(const std::vector<record::Entry>& entries) {
  std::map<std::int64_t, std::int64_t> by;
  for (const record::Entry& e : entries)
    if (e.supersedes) by.emplace(*e.supersedes, e.number);
  return by;
}

}  // namespace

std::string list_text(const ListShown& list, const Clock& clock) {
  if (list.entries.empty())
    return list.narrowed ? fmt::format("Nothing of that is in the record, which has {}.\n",
                                       counted(static_cast<std::size_t>(list.in_record), "entry", "entries"))
                         : "The record is empty.\n";
  std::string text;
  const auto by = corrections_in(list.entries);
  for (const record::Entry& e : list.entries) {
    text += fmt::format("{:>5}  {}", e.number, entry_line(e, clock));
    if (const auto at = by.find(e.number); at != by.end()) text += fmt::format(" [corrected by {}]", at->second);
    text += "\n";
  }
  if (list.cut)
    text += fmt::format("These are the latest {} of {}; --latest N shows more, --all every one.\n", list.entries.size(),
                        list.found ? static_cast<std::int64_t>(*list.found) : list.in_record);
  return text;
}

std::string corrected_text(const answers::Corrected& corrected, const Clock& clock) {
  std::string text;
  for (const record::Entry& e : corrected.instead) text += fmt::format("{:>5}  {}\n", e.number, entry_line(e, clock));
  text += fmt::format("Entry {} ({}) is kept, and counts no more.\n", corrected.old.number, entry_words(corrected.old));
  return text;
}

std::string verified_text(const record::Verified& found, const std::string& path, const std::string& kept_head,
                          const Clock& clock) {
  std::string text;
  for (const std::string& fault : found.faults) text += fmt::format("FAULT {}\n", fault);
  text += fmt::format("{}: {}, {}.\n", path, counted(static_cast<std::size_t>(found.entries), "entry", "entries"),
                      found.faults.empty() ? "each as it was put in" : "not as they were put in");
  if (found.readings > 0 && !found.open_from)
    text += fmt::format("{} readings of sensors, all sealed by the day.\n", found.readings);
  else if (found.readings > 0)
    text += fmt::format(
        "{} readings of sensors, {} of them sealed. Not sealed yet are some from {}\nto {}; leat backup seals them.\n",
        found.readings, found.sealed, record::span_text(clock, {*found.open_from, *found.open_from}),
        record::span_text(clock, {*found.open_to, *found.open_to}));
  if (!found.faults.empty()) return text + "Leave it as it is, and bring back a backup with: leat restore\n";
  text += fmt::format("head {}\n", found.head);
  return text + (kept_head.empty() ? "Keep the head elsewhere: it shows later whether anything before it was changed.\n"
                                   : "The head that you kept is in it: nothing before it was changed.\n");
}

std::string backup_text(const record::Backup& made) {
  std::string text = fmt::format("Wrote {}: {}, looked at, each as it was put in.\n", made.path,
                                 counted(static_cast<std::size_t>(made.found.entries), "entry", "entries"));
  for (const std::string& old : made.removed) text += fmt::format("Removed {}.\n", old);
  return text +
         fmt::format("head {}\nA copy on the same disk does not help when that disk fails: keep one elsewhere.\n",
                     made.found.head);
}

std::string restored_text(const record::Restored& done, const Clock& clock) {
  std::string text = fmt::format("The record is now that of {}: {}.\n", done.from,
                                 counted(static_cast<std::size_t>(done.found.entries), "entry", "entries"));
  if (!done.kept.empty()) text += fmt::format("The one that was is kept as {}.\n", done.kept);
  if (done.missing.empty()) return text;
  text += fmt::format("It held {} that the backup does not:\n", counted(done.missing.size(), "entry", "entries"));
  constexpr std::size_t kShown = 10;
  for (std::size_t i = 0; i < done.missing.size() && i < kShown; ++i)
    text += fmt::format("       {}\n", entry_line(done.missing[i], clock));
  if (done.missing.size() > kShown) text += fmt::format("       and {} more.\n", done.missing.size() - kShown);
  return text + "To bring them in as well, export them from the old one and import them.\n";
}

std::string import_text(const std::vector<record::Understood>& rows, const Clock& clock, bool dry) {
  std::string text;
  std::size_t entries = 0, words = 0;
  constexpr std::size_t kShown = 12;
  for (const record::Understood& u : rows) {
    words += u.doubt.empty() ? 0 : 1;
    for (const record::Entry& e : u.entries)
      if (++entries <= kShown) text += fmt::format("       {}\n", entry_line(e, clock));
  }
  if (entries > kShown) text += fmt::format("       and {} more.\n", entries - kShown);
  std::size_t told = 0;
  for (const record::Understood& u : rows)
    if (!u.doubt.empty() && ++told <= 5)
      text += fmt::format("  not plain: \"{}\": {}\n", u.entries.front().said, u.doubt);
  text += fmt::format("{} {}, of them {} as words only.\n", dry ? "Would take in" : "Took in",
                      counted(entries, "entry", "entries"), words);
  return text;
}

}  // namespace leat::tell
