#include "answers/record.h"

#include <fmt/core.h>

#include <algorithm>

namespace leat::answers {
namespace {

using record::Entry;
using record::Trouble;

/// The entry to correct, if it stands.
std::variant<Entry, Trouble> standing(const record::Store& store, std::int64_t number) {
  auto found = store.entry(number);
  if (auto* trouble = std::get_if<Trouble>(&found)) return *trouble;
  auto& entry = std::get<std::optional<Entry>>(found);
  if (!entry) return Trouble{fmt::format("there is no entry {}; leat record lists them with their numbers", number)};
  const auto by = store.superseded_by(number);
  if (auto* trouble = std::get_if<Trouble>(&by)) return *trouble;
  if (const auto later = std::get<std::optional<std::int64_t>>(by))
    return Trouble{fmt::format("entry {} was corrected already, by entry {}; correct that one", number, *later)};
  return *entry;
}

Entry withdrawal(const record::Context& context, const Entry& old, const std::string& phrase) {
  Entry e;
  e.kind = record::Kind::withdrawn;
  e.what = old.what;
  e.where = old.where;
  e.from = old.from;
  e.to = old.to;
  e.noted = context.now;
  e.said = phrase;
  return e;
}

std::variant<std::vector<Entry>, Trouble> reread(const record::Context& context, const Entry& old,
                                                 const Correction& correction) {
  if (correction.phrase == "nothing") return std::vector{withdrawal(context, old, correction.phrase)};
  record::Context then = context;
  then.from = old.from;
  then.to = old.to;
  const bool known = std::any_of(context.spots.begin(), context.spots.end(),
                                 [&](const record::Spot& spot) { return spot.path == old.where; });
  const std::string place = known ? old.where + ": " : "";
  std::vector<Entry> entries;
  for (const record::Understood& u : record::read_phrase(place + correction.phrase, then)) {
    if (!u.doubt.empty())
      return Trouble{fmt::format("\"{}\" is not plain ({}), so entry {} stays as it is{}", correction.phrase, u.doubt,
                                 correction.number, u.offer.empty() ? "" : fmt::format("; plainer: \"{}\"", u.offer))};
    const bool words_only = u.entries.size() == 1 && u.entries[0].kind == record::Kind::text && entries.empty();
    if (words_only && old.kind != record::Kind::text)
      return Trouble{
          fmt::format("\"{}\" is words only, and entry {} is more, so it stays as it is; write what it should "
                      "say, such as \"{}\", or \"nothing\"",
                      correction.phrase, correction.number, old.said)};
    for (Entry e : u.entries) {
      e.said = correction.phrase;
      if (e.instrument.empty() && e.kind == old.kind) e.instrument = old.instrument;
      if (!e.extreme.empty() && !e.since) e.since = old.since;
      if (e.kind == record::Kind::chapter) e.description = correction.description;
      entries.push_back(std::move(e));
    }
  }
  if (entries.empty()) return Trouble{"says nothing; write what should stand there, or \"nothing\" if it never was"};
  return entries;
}

}  // namespace

std::variant<Corrected, Trouble> correct(record::Store& store, const record::Context& context,
                                         const Correction& correction) {
  const auto old = standing(store, correction.number);
  if (const auto* trouble = std::get_if<Trouble>(&old)) return *trouble;
  Corrected done{std::get<Entry>(old), {}};
  auto read = reread(context, done.old, correction);
  if (const auto* trouble = std::get_if<Trouble>(&read)) return *trouble;
  done.instead = std::move(std::get<std::vector<Entry>>(read));
  for (Entry& e : done.instead) {
    e.supersedes = correction.number;
    e.why = correction.why.empty() ? "not said" : correction.why;
  }
  if (const auto trouble = store.append(done.instead)) return *trouble;
  return done;
}

std::variant<std::vector<Entry>, Trouble> whole_record(const record::Store& store, record::Filter filter) {
  filter.superseded = true;
  auto found = store.entries(filter);
  if (auto* entries = std::get_if<std::vector<Entry>>(&found))
    std::sort(entries->begin(), entries->end(), [](const Entry& a, const Entry& b) { return a.number < b.number; });
  return found;
}

}  // namespace leat::answers
