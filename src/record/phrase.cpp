#include "record/phrase.h"

#include <fmt/core.h>
#include <fmt/format.h>

#include <algorithm>

#include "record/phrase_parts.h"

namespace leat::record {
namespace {

constexpr std::size_t kLongest = 20'000;  // bytes of one phrase that are read; all of it is kept

/// Words that make a sentence something else than a plain report.
bool is_unsure(std::string_view word) {
  for (const std::string_view unsure :
       {"not",   "didn't",   "didnt",  "don't",   "dont",   "never",  "should", "will",
        "would", "tomorrow", "maybe",  "perhaps", "if",     "forgot", "nearly", "almost",
        "?",     "plan",     "wasn't", "haven't", "hasn't", "unless", "instead"})
    if (word == unsure) return true;
  return false;
}

bool starts_clause(const Cursor& c) {
  return starts_reading(c) || starts_deed(c);
}

/// Reads one sentence, clause by clause.
class SentenceReader {
  Cursor c_;
  Span when_;
  std::string where_;           // said in front, for all that follows
  bool place_said_ = false;     // in the clause itself
  bool reset_unknown_ = false;  // of a thermometer, by the clause
  std::vector<Understood> found_;

 public:
  explicit SentenceReader(Cursor cursor)
      : c_(std::move(cursor)),
        when_{c_.context.from.value_or(c_.context.now), c_.context.to.value_or(c_.context.now)} {}

  std::vector<Understood> read() {
    const std::size_t first = c_.at;
    for (std::size_t i = first; i < c_.end; ++i) {
      const bool plainly_not_fed = c_.tokens[i].plain == "not" && i + 1 < c_.end && c_.tokens[i + 1].plain == "fed";
      if (!is_unsure(c_.tokens[i].plain) || plainly_not_fed) continue;
      keep_words(first, c_.end, fmt::format("\"{}\" makes it unclear whether this was so", c_.tokens[i].text), "");
      return found_;
    }
    while (!c_.done()) {
      if (c_.take_any({",", "and", "&", "then", ".", "!"})) continue;
      clause();
    }
    return found_;
  }

 private:
  /// Words as they are, with the times known so far.
  void keep_words(std::size_t from, std::size_t to, std::string doubt, std::string offer) {
    Entry e;
    e.kind = Kind::text;
    e.what = "note";
    e.where = where_;
    Understood u{{e}, std::move(doubt), std::move(offer), {}};
    finish(u, when_, c_.words(from, to));
  }

  void finish(Understood& u, Span when, const std::string& said) {
    for (Entry& e : u.entries) {
      e.noted = c_.context.now;
      e.from = when.from;
      e.to = when.to;
      e.said = said;
      if (!e.extreme.empty() && !e.since && !reset_unknown_) e.since = last_reset(e);
      if (e.since && *e.since >= e.from) e.since.reset();
    }
    found_.push_back(std::move(u));
  }

  /// Reading a min/max thermometer resets it, so its window starts at the reading before.
  std::optional<Moment> last_reset(const Entry& e) const {
    std::optional<Moment> last;
    for (const Reset& r : c_.context.resets)
      if (r.what == e.what && r.where == e.where && r.at < e.from && e.from - r.at <= kLongestWindow &&
          (!last || r.at > *last))
        last = r.at;
    return last;
  }

  /// A time or a place in front of what was done.
  bool take_front() {
    const std::size_t back = c_.at;
    // "now 10.2" is a reading.
    if (c_.plain() == "now" && c_.is_number(1)) return false;
    if (const auto when = take_when(c_.tokens, c_.at, c_.end, c_.context.clock, c_.context.now)) {
      if (c_.take(":") || !c_.at_break() || c_.plain() == ",") {
        when_ = *when;
        return true;
      }
      c_.at = back;
      return false;
    }
    const bool in = c_.take_any({"in", "at"});
    if (const auto place = take_place(c_.context, c_.tokens, c_.at, c_.end)) {
      c_.take(":");
      if (!place->path.empty() && (starts_clause(c_) || in)) {
        where_ = place->path;
        return true;
      }
    }
    c_.at = back;
    return false;
  }

