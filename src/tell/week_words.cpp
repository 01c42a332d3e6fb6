// The wording of a week and what follows from it: text, table, and whether it still says what the record says.
#include <fmt/core.h>

#include <algorithm>
#include <tuple>

#include "base/csv.h"
#include "record/table.h"
#include "tell/markdown.h"
#include "tell/record_text.h"
#include "tell/week_text.h"

namespace leat::tell {
namespace {

using answers::Figure;
using answers::WeekAnswer;

std::string capital(std::string text) {
  if (!text.empty()) text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
  return text;
}

std::string linked(const Figure& f) {
  return fmt::format("[{}](#{})", markdown_escaped(figure_text(f)), anchor_of(f.name));
}

std::string linked(const WeekAnswer& w, const std::string& name) {
  const Figure* f = w.find(name);
  return f ? linked(*f) : "";
}

std::string entry_links(const std::vector<std::int64_t>& entries) {
  std::string text;
  for (const std::int64_t n : entries) text += fmt::format("{}[{}](#e{})", text.empty() ? "" : ", ", n, n);
  return entries.empty() ? "" : fmt::format(" ({} {})", entries.size() == 1 ? "entry" : "entries", text);
}

/// Whether both are plants of one row of weights.
bool is_one_row(const record::Entry& a, const record::Entry& b) {
  const auto alone = [](const record::Entry& e) {
    return e.count == 1.0 && e.amount.low && e.amount.low == e.amount.high;
  };
  return alone(a) && alone(b) &&
         std::tie(a.what, a.where, a.subject, a.from, a.to, a.said, a.amount.unit, a.amount.basis) ==
             std::tie(b.what, b.where, b.subject, b.from, b.to, b.said, b.amount.unit, b.amount.basis);
}

std::string list_of(const std::string& heading, const std::vector<record::Entry>& entries, const Clock& clock) {
  if (entries.empty()) return "";
  std::string text = "\n## " + heading + "\n";
  for (std::size_t i = 0; i < entries.size();) {
    record::Entry all = entries[i];
    std::vector<std::int64_t> numbers = {all.number};
    for (++i; i < entries.size() && is_one_row(entries[i - 1], entries[i]); ++i) {
      all.amount.low = all.amount.high = *all.amount.low + *entries[i].amount.low;
      *all.count += 1.0;
      all.amount.basis = "together";
      numbers.push_back(entries[i].number);
    }
    text += fmt::format("- {}{}\n", markdown_escaped(entry_line(all, clock)), entry_links(numbers));
  }
  return text;
}

std::string list_of(const std::string& heading, const std::vector<answers::WeekLine>& lines) {
  if (lines.empty()) return "";
  std::string text = "\n## " + heading + "\n";
  for (const answers::WeekLine& line : lines)
    text += fmt::format("- {}{}.\n", markdown_escaped(line.text), entry_links(line.entries));
  return text;
}

/// "The water of tank.nursery lay between 8.0 and 11.4 degC and swung 2.1 K (the week before 2.4 K)."
std::string water_sentences(const WeekAnswer& w) {
  std::string text;
  for (const answers::WeekWindows& place : w.windows) {
    const std::string low = linked(w, "low-" + place.where), high = linked(w, "high-" + place.where);
    if (low.empty()) continue;
    const std::string who = place.where == "outside" ? "The air" : "The water of " + markdown_escaped(place.where);
    text += fmt::format("{} lay between {} and {}.", who, low, high);
    for (const auto& [prefix, words] : {std::pair{"swing-", "a whole day"}, std::pair{"night-swing-", "a night"}}) {
      const std::string name = prefix + place.where;
      const std::string swing = linked(w, name), old = linked(w, name + "-before");
      const std::string replumbed = linked(w, name + "-replumbed");
      if (!swing.empty())
        text += fmt::format(" It swung {} in {}, on average{}{}.", swing, words,
                            replumbed.empty() ? "" : " since the re-plumbing",
                            old.empty() ? "" : fmt::format(" (the week before {})", old));
      if (!replumbed.empty()) text += fmt::format(" Up to the re-plumbing: {} in {}.", replumbed, words);
    }
    text += "\n";
  }
  const bool both =
      std::any_of(w.figures.begin(), w.figures.end(), [](const Figure& f) { return f.name.ends_with("-before"); });
  return both ? text + "Two weeks compare only at equal weather.\n" : text;
}

std::string fish_sentences(const WeekAnswer& w) {
  std::string text;
  if (const std::string fed = linked(w, "fed"); !fed.empty()) {
    const auto days = std::count_if(w.fed.begin(), w.fed.end(), [](const answers::DayFed& d) { return d.noted; });
    text += fmt::format("Fed: {} in all, noted on {} of {} days.", fed, days, w.fed.size());
  }
  if (const std::string died = linked(w, "died"); !died.empty()) text += fmt::format(" Fish that died: {}.", died);
  for (const Figure& f : w.figures)
    if (f.name.starts_with("mass-") || f.name.starts_with("growth-") || f.name.starts_with("feed-gain-") ||
        f.name.starts_with("harvest-"))
      text += fmt::format(" {}: {}.", markdown_escaped(capital(f.label)), linked(f));
  return text.empty() ? "" : "\n" + text + "\n";
}

std::string test_lines(const WeekAnswer& w) {
  std::string text;
  for (const Figure& f : w.figures) {
    const bool test = std::any_of(w.tests.begin(), w.tests.end(),
                                  [&](const record::Entry& e) { return f.name.starts_with(e.what + "-"); });
    if (test) text += fmt::format("- {}: {}\n", markdown_escaped(f.label), linked(f));
  }
  return text.empty() ? "" : "\n## Tests\n" + text;
}

}  // namespace

std::string figure_text(const Figure& f) {
  const auto number = [&](double value) {
    std::string text = fmt::format("{:.{}f}", value, f.places);
    // Kit steps are told as they were read: 0.25, 7, not 0.250, 7.00.
    if (f.places == 2 && text.find('.') != std::string::npos)
      while (text.back() == '0' || text.back() == '.') {
        const bool point = text.back() == '.';
        text.pop_back();
        if (point) break;
      }
    return text == "-0" || text == "-0.0" ? text.substr(1) : text;
  };
  std::string text;
  if (f.low && f.high)
    text = *f.low == *f.high ? number(*f.low) : number(*f.low) + " to " + number(*f.high);
  else if (f.high)
    text = "below " + number(*f.high);
  else if (f.low)
    text = "above " + number(*f.low);
  return f.unit.empty() ? text : text + " " + f.unit;
}

std::string week_wording(const WeekAnswer& w, const std::string& loop, const Clock& clock) {
  std::string text = fmt::format("# {}: {} to {}\n\n", markdown_escaped(loop.empty() ? "The loop" : loop),
                                 w.first.text(), w.last.text());
  text += water_sentences(w) + fish_sentences(w);
  if (w.figures.empty()) text += "Nothing with a number was noted in this week.\n";
  text += list_of("What changed", w.changed, clock) + list_of("Deaths", w.died, clock) +
          list_of("Beds", w.plants, clock) + test_lines(w) + list_of("Odd", w.odd) + list_of("Next week", w.next);
  if (w.words.empty()) return text;
  text += "\n## In your words\n";
  for (const record::Entry& e : w.words)
    text += fmt::format("> {}{}\n\n", markdown_escaped(entry_line(e, clock)), entry_links({e.number}));
  return text;
}

std::vector<std::string> stale_numbers(const WeekAnswer& w, const std::string& wording) {
  std::vector<std::string> stale;
  for (const WordingLink& link : links_in(wording)) {
    if (link.anchor.size() > 1 && link.anchor[0] == 'e' && link.anchor[1] >= '0' && link.anchor[1] <= '9') {
      const bool cited = std::any_of(w.cited.begin(), w.cited.end(), [&](const record::Entry& e) {
        return fmt::format("e{}", e.number) == link.anchor;
      });
      if (!cited) stale.push_back(fmt::format("entry {} stands no more in this week's record", link.anchor.substr(1)));
      continue;
    }
    const auto f = std::find_if(w.figures.begin(), w.figures.end(),
                                [&](const Figure& one) { return anchor_of(one.name) == link.anchor; });
    if (f == w.figures.end())
      stale.push_back(fmt::format("\"{}\" points at #{}, which the record does not say", link.text, link.anchor));
    else if (figure_text(*f) != link.text)
      stale.push_back(fmt::format("\"{}\" ({}) is now {}", link.text, f->label, figure_text(*f)));
  }
  return stale;
}

std::string week_plain(const WeekAnswer& w, const WeekFrame& frame) {
  std::string text = text_of_markdown(frame.wording);
  for (const std::string& fault : frame.faults) text += "FAULT " + fault + "\n";
  return text + fmt::format("\nRecord: {} entries that stand, head {}\n", w.in_record, frame.head);
}

std::string week_csv(const WeekAnswer& w) {
  const auto cell = [](const std::string& field) { return csv_field(record::guarded(field)); };
  std::string text = "name,label,low,high,unit,entries\n";
  for (const Figure& f : w.figures) {
    std::string entries;
    for (const std::int64_t n : f.entries) entries += fmt::format("{}{}", entries.empty() ? "" : " ", n);
    text += fmt::format("{},{},{},{},{},{}\n", cell(f.name), cell(f.label), f.low ? fmt::format("{:.6g}", *f.low) : "",
                        f.high ? fmt::format("{:.6g}", *f.high) : "", cell(f.unit), entries);
  }
  return text;
}

}  // namespace leat::tell
