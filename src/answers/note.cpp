#include "answers/note.h"

namespace leat::answers {
namespace {

constexpr record::Moment kDay = 86'400'000;
constexpr record::Moment kLongestWindow = 3 * kDay;  // a reset longer ago is more likely one that was not noted

record::Entry chapter_of(const record::Context& context, const std::string& description) {
  record::Entry e;
  e.noted = e.from = e.to = context.now;
  e.kind = record::Kind::chapter;
  e.what = "begun";
  e.subject = "the record begins";
  e.description = description;
  return e;
}

/// The description that the last chapter was opened with.
std::string described_last(const record::Store& store) {
  const auto chapters = store.entries({.what = "chapter", .latest = 1});
  const auto* found = std::get_if<std::vector<record::Entry>>(&chapters);
  return found && !found->empty() ? found->front().description : "";
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
  return all;
}

/// Puts all entries in at once, then gives each its number.
std::optional<record::Trouble> keep(record::Store& store, std::vector<record::Entry> first, NoteAnswer& answer) {
  const std::size_t before = first.size();
  for (const record::Understood& u : answer.understood)
    for (const record::Entry& e : u.entries) first.push_back(e);
  if (const auto trouble = store.append(first)) return trouble;
  std::size_t at = before;
  for (record::Understood& u : answer.understood)
    for (record::Entry& e : u.entries) e = first[at++];
  return std::nullopt;
}

}  // namespace

std::vector<record::Reset> resets_in(const record::Store& store, record::Moment now) {
  std::vector<record::Reset> resets;
  const auto found = store.entries({.since = now - kLongestWindow, .what = "reading"});
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
  const auto size = store->size();
  if (const auto* trouble = std::get_if<record::Trouble>(&size)) return *trouble;
  std::vector<record::Entry> first;
  answer.begun = std::get<std::int64_t>(size) == 0;
  if (answer.begun) first.push_back(chapter_of(context, request.description));
  if (const auto trouble = keep(*store, std::move(first), answer)) return *trouble;
  const std::string last = described_last(*store);
  answer.loop_changed =
      !last.empty() && !request.description.empty() && last != record::clean_text(request.description);
  return answer;
}

}  // namespace leat::answers