  void clause() {
    const std::size_t start = c_.at;
    while (!c_.done() && !starts_clause(c_) && take_front()) c_.take(",");
    c_.take_any({"i", "we"});
    if (c_.done()) return keep_words(start, c_.end, "", "");
    c_.start = c_.at;
    Clause clause;
    if (!read_deed(c_, clause) && !read_reading(c_, clause)) return remark(start);
    Span when = when_;
    tail(clause, when);
    const bool whole = c_.at_break() || c_.plain() == ";" || c_.plain() == "!" || starts_clause(c_);
    if (!whole)
      clause.doubted(fmt::format("\"{}\" is not understood; a remark goes behind a comma", c_.tokens[c_.at].text),
                     c_.words(c_.start, c_.at));
    if (when.from > c_.context.now) clause.doubted("that time lies ahead; the record holds what has been", "");
    if (clause.doubt.empty()) check_places(clause);
    if (!clause.doubt.empty()) return doubtful(start, clause);
    for (Entry& e : clause.entries)
      if (!where_.empty() && e.where != "outside" && e.what != "moved" && !place_said_) e.where = where_;
    Understood u{std::move(clause.entries), "", "", std::move(clause.taken)};
    finish(u, when, c_.words(start, c_.at));
  }

  /// "substituted 4 basil with rocket"
  void two_kinds(Clause& clause, const Entry& e, const std::string& other) const {
    std::string in;
    for (const Spot& spot : c_.context.spots)
      if (in.empty() && spot.kind.ends_with("bed")) in = " in " + spot.path;
    clause.doubted(
        "a substitute is of the same kind; another kind is two notes",
        fmt::format("{0} {1} died{3}; planted {0} {2}{3}", shortest(e.count.value_or(1.0)), e.subject, other, in));
  }

  /// What may stand behind: when, where, with what.
  void tail(Clause& clause, Span& when) {
    place_said_ = reset_unknown_ = false;
    while (!c_.at_break() && clause.doubt.empty()) {
      if (starts_clause(c_)) break;
      if (c_.take("since")) {
        if (const auto since = take_when(c_.tokens, c_.at, c_.end, c_.context.clock, c_.context.now)) {
          for (Entry& e : clause.entries) e.since = since->from;
          continue;
        }
        if (c_.take("unknown")) {  // nobody knows when the thermometer was reset last
          reset_unknown_ = true;
          continue;
        }
        clause.doubted("since when?", c_.words(c_.start, c_.at) + " yesterday 18:00");
      } else if (const auto said = take_when(c_.tokens, c_.at, c_.end, c_.context.clock, c_.context.now)) {
        when = *said;
      } else if (c_.take_any({"with", "by", "using"})) {
        const std::string instrument = take_subject(c_);
        for (Entry& e : clause.entries) {
          if (e.what == "substituted" && !instrument.empty()) two_kinds(clause, e, instrument);
          e.instrument = instrument;
        }
        if (instrument.empty()) clause.doubted("with what?", "");
      } else {
        Entry probe;
        if (!take_where(c_, probe, clause)) break;
        place_said_ = true;
        for (Entry& e : clause.entries) e.where = probe.where;
      }
    }
  }

  /// Readings of the water belong to the usual place when none was said; a level needs one.
  void check_places(Clause& clause) {
    for (Entry& e : clause.entries) {
      if (place_said_ || e.kind != Kind::reading || !e.where.empty()) continue;
      e.where = where_.empty() && e.what != "level" && e.what != "flow" ? usual_place(c_.context) : where_;
      if (e.what == "level" && e.where.empty()) {
        const auto all = near_places(c_.context, "");
        clause.doubted("of which vessel?",
                       fmt::format("level {} in {}", amount_text(e.amount), all.empty() ? "the sump" : all.back()));
      }
    }
  }

  /// All up to the next break that a clause follows is kept as words.
  std::size_t skip_to_clause(std::size_t start) {
    if (c_.at == start) ++c_.at;
    while (!c_.done()) {
      if (c_.at_break()) {
        Cursor next = c_;
        ++next.at;
        if (starts_clause(next)) break;
      }
      ++c_.at;
    }
    return c_.at;
  }

  void doubtful(std::size_t start, const Clause& clause) {
    keep_words(start, skip_to_clause(start), clause.doubt, clause.offer);
  }

