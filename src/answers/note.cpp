#include "answers/note.h"

#include <algorithm>
#include <iterator>

namespace leat::answers {
namespace {

record::Entry chapter_of(const record::Context& context, const std::string& description) {
  record::Entry e;
  e.noted = e.from = e.to = context.now;
  e.kind = record::Kind::chapter;
  e.what = "begun";
  e.subject = "the record begins";
  e.description = description;
  return e;
}

/// The last chapter, if there is one.
std::variant<std::vector<record::Entry>, record::Trouble> last_chapter(const record::Store& store) {
  return store.entries({.what = "chapter", .latest = 1});
}

std::vector<record::Understood> read_all(const record::Context& context, const NoteRequest& request) {
  std::vector<record::Understood> all;
  for (const std::string& phrase : request.phrases)
    for (record::Understood& u : record::read_phrase(phrase, context)) {
      for (record::Entry& e : u.entries) {
        if (e.kind == record::Kind::reading && e.instrument.empty()) e.instrument = request.instrument;
        if (e.kind == record::Kind::chapter) e.description = request.description;
      }
      all.push_back(std::move(u));
    }
  const record::Entry* first = all.empty() || all[0].entries.empty() ? nullptr : &all[0].entries[0];
  std::vector<record::Understood> photos;
  for (record::Entry e : request.photos) {
    if (first) e.where = first->where;
    photos.push_back({{std::move(e)}, "", "", {}});
  }
  std::move(photos.begin(), photos.end(), std::back_inserter(all));
  return all;
}

/// Puts all entries in at once, then gives each its number.
std::optional<record::Trouble> keep(record::Store& store, std::vector<record::Entry> first, const std::string& key,
                                    NoteAnswer& answer) {
  const std::size_t before = first.size();
  for (const record::Understood& u : answer.understood)
    for (const record::Entry& e : u.entries) first.push_back(e);
  if (const auto trouble = store.append(first, key)) return trouble;
  answer.chapter = before > 0 ? first.front().number : 0;
  std::size_t at = before;
  for (record::Understood& u : answer.understood)
    for (record::Entry& e : u.entries) e = first[at++];
  return std::nullopt;
}

}  // namespace

namespace {

/// What was kept under a key before, as an answer.
std::variant<std::optional<NoteAnswer>, record::Trouble> kept_before(const record::Store& store,
                                                                     const std::string& key) {
  if (key.empty()) return std::nullopt;
  auto sent = store.sent(key);
  if (const auto* trouble = std::get_if<record::Trouble>(&sent)) return *trouble;
  auto& entries = std::get<std::optional<std::vector<record::Entry>>>(sent);
  if (!entries) return std::nullopt;
  NoteAnswer answer;
  answer.again = true;
  if (entries->front().what == "begun") {
    answer.chapter = entries->front().number;
    entries->erase(entries->begin());
  }
  answer.understood.push_back({std::move(*entries), "", "", {}});
  return answer;
}

}  // namespace

std::vector<record::Reset> resets_in(const record::Store& store, record::Moment now) {
  std::vector<record::Reset> resets;
  const auto found = store.entries({.since = now - record::kLongestWindow, .what = "reading"});
  if (const auto* entries = std::get_if<std::vector<record::Entry>>(&found))
    for (const record::Entry& e : *entries)
      if (!e.extreme.empty() && e.from == e.to) resets.push_back({e.what, e.where, e.from});
  return resets;
}

std::variant<NoteAnswer, record::Trouble> note(record::Store* store, const record::Context& context,
                                               const NoteRequest& request) {
  NoteAnswer answer;
  answer.dry = request.dry || !store;
  answer.understood = read_all(context, request);
  if (answer.dry || answer.understood.empty()) return answer;
  auto kept = kept_before(*store, request.key);
  if (const auto* trouble = std::get_if<record::Trouble>(&kept)) return *trouble;
  if (auto& earlier = std::get<std::optional<NoteAnswer>>(kept)) return std::move(*earlier);
  const auto before = last_chapter(*store);
  if (const auto* trouble = std::get_if<record::Trouble>(&before)) return *trouble;
  const bool none = std::get<std::vector<record::Entry>>(before).empty();
  if (const auto trouble =
          keep(*store, none ? std::vector{chapter_of(context, request.description)} : std::vector<record::Entry>{},
               request.key, answer))
    return *trouble;
  const auto now = last_chapter(*store);
  const auto* chapter = std::get_if<std::vector<record::Entry>>(&now);
  if (!chapter || chapter->empty()) return answer;
  answer.loop_changed = chapter->front().description != record::clean_text(request.description);
  return answer;
}

}  // namespace leat::answers
