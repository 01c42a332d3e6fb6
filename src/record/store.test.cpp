#include "record/store.h"

#include <fmt/core.h>
#include <gtest/gtest.h>

#include <thread>

#include "record/schema.h"
#include "record/scratch.h"

namespace leat::record {
namespace {

using tests::fed;
using tests::opened;
using tests::Scratch;

std::vector<Entry> all_of(const Store& store, Filter filter = {}) {
  auto found = store.entries(filter);
  EXPECT_TRUE(std::holds_alternative<std::vector<Entry>>(found));
  return std::get<std::vector<Entry>>(found);
}

Verified verified(const Store& store, const std::string& head = "") {
  auto v = store.verify(head);
  EXPECT_TRUE(std::holds_alternative<Verified>(v)) << std::get<Trouble>(v).said;
  return std::get<Verified>(v);
}

Entry full() {
  Entry e;
  e.noted = 1'764'000'000'123;
  e.from = 1'763'999'000'000;
  e.to = 1'763'999'500'000;
  e.kind = Kind::reading;
  e.what = "temperature";
  e.where = "tank.nursery";
  e.subject = "a \"quoted\", line\nend";
  e.count = 2;
  e.amount = {0.1, 0.25, "mg/L", "N", true};
  e.extreme = "min";
  e.since = 1'763'900'000'000;
  e.instrument = "drop kit";
  e.said = "minimum 0.1";
  e.why = "typed wrong";
  e.description = "[tank.nursery]\r\nvolume = \"1000 L\"\r\n";
  return e;
}

TEST(Store, KeepsEveryField) {
  const Scratch scratch;
  Store store = opened(scratch.file("a.db"));
  std::vector<Entry> some = {fed(10.0), full()};
  some[1].supersedes = 1;
  ASSERT_FALSE(store.append(some));
  const auto back = all_of(store, {.superseded = true});
  ASSERT_EQ(back.size(), 2u);
  EXPECT_EQ(back[0].number == 1 ? back[0] : back[1], some[0]);
  EXPECT_EQ(back[0].number == 2 ? back[0] : back[1], some[1]);
}

TEST(Store, FieldsGoToTextAndBack) {
  Entry e = full(), back;
  e.number = 7;
  e.supersedes = 3;
  for (const auto& [name, text] : fields_of(e)) {
    const auto trouble = set_field(back, name, text);
    EXPECT_FALSE(trouble) << name << ": " << trouble->said;
  }
  EXPECT_EQ(back, e);
  EXPECT_TRUE(set_field(back, "from", "half past"));
  EXPECT_TRUE(set_field(back, "low", "a few"));
  EXPECT_TRUE(set_field(back, "kind", "wish"));
  EXPECT_TRUE(set_field(back, "colour", "red"));
}

TEST(Store, MomentsBeforeAndAfter1970ReadBack) {
  for (const Moment m : {Moment{0}, Moment{-1}, Moment{-86'400'000}, Moment{-86'400'001}, Moment{1'764'056'460'007}}) {
    Entry e;
    ASSERT_FALSE(set_field(e, "from", utc_text(m))) << utc_text(m);
    EXPECT_EQ(e.from, m) << utc_text(m);
  }
}

TEST(Store, BytesThatNobodyCanShowAreReplaced) {
  EXPECT_EQ(clean_text("°C ü 🐟\n\t"), "°C ü 🐟\n\t");
  EXPECT_EQ(clean_text("a\xFF\x01"
                       "b\xC3"),
            "a\xEF\xBF\xBD\xEF\xBF\xBD"
            "b\xEF\xBF\xBD");
  EXPECT_EQ(clean_text("\xED\xA0\x80").find('\xED'), std::string::npos);
  EXPECT_EQ(clean_text(std::string_view("a\0b", 3)),
            "a\xEF\xBF\xBD"
            "b");
}

TEST(Store, ACorrectionHidesWhatItCorrectsAndErasesNothing) {
  const Scratch scratch;
  Store store = opened(scratch.file("a.db"));
  std::vector<Entry> first = {fed(60.0)};
  ASSERT_FALSE(store.append(first));
  std::vector<Entry> second = {fed(50.0)};
  second[0].supersedes = 1;
  second[0].why = "typed wrong";
  ASSERT_FALSE(store.append(second));
  const auto now = all_of(store);
  ASSERT_EQ(now.size(), 1u);
  EXPECT_EQ(now[0].amount.low, 50.0);
  EXPECT_EQ(all_of(store, {.superseded = true}).size(), 2u);
  EXPECT_EQ(std::get<0>(store.superseded_by(1)), std::optional<std::int64_t>(2));
  EXPECT_EQ(std::get<0>(store.superseded_by(2)), std::nullopt);
}

TEST(Store, NothingIsChangedOrErasedEvenBySql) {
  const Scratch scratch;
  Store store = opened(scratch.file("a.db"));
  std::vector<Entry> some = {fed(60.0), full()};
  ASSERT_FALSE(store.append(some));
  for (const char* sql :
       {"UPDATE entry SET low = 5", "DELETE FROM entry", "DELETE FROM chapter", "UPDATE chapter SET description = ''",
        "INSERT INTO entry SELECT 9, noted, happened_from, "
        "happened_to, kind, what, place, towards, subject, count, low, high, unit, basis, about, "
        "extreme, window_from, instrument, said, supersedes, why, chain FROM entry LIMIT 1"})
    EXPECT_THROW(store.database().run(sql), Failed) << sql;
  EXPECT_EQ(all_of(store).size(), 2u);
}

TEST(Store, ACorrectionOfWhatIsNotThereIsRefusedWhole) {
  const Scratch scratch;
  Store store = opened(scratch.file("a.db"));
  std::vector<Entry> some = {fed(1.0), fed(2.0)};
  some[1].supersedes = 99;
  EXPECT_TRUE(store.append(some));
  EXPECT_EQ(some[0].number, 0);
  EXPECT_TRUE(all_of(store).empty());
}

TEST(Store, ASendingIsKeptOnce) {
  const Scratch scratch;
  Store store = opened(scratch.file("a.db"));
  EXPECT_EQ(std::get<0>(store.sent("sending-1")), std::nullopt);
  std::vector<Entry> some = {fed(1.0), fed(2.0)}, others = {fed(3.0)}, again = {fed(1.0), fed(2.0)};
  ASSERT_FALSE(store.append(some, "sending-1"));
  ASSERT_FALSE(store.append(others, "sending-2"));
  EXPECT_TRUE(store.append(again, "sending-1"));
  EXPECT_EQ(all_of(store).size(), 3u);
  EXPECT_EQ(std::get<0>(store.sent("sending-1")), std::optional(some));
  EXPECT_EQ(std::get<0>(store.sent("sending-2")), std::optional(others));
  for (const char* sql : {"UPDATE sending SET key = 'sending-3'", "DELETE FROM sending"})
    EXPECT_THROW(store.database().run(sql), Failed) << sql;
  EXPECT_TRUE(verified(store).faults.empty());
}

TEST(Store, FiltersByTimeWordAndPlace) {
  const Scratch scratch;
  Store store = opened(scratch.file("a.db"));
  std::vector<Entry> some = {fed(1.0), fed(2.0), full()};
  some[0].from = some[0].to = 1000;
  some[1].from = 2000, some[1].to = 5000;
  some[1].where = "tank";
  ASSERT_FALSE(store.append(some));
  EXPECT_EQ(all_of(store, {.since = 1001, .until = 2001}).size(), 1u);
  EXPECT_EQ(all_of(store, {.since = 5001, .until = 9000}).size(), 0u);
  EXPECT_EQ(all_of(store, {.until = 2000}).size(), 1u);
  EXPECT_EQ(all_of(store, {.what = "fed"}).size(), 2u);
  EXPECT_EQ(all_of(store, {.where = "tank"}).size(), 3u);
  EXPECT_EQ(all_of(store, {.where = "tank.nursery"}).size(), 2u);
  EXPECT_EQ(all_of(store, {.where = "tan"}).size(), 0u);
  ASSERT_EQ(all_of(store, {.latest = 1}).size(), 1u);
  EXPECT_EQ(all_of(store, {.latest = 1})[0].what, "temperature");
}

TEST(Chain, NoticesAChangeAndAHeadThatIsNotInIt) {
  const Scratch scratch;
  const std::string path = scratch.file("a.db");
  std::string kept;
  {
    Store store = opened(path);
    EXPECT_EQ(verified(store).head, empty_head());
    std::vector<Entry> some = {fed(60.0), fed(61.0)};
    ASSERT_FALSE(store.append(some));
    kept = verified(store).head;
    std::vector<Entry> more = {fed(62.0)};
    ASSERT_FALSE(store.append(more));
    EXPECT_TRUE(verified(store, kept).faults.empty());
    EXPECT_NE(verified(store).head, kept);
    EXPECT_FALSE(verified(store, std::string(64, '0')).faults.empty());
  }
  Store store = opened(path);
  store.database().run("DROP TRIGGER entry_stays; UPDATE entry SET low = 6 WHERE number = 2");
  const auto faults = verified(store).faults;
  ASSERT_EQ(faults.size(), 1u);
  EXPECT_NE(faults[0].find("entry 2 is not as it was put in"), std::string::npos) << faults[0];
}

TEST(Format, AnOlderFileIsRaisedAndKeepsItsEntries) {
  const Scratch scratch;
  const std::string path = scratch.file("a.db");
  {
    Database db(path, Access::create);
    make_format(db, 1);
    EXPECT_EQ(db.number("SELECT count(*) FROM sqlite_schema WHERE name = 'entry_by_time'"), 0);
  }
  Store store = opened(path);
  std::vector<Entry> some = {fed(1.0)};
  EXPECT_FALSE(store.append(some));
  EXPECT_EQ(store.database().number("PRAGMA user_version"), newest_format());
  EXPECT_EQ(store.database().number("SELECT count(*) FROM sqlite_schema WHERE name = 'entry_by_time'"), 1);
}

std::string trouble_of(const std::variant<Store, Trouble>& opened) {
  const auto* trouble = std::get_if<Trouble>(&opened);
  EXPECT_TRUE(trouble);
  return trouble ? trouble->said : "";
}

TEST(Format, ANewerFileAnotherFileAndGarbageAreLeftAlone) {
  const Scratch scratch;
  {
    Database db(scratch.file("newer.db"), Access::create);
    prepare(db);
    db.run("PRAGMA user_version = 99");
    Database other(scratch.file("other.db"), Access::create);
    other.run("CREATE TABLE guests (name TEXT)");
  }
  scratch.write("garbage.db", std::string(5000, 'x'));
  EXPECT_NE(trouble_of(Store::open(scratch.file("newer.db"))).find("newer leat (format 99"), std::string::npos);
  EXPECT_NE(trouble_of(Store::open(scratch.file("other.db"))).find("no record of leat"), std::string::npos);
  EXPECT_NE(trouble_of(Store::open(scratch.file("garbage.db"))).find("damaged, or no record"), std::string::npos);
  EXPECT_EQ(scratch.read("garbage.db"), std::string(5000, 'x'));
  EXPECT_NE(trouble_of(Store::open(scratch.file("not-there/a.db"))).find("cannot be opened"), std::string::npos);
  EXPECT_NE(trouble_of(Store::open_to_read(scratch.file("none.db"))).find("cannot be opened"), std::string::npos);
}

TEST(Store, WaitsForARecordThatIsBegunThisVeryMoment) {
  const Scratch scratch;
  const std::string path = scratch.file("a.db");
  scratch.write("a.db", "");
  std::jthread begins([&] {
    std::this_thread::sleep_for(std::chrono::milliseconds(300));
    opened(path);
  });
  const auto read = Store::open_to_read(path);
  EXPECT_TRUE(std::holds_alternative<Store>(read)) << trouble_of(read);
}

TEST(Store, IsSafeToKeep) {
  const Scratch scratch;
  Store store = opened(scratch.file("a.db"));
  EXPECT_EQ(store.database().text("PRAGMA journal_mode"), "wal");
  EXPECT_EQ(store.database().number("PRAGMA synchronous"), 2);  // FULL
  EXPECT_EQ(store.database().number("PRAGMA foreign_keys"), 1);
  EXPECT_EQ(store.database().number("SELECT count(*) FROM pragma_table_list WHERE schema = 'main' AND type = 'table' "
                                    "AND name NOT LIKE 'sqlite%' AND strict = 0"),
            0);
}

TEST(Store, AReaderChangesNothingAndLeavesNothingBehind) {
  const Scratch scratch;
  const std::string path = scratch.file("a.db");
  {
    Store store = opened(path);
    std::vector<Entry> some = {fed(1.0)};
    ASSERT_FALSE(store.append(some));
  }
  {
    Store reader = std::get<Store>(Store::open_to_read(path));
    std::vector<Entry> some = {fed(2.0)};
    EXPECT_TRUE(reader.append(some));
    EXPECT_EQ(all_of(reader).size(), 1u);
  }
  for (const char* end : {"-wal", "-shm"}) EXPECT_FALSE(std::filesystem::exists(path + end)) << end;
}

TEST(Store, TwoMayNoteAtOnce) {
  const Scratch scratch;
  const std::string path = scratch.file("a.db");
  { Store made = opened(path); }
  const auto work = [&] {
    Store store = opened(path);
    for (int i = 0; i < 50; ++i) {
      std::vector<Entry> one = {fed(i)};
      const auto trouble = store.append(one);
      EXPECT_FALSE(trouble) << trouble->said;
    }
  };
  std::thread a(work), b(work);
  a.join();
  b.join();
  const Verified v = verified(opened(path));
  EXPECT_EQ(v.entries, 100);
  EXPECT_TRUE(v.faults.empty()) << v.faults[0];
}

}  // namespace
}  // namespace leat::record
