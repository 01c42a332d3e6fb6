// Inside the reader of phrases: the cursor that its parts share.
#pragma once

#include "record/amounts.h"
#include "record/phrase.h"
#include "record/when.h"

namespace leat::record {

struct Cursor {
  const Context& context;
  const Tokens& tokens;
  std::string_view phrase;
  std::size_t at = 0, end = 0;
  std::size_t start = 0;  ///< of the clause

  /// What was typed from one word up to another.
  std::string words(std::size_t from, std::size_t to) const {
    return to <= from ? "" : std::string(phrase.substr(tokens[from].from, tokens[to - 1].to - tokens[from].from));
  }
  bool done() const { return at >= end; }
  std::string_view plain(std::size_t ahead = 0) const {
    return at + ahead < end ? std::string_view(tokens[at + ahead].plain) : std::string_view();
  }
  bool take(std::string_view word) {
    if (done() || plain() != word) return false;
    ++at;
    return true;
  }
  bool take_any(std::initializer_list<std::string_view> words) {
    for (const std::string_view word : words)
      if (take(word)) return true;
    return false;
  }
  /// At a comma, "and", a bracket, or the end.
  bool at_break() const {
    return done() || plain() == "," || plain() == "and" || plain() == "&" || plain().starts_with("(");
  }
  bool is_number(std::size_t ahead = 0) const { return at + ahead < end && tokens[at + ahead].number.has_value(); }
};

/// One clause while it is read. A doubt makes it words.
struct Clause {
  std::vector<Entry> entries;
  std::string doubt, offer;
  std::vector<std::string> taken;

  void doubted(std::string why, std::string instead) {
    if (!doubt.empty()) return;
    doubt = std::move(why);
    offer = std::move(instead);
  }
};

/// Each reads one clause if its first words are of its kind: false when they are not.
bool read_reading(Cursor& c, Clause& clause);
bool read_deed(Cursor& c, Clause& clause);
/// Whether a clause of that kind could start here.
bool starts_reading(const Cursor& c);
bool starts_deed(const Cursor& c);

/// "12", "two"; nothing before an amount that has a unit.
std::optional<double> take_count(Cursor& c);
/// An amount of mass or volume into the entry; a unit that is missing or of another kind is a doubt that offers `unit`.
bool take_measured(Cursor& c, Entry& e, Clause& clause, std::string_view kinds, std::string_view unit);
/// A mass behind a count: "2 dead, about 70 g", "weighed 12 fish 940 g together".
void take_mass_behind(Cursor& c, Entry& e, Clause& clause);
void read_planted(Cursor& c, Entry& e, Clause& clause);
void read_harvested(Cursor& c, Entry& e, Clause& clause);
bool names_a_crop_and_its_weight(Cursor c);

/// "in the raft", "from tank 1", "to tank 2", or a place alone: sets where (and towards, of what was moved). False when
/// none stands there. A place that is not known is a doubt.
bool take_where(Cursor& c, Entry& entry, Clause& clause);
/// Words up to a break, a number or a preposition, in small letters.
std::string take_subject(Cursor& c);
bool is_preposition(std::string_view word);
bool is_fish(const Context& context, const std::string& subject);

}  // namespace leat::record
