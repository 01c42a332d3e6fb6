#include "record/store.h"

#include <fmt/core.h>

#include <algorithm>
#include <chrono>
#include <future>
#include <thread>
#include <tuple>

#include "record/guarded.h"
#include "record/schema.h"
#include "record/seal.h"
#include "record/series_parts.h"
#include "record/sha256.h"

namespace leat::record {
namespace {

constexpr const char* kColumns =
    "number, noted, happened_from, happened_to, kind, what, place, towards, subject, count, low, high, unit, basis, "
    "about, extreme, window_from, instrument, said, supersedes, why, coalesce(description, ''), chain";

std::optional<double> real_at(const Statement& s, int column) {
  return s.is_null(column) ? std::nullopt : std::optional(s.real(column));
}

std::optional<std::int64_t> whole_at(const Statement& s, int column) {
  return s.is_null(column) ? std::nullopt : std::optional(s.whole(column));
}

/// A row of kColumns.
Entry entry_at(const Statement& s) {
  Entry e;
  e.number = s.whole(0);
  e.noted = s.whole(1);
  e.from = s.whole(2);
  e.to = s.whole(3);
  e.kind = kind_of(s.text(4)).value_or(Kind::text);
  e.what = s.text(5);
  e.where = s.text(6);
  e.towards = s.text(7);
  e.subject = s.text(8);
  e.count = real_at(s, 9);
  e.amount = {real_at(s, 10), real_at(s, 11), s.text(12), s.text(13), s.whole(14) == 1};
  e.extreme = s.text(15);
  e.since = whole_at(s, 16);
  e.instrument = s.text(17);
  e.said = s.text(18);
  e.supersedes = whole_at(s, 19);
  e.why = s.text(20);
  e.description = s.text(21);
  return e;
}

std::string select_entries(const std::string& rest) {
  return fmt::format("SELECT {} FROM entry LEFT JOIN chapter ON chapter.entry = number {}", kColumns, rest);
}

void insert(Statement& row, const Entry& e, const std::string& chain) {
  row.bind(e.number).bind(e.noted).bind(e.from).bind(e.to).bind(word_for(e.kind)).bind(std::string_view(e.what));
  row.bind(std::string_view(e.where)).bind(std::string_view(e.towards)).bind(std::string_view(e.subject));
  row.bind(e.count).bind(e.amount.low).bind(e.amount.high).bind(std::string_view(e.amount.unit));
  row.bind(std::string_view(e.amount.basis)).bind(std::int64_t{e.amount.about}).bind(std::string_view(e.extreme));
  row.bind(e.since).bind(std::string_view(e.instrument)).bind(std::string_view(e.said)).bind(e.supersedes);
  row.bind(std::string_view(e.why)).bind(std::string_view(chain));
  row.step();
  row.reset();
}

/// Text as every reader can show it; done before the chain is made over it.
void clean(Entry& e) {
  for (std::string* text : {&e.what, &e.where, &e.towards, &e.subject, &e.amount.unit, &e.amount.basis, &e.extreme,
                            &e.instrument, &e.said, &e.why, &e.description})
    *text = clean_text(*text);
}

}  // namespace

std::string empty_head() {
  return sha256("leat record");
}

std::string chained(const std::string& before, const Entry& entry) {
  std::string all = before;
  for (const auto& [name, text] : fields_of(entry))
    all.append("\n").append(name).append(" ").append(std::to_string(text.size())).append(":").append(text);
  return sha256(all);
}

Store::Store(std::unique_ptr<Database> db) : db_(std::move(db)) {}
Store::Store(Store&&) noexcept = default;
Store& Store::operator=(Store&&) noexcept = default;
Store::~Store() = default;

std::variant<Store, Trouble> Store::open(const std::string& path) {
  return guarded([&] {
    auto db = std::make_unique<Database>(path, Access::create);
    prepare(*db);
    return Store(std::move(db));
  });
}

std::variant<Store, Trouble> Store::open_to_read(const std::string& path) {
  return guarded([&] {
    auto db = std::make_unique<Database>(path, Access::read);
    // Another leat may have begun it this very moment: it is empty until its first transaction is done.
    for (int wait = 0; wait < 100 && is_empty(*db); ++wait) {
      std::this_thread::sleep_for(std::chrono::milliseconds(20));
      db = std::make_unique<Database>(path, Access::read);
    }
    look_at(*db);
    return Store(std::move(db));
  });
}

void add_entries(Database& db, std::vector<Entry>& entries) {
  const Reuse last(db, "SELECT number, chain FROM entry ORDER BY number DESC LIMIT 1");
  const bool some = last->step();
  std::int64_t number = some ? last->whole(0) : 0;
  std::string head = some ? last->text(1) : empty_head();
  last->reset();
  const Reuse row(db, "INSERT INTO entry VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)");
  for (Entry& e : entries) {
    e.number = ++number;
    clean(e);
    head = chained(head, e);
    insert(*row, e, head);
    if (e.description.empty()) continue;
    const Reuse chapter(db, "INSERT INTO chapter VALUES (?,?)");
    chapter->bind(e.number).bind(std::string_view(e.description)).step();
  }
}

std::optional<Trouble> Store::append(std::vector<Entry>& entries, const std::string& key) {
  try {
    Transaction transaction(*db_);
    add_entries(*db_, entries);
    if (!key.empty() && !entries.empty()) {
      const Reuse sending(*db_, "INSERT INTO sending VALUES (?,?,?)");
      sending->bind(std::string_view(key)).bind(entries.front().number).bind(entries.back().number).step();
    }
    transaction.commit();
    return std::nullopt;
  } catch (const Failed& failed) {
    for (Entry& e : entries) e.number = 0;
    return Trouble{failed.what()};
  }
}

std::variant<std::optional<std::vector<Entry>>, Trouble> Store::sent(const std::string& key) const {
  return guarded([&]() -> std::optional<std::vector<Entry>> {
    Statement rows(
        *db_, select_entries("JOIN sending ON number BETWEEN first AND last WHERE key = ? ORDER BY number").c_str());
    rows.bind(std::string_view(key));
    std::vector<Entry> found;
    while (rows.step()) found.push_back(entry_at(rows));
    if (found.empty()) return std::nullopt;
    return found;
  });
}

std::variant<std::vector<Entry>, Trouble> Store::entries(const Filter& f) const {
  return guarded([&] {
    std::string rest =
        "WHERE (?1 IS NULL OR happened_to >= ?1) AND (?2 IS NULL OR happened_from < ?2) AND (?3 = '' OR what = ?3 OR "
        "subject = ?3 OR kind = ?3) AND (?4 = '' OR place = ?4 OR towards = ?4 OR substr(place, 1, length(?4) + 1) = "
        "?4 || '.')";
    if (!f.superseded && f.what != "sealed") rest += " AND NOT (kind = 'deed' AND what = 'sealed')";
    if (!f.superseded)
      rest += " AND kind <> 'withdrawn' AND number NOT IN (SELECT supersedes FROM entry WHERE supersedes IS NOT NULL)";
    rest += " ORDER BY happened_from DESC, number DESC";
    if (f.latest) rest += fmt::format(" LIMIT {}", *f.latest);
    Statement rows(*db_, select_entries(rest).c_str());
    rows.bind(f.since).bind(f.until).bind(std::string_view(f.what)).bind(std::string_view(f.where));
    std::vector<Entry> found;
    while (rows.step()) found.push_back(entry_at(rows));
    std::reverse(found.begin(), found.end());
    return found;
  });
}

std::variant<std::optional<Entry>, Trouble> Store::entry(std::int64_t number) const {
  return guarded([&] {
    Statement row(*db_, select_entries("WHERE number = ?").c_str());
    row.bind(number);
    return row.step() ? std::optional(entry_at(row)) : std::nullopt;
  });
}

std::variant<std::optional<std::int64_t>, Trouble> Store::superseded_by(std::int64_t number) const {
  return guarded([&] {
    Statement row(*db_, "SELECT number FROM entry WHERE supersedes = ? ORDER BY number LIMIT 1");
    row.bind(number);
    return row.step() ? std::optional(row.whole(0)) : std::nullopt;
  });
}

std::variant<std::int64_t, Trouble> Store::size() const {
  return guarded([&] { return db_->number("SELECT count(*) FROM entry"); });
}

std::variant<Verified, Trouble> Store::verify_chain(const std::string& kept_head) const {
  return guarded([&] {
    Verified v{0, empty_head(), {}};
    bool kept_found = kept_head.empty() || kept_head == v.head;
    Statement rows(*db_, select_entries("ORDER BY number").c_str());
    while (rows.step()) {
      const Entry e = entry_at(rows);
      ++v.entries;
      if (e.number != v.entries && v.faults.size() < 5)
        v.faults.push_back(fmt::format("entry {} stands where {} is due", e.number, v.entries));
      v.head = chained(v.head, e);
      if (v.head != rows.text(22) && v.faults.size() < 5)
        v.faults.push_back(fmt::format("entry {} is not as it was put in, or one before it was taken out", e.number));
      v.head = rows.text(22);
      kept_found = kept_found || v.head == kept_head;
    }
    if (!kept_found)
      v.faults.push_back(
          "the head you kept is not in it: entries were taken out or changed since, or it is of another "
          "record");
    return v;
  });
}

namespace {

/// What SQLite itself finds wrong with the file.
std::vector<std::string> faults_of_file(Database& db) {
  std::vector<std::string> faults;
  if (const std::string own = db.text("PRAGMA integrity_check(5)"); own != "ok")
    faults.push_back(fmt::format("the file itself: {}", own));
  if (db.number("SELECT count(*) FROM pragma_foreign_key_check") > 0)
    faults.push_back("an entry corrects one that is not there");
  return faults;
}

/// All is read as it was at one moment, whatever is put in meanwhile.
struct Snapshot {
  Database& db;
  explicit Snapshot(Database& of) : db(of) { db.run("BEGIN"); }
  ~Snapshot() { db.end(); }
};

}  // namespace

std::variant<Verified, Trouble> Store::verify(const std::string& kept_head, const Progress& progress) const {
  // Half of the work is SQLite's look at its own pages: on another core, by a connection of its own.
  auto file = std::async(std::launch::async, [path = db_->path()] {
    return guarded([&] {
      Database own(path, Access::read);
      return faults_of_file(own);
    });
  });
  auto found = guarded([&] {
    const Snapshot snapshot(*db_);
    auto chain = verify_chain(kept_head);
    if (const auto* trouble = std::get_if<Trouble>(&chain)) throw Failed(trouble->said);
    auto looked = look_at_readings(*this, progress);
    if (const auto* trouble = std::get_if<Trouble>(&looked)) throw Failed(trouble->said);
    auto& v = std::get<Verified>(chain);
    auto& readings = std::get<ReadingsLooked>(looked);
    v.faults.insert(v.faults.end(), readings.faults.begin(), readings.faults.end());
    v.readings = readings.count;
    v.sealed = sealed_readings(*db_);
    if (const auto open = not_sealed(*db_)) std::tie(v.open_from, v.open_to) = *open;
    return std::move(v);
  });
  const auto pages = file.get();
  if (const auto* trouble = std::get_if<Trouble>(&pages)) return *trouble;
  if (auto* v = std::get_if<Verified>(&found)) {
    const auto& faults = std::get<std::vector<std::string>>(pages);
    v->faults.insert(v->faults.begin(), faults.begin(), faults.end());
  }
  return found;
}

}  // namespace leat::record
