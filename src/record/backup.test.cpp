#include "record/backup.h"

#include <gtest/gtest.h>

#include "record/schema.h"
#include "record/scratch.h"

namespace leat::record {
namespace {

using tests::fed;
using tests::opened;
using tests::Scratch;

void put(const std::string& path, std::vector<Entry> entries) {
  Store store = opened(path);
  const auto trouble = store.append(entries);
  EXPECT_FALSE(trouble) << trouble->said;
}

std::string head_of(const std::string& path) {
  return std::get<Verified>(opened(path).verify()).head;
}

template <class T>
T done(std::variant<T, Trouble> made) {
  if (const auto* trouble = std::get_if<Trouble>(&made)) {
    ADD_FAILURE() << trouble->said;
    return {};
  }
  return std::get<T>(std::move(made));
}

TEST(Backup, HoldsTheSameWhileTheRecordIsInUse) {
  const Scratch scratch;
  const std::string record = scratch.file("loop.record.db");
  Store in_use = opened(record);
  std::vector<Entry> some = {fed(1.0), fed(2.0)};
  ASSERT_FALSE(in_use.append(some));
  const Backup made = done(make_backup(record, scratch.file("backups"), "2026-11-25T074100", 10));
  EXPECT_EQ(made.path, scratch.file("backups/loop.record.2026-11-25T074100.db"));
  EXPECT_EQ(made.found.entries, 2);
  EXPECT_EQ(made.found.head, head_of(record));
  std::vector<Entry> more = {fed(3.0)};
  EXPECT_FALSE(in_use.append(more));
}

TEST(Backup, KeepsSoManyAndTouchesNothingElse) {
  const Scratch scratch;
  const std::string record = scratch.file("loop.record.db");
  put(record, {fed(1.0)});
  scratch.write("loop.record.notes.db", "mine");
  for (const char* day : {"2026-11-21", "2026-11-22", "2026-11-23", "2026-11-23"})
    done(make_backup(record, scratch.folder(), std::string(day) + "T070000", 2));
  const auto left = backups_of(record, scratch.folder());
  ASSERT_EQ(left.size(), 2u);
  EXPECT_EQ(left[0], scratch.file("loop.record.2026-11-23T070000.db"));
  EXPECT_EQ(left[1], scratch.file("loop.record.2026-11-23T070000_2.db"));
  EXPECT_EQ(scratch.read("loop.record.notes.db"), "mine");
}

TEST(Backup, OfADamagedRecordIsNotMade) {
  const Scratch scratch;
  const std::string record = scratch.file("loop.record.db");
  put(record, {fed(1.0), fed(2.0)});
  opened(record).database().run("DROP TRIGGER entry_stays; UPDATE entry SET low = 0.5 WHERE number = 1");
  const auto made = make_backup(record, scratch.file("backups"), "2026-11-25T074100", 1);
  ASSERT_TRUE(std::holds_alternative<Trouble>(made));
  EXPECT_NE(std::get<Trouble>(made).said.find("is not sound"), std::string::npos);
  EXPECT_TRUE(std::filesystem::is_empty(scratch.file("backups")));
}

TEST(Restore, BringsItBackAndKeepsWhatWas) {
  const Scratch scratch;
  const std::string record = scratch.file("loop.record.db");
  put(record, {fed(1.0)});
  const Backup made = done(make_backup(record, scratch.file("backups"), "2026-11-25T074100", 10));
  put(record, {fed(2.0), fed(3.0)});
  const std::string later = head_of(record);
  const Restored back = done(restore(record, made.path, "2026-11-26T080000"));
  EXPECT_EQ(head_of(record), made.found.head);
  EXPECT_EQ(back.was, 3);
  EXPECT_EQ(back.missing.size(), 2u);
  EXPECT_EQ(back.kept, scratch.file("loop.record.before-restore-2026-11-26T080000.db"));
  EXPECT_EQ(head_of(back.kept), later);
  put(record, {fed(4.0)});
}

TEST(Restore, TakesThePlaceOfADamagedFile) {
  const Scratch scratch;
  const std::string record = scratch.file("loop.record.db");
  put(record, {fed(1.0)});
  const Backup made = done(make_backup(record, scratch.file("backups"), "2026-11-25T074100", 10));
  scratch.write("loop.record.db", "no database, and longer than its head: " + std::string(200, 'x'));
  const Restored back = done(restore(record, made.path, "2026-11-26T080000"));
  EXPECT_EQ(head_of(record), made.found.head);
  EXPECT_TRUE(scratch.read("loop.record.before-restore-2026-11-26T080000.db").starts_with("no database"));
}

TEST(Restore, FromAnUnsoundBackupTouchesNothing) {
  const Scratch scratch;
  const std::string record = scratch.file("loop.record.db");
  put(record, {fed(1.0)});
  const std::string head = head_of(record);
  scratch.write("bad.db", std::string(5000, 'x'));
  const auto back = restore(record, scratch.file("bad.db"), "2026-11-26T080000");
  ASSERT_TRUE(std::holds_alternative<Trouble>(back));
  EXPECT_NE(std::get<Trouble>(back).said.find("nothing was touched"), std::string::npos);
  EXPECT_EQ(head_of(record), head);
}

}  // namespace
}  // namespace leat::record
