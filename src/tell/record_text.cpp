#include "tell/record_text.h"

#include <fmt/core.h>

#include <algorithm>

#include "base/units/parse.h"
#include "record/amounts.h"
#include "record/seal.h"
#include "record/when.h"

namespace leat::tell {
namespace {

std::string on_one_line(std::string text) {
  for (char& c : text)
    if (c == '\n' || c == '\t' || c == '\r') c = ' ';
  return text;
}

std::string what_words(std::string what) {
  std::replace(what.begin(), what.end(), '_', ' ');
  return what;
}

bool lacks_basis(const record::Entry& e) {
  const bool nitrogen = e.what == "ammonia" || e.what == "nitrite" || e.what == "nitrate";
  return e.kind == record::Kind::reading && nitrogen && e.amount.basis.empty() &&
         record::kind_of_unit(e.amount.unit) == 'c';
}

std::string deed_words(const record::Entry& e) {
  if (record::is_seal(e)) return fmt::format("sealed {} readings of sensors", shortest(e.count.value_or(0.0)));
  std::string text = what_words(e.what);
  if (e.count) text += " " + shortest(*e.count);
  const std::string amount = record::amount_text(e.amount);
  if (e.count) {
    if (!e.subject.empty()) text += " " + e.subject;
    if (!amount.empty()) text += ", " + amount;
  } else {
    if (!amount.empty()) text += " " + amount;
    if (!e.subject.empty()) text += (amount.empty() ? " " : " of ") + e.subject;
  }
  return text;
}

}  // namespace

std::string entry_words(const record::Entry& e) {
  using record::Kind;
  if (e.kind == Kind::withdrawn) return "withdrawn";
  if (e.kind == Kind::text) return fmt::format("\"{}\"", on_one_line(e.said));
  if (e.kind == Kind::chapter)
    return e.subject.empty() ? "a new chapter: re-plumbed" : "a new chapter: " + on_one_line(e.subject);
  if (e.kind == Kind::deed) return on_one_line(deed_words(e));
  std::string text = what_words(e.what);
  if (!e.extreme.empty()) text += " " + e.extreme;
  text += " " + record::amount_text(e.amount);
  if (lacks_basis(e)) text += " (as what was not said)";
  if (!e.instrument.empty()) text += " by " + e.instrument;
  return on_one_line(text);
}

std::string entry_line(const record::Entry& e, const Clock& clock) {
  std::string line = entry_words(e);
  if (!e.where.empty()) line += ", " + e.where;
  if (!e.towards.empty()) line += (e.where.empty() ? ", to " : " to ") + e.towards;
  line += ", " + record::span_text(clock, {e.from, e.to});
  if (e.since)
    line += fmt::format(" (since {})", record::span_text(clock, {*e.since, *e.since}));
  else if (!e.extreme.empty())
    line += " (since when is not known)";
  if (e.supersedes)
    line += fmt::format(" [instead of {}{}]", *e.supersedes, e.why.empty() ? "" : ": " + on_one_line(e.why));
  return line;
}

}  // namespace leat::tell