  /// Plain words. One that nearly starts a phrase is asked about, and so are numbers that nothing was made of.
  void remark(std::size_t start) {
    const std::string word(c_.plain());
    const std::string rest = c_.words(c_.at + 1, c_.end);
    skip_to_clause(start);
    static const std::vector<std::string_view> kKnown = {
        "fed",  "dosed", "topped", "moved",   "planted", "substituted", "died",    "harvested", "sold",    "cleaned",
        "dead", "min",   "max",    "stocked", "weighed", "replumbed",   "weather", "ammonia",   "nitrite", "nitrate"};
    const std::string_view near = nearest_word(word, kKnown);
    const bool number = std::any_of(c_.tokens.begin() + static_cast<std::ptrdiff_t>(start),
                                    c_.tokens.begin() + static_cast<std::ptrdiff_t>(c_.at),
                                    [](const Token& t) { return t.number.has_value() || t.comma_number; });
    const bool slip = !near.empty() && near != word && near.front() == word.front() && (number || word.size() > 4);
    if (slip)
      return keep_words(start, c_.at, fmt::format("\"{}\" is not understood", word), fmt::format("{} {}", near, rest));
    Cursor from_here = c_;
    from_here.at = from_here.start = start;
    if (number && names_a_crop_and_its_weight(from_here))
      return keep_words(start, c_.at, "harvested or sold? If it was sold, write sold in its place",
                        "harvested " + c_.words(start, c_.at));
    std::size_t at = start;
    const auto mass = take_amount(c_.tokens, at, c_.at);
    const bool only_mass = mass && at == c_.at && kind_of_unit(mass->amount.unit) == 'm';
    keep_words(start, c_.at, number ? "what the number is was not said" : "",
               only_mass ? "fed " + amount_text(mass->amount) : "");
  }
};

}  // namespace

bool is_preposition(std::string_view word) {
  for (const std::string_view known :
       {"in", "into", "to", "from", "on", "at", "with", "by", "using", "since", "as", "of", "for"})
    if (word == known) return true;
  return false;
}

bool is_fish(const Context& context, const std::string& subject) {
  if (subject == "fish" || subject == "fishes" || subject == "fry" || subject == "fingerlings") return true;
  return std::find(context.fish.begin(), context.fish.end(), subject) != context.fish.end() ||
         std::any_of(context.fish.begin(), context.fish.end(),
                     [&](const std::string& name) { return !subject.empty() && name.ends_with(" " + subject); });
}

std::string take_subject(Cursor& c) {
  std::string subject;
  while (!c.at_break() && !c.is_number() && !is_preposition(c.plain()) && c.plain() != "~" && c.plain() != "about" &&
         c.plain() != ":") {
    std::size_t at = c.at;
    if (take_when(c.tokens, at, c.end, c.context.clock, c.context.now)) break;
    if (c.plain() != "the") subject += (subject.empty() ? "" : " ") + std::string(c.plain());
    ++c.at;
  }
  return subject;
}

bool take_where(Cursor& c, Entry& e, Clause& clause) {
  const std::size_t back = c.at;
  const std::string_view preposition = c.plain();
  const bool said = c.take_any({"in", "into", "to", "from", "on", "at"});
  const bool away = e.what == "moved" && (preposition == "to" || preposition == "into" || preposition == "in");
  const auto place = take_place(c.context, c.tokens, c.at, c.end);
  if (place && !place->path.empty()) {
    (away ? e.towards : e.where) = place->path;
    return true;
  }
  if (place) {
    clause.doubted(fmt::format("which is meant, {}?", fmt::join(place->meant, " or ")),
                   fmt::format("{} in {}", c.words(c.start, back), place->meant[0]));
    return true;
  }
  if (!said) return false;
  c.take("the");
  const std::size_t from = c.at;
  while (!c.at_break()) ++c.at;
  const std::string words = c.words(from, c.at);
  if (is_fish(c.context, words)) {
    e.where = usual_place(c.context);
    return true;
  }
  const auto near = near_places(c.context, words);
  const bool any = near.size() > 1 && near.size() == near_places(c.context, "").size();
  clause.doubted(near.empty()
                     ? fmt::format("the loop file names no part \"{}\"", words)
                     : fmt::format("\"{}\" is no part of the loop file, which has {}", words, fmt::join(near, ", ")),
                 near.empty() || any ? "" : fmt::format("{} {}", c.words(c.start, from), near[0]));
  return true;
}

std::vector<Understood> read_phrase(std::string_view text, const Context& context) {
  const std::string whole = clean_text(text);
  const Tokens tokens = tokens_of(std::string_view(whole).substr(0, kLongest));
  std::vector<Understood> found;
  for (std::size_t at = 0; at < tokens.size();) {
    std::size_t end = at;
    while (end < tokens.size() && tokens[end].plain != ";") ++end;
    SentenceReader reader(Cursor{context, tokens, whole, at, end, at});
    for (Understood& u : reader.read()) found.push_back(std::move(u));
    at = end + 1;
  }
  if (whole.size() > kLongest) {
    Entry e;
    e.what = "note";
    e.noted = e.from = e.to = context.now;
    e.said = whole;
    found.assign(1, {{e}, "it is too long to read as a phrase", "", {}});
  }
  return found;
}

}  // namespace leat::record
