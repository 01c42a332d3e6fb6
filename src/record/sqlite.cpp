#include "record/sqlite.h"

#include <fmt/core.h>
#include <sqlite3.h>

#include <cerrno>
#include <cstring>
#include <filesystem>

namespace leat::record {
namespace {

constexpr int kWaitMs = 10'000;  // for another leat that is writing

std::string cause(int code, sqlite3* db) {
  switch (code & 0xFF) {
    case SQLITE_FULL:
      return "there is no room left on the disk; nothing of this was kept, all that was noted before is. Free some "
             "space and note it again";
    case SQLITE_READONLY:
    case SQLITE_PERM:
      return "it may be read but not written; nothing of this was kept. Allow writing to the file and its folder";
    case SQLITE_CANTOPEN:
      return "it cannot be opened: the folder may not be written, or is not there. Nothing of this was kept";
    case SQLITE_NOTADB:
    case SQLITE_CORRUPT:
      return "it is damaged, or no record at all. Leave it as it is and bring back a backup with: leat restore";
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return "another program has held it for ten seconds; nothing of this was kept. Try again when that is done";
    case SQLITE_IOERR:
      return fmt::format(
          "the disk refused ({}); nothing of this was kept, all that was noted before is. Look at the "
          "disk's space and health",
          std::strerror(db ? sqlite3_system_errno(db) : errno));
    default:
      return db ? sqlite3_errmsg(db) : sqlite3_errstr(code);
  }
}

/// A file that was closed well in a folder that may not be written needs no log beside it.
std::string unchanging(const std::string& path) {
  std::string uri = "file:";
  for (const char c : path)
    if (c == '?' || c == '#' || c == '%')
      uri += fmt::format("%{:02X}", static_cast<unsigned char>(c));
    else
      uri += c;
  return uri + "?immutable=1";
}

bool has_log(const std::string& path) {
  std::error_code none;
  return std::filesystem::exists(path + "-wal", none) && std::filesystem::file_size(path + "-wal", none) > 0;
}

sqlite3* opened(const std::string& name, int flags, int& code) {
  sqlite3* db = nullptr;
  code = sqlite3_open_v2(name.c_str(), &db, flags, nullptr);
  if (code == SQLITE_OK) {
    sqlite3_extended_result_codes(db, 1);
    sqlite3_busy_timeout(db, kWaitMs);
    // Opening reads nothing yet; the first look does.
    code = sqlite3_exec(db, "SELECT count(*) FROM sqlite_schema", nullptr, nullptr, nullptr);
  }
  return db;
}

}  // namespace

void Database::Closer::operator()(sqlite3* db) const {
  sqlite3_close_v2(db);
}

Database::Database(const std::string& path, Access access) : path_(path) {
  // A reader asks for writing too, so that the last one to leave can clear the log away; it still changes nothing.
  const int mode = SQLITE_OPEN_READWRITE | (access == Access::create ? SQLITE_OPEN_CREATE : 0);
  int code = SQLITE_OK;
  db_.reset(opened(path, mode, code));
  const int kind = code & 0xFF;
  // A folder that may not be written, a disk with no room for the log.
  const bool closed_to_us =
      kind == SQLITE_CANTOPEN || kind == SQLITE_READONLY || kind == SQLITE_IOERR || kind == SQLITE_FULL;
  std::error_code none;
  if (closed_to_us && access == Access::read && std::filesystem::exists(path, none) && !has_log(path))
    db_.reset(opened(unchanging(path), SQLITE_OPEN_READONLY | SQLITE_OPEN_URI, code));
  if (code != SQLITE_OK) fail(code);
  if (access == Access::read) run("PRAGMA query_only = ON");
}

Database::~Database() = default;

Statement& Database::kept(const char* sql) {
  auto& statement = kept_[sql];
  if (!statement) statement = std::make_unique<Statement>(*this, sql);
  return *statement;
}

void Database::fail(int code) const {
  throw Failed(fmt::format("{}: {}", path_, cause(code, db_.get())));
}

void Database::run(const char* sql) {
  const int code = sqlite3_exec(db_.get(), sql, nullptr, nullptr, nullptr);
  if (code != SQLITE_OK) fail(code);
}

void Database::end() {
  sqlite3_exec(db_.get(), "ROLLBACK", nullptr, nullptr, nullptr);
}

std::int64_t Database::number(const char* sql) {
  Statement statement(*this, sql);
  return statement.step() ? statement.whole(0) : 0;
}

std::string Database::text(const char* sql) {
  Statement statement(*this, sql);
  return statement.step() ? statement.text(0) : "";
}

std::int64_t Database::changed() const {
  return sqlite3_changes64(db_.get());
}

void Database::copy_into(Database& other) {
  sqlite3_backup* copy = sqlite3_backup_init(other.handle(), "main", handle(), "main");
  if (!copy) other.fail(sqlite3_extended_errcode(other.handle()));
  int code = SQLITE_OK;
  for (int waited = 0; waited < kWaitMs; waited += 20) {
    code = sqlite3_backup_step(copy, -1);
    if (code != SQLITE_BUSY && code != SQLITE_LOCKED) break;
    sqlite3_sleep(20);
  }
  sqlite3_backup_finish(copy);
  if (code != SQLITE_DONE) other.fail(code);
}

void Statement::Finisher::operator()(sqlite3_stmt* statement) const {
  sqlite3_finalize(statement);
}

Statement::Statement(Database& db, const char* sql) : db_(db) {
  sqlite3_stmt* made = nullptr;
  const int code = sqlite3_prepare_v2(db.handle(), sql, -1, &made, nullptr);
  statement_.reset(made);
  if (code != SQLITE_OK) db.fail(code);
}

Statement& Statement::bind(std::int64_t value) {
  sqlite3_bind_int64(statement_.get(), ++bound_, value);
  return *this;
}

Statement& Statement::bind(double value) {
  sqlite3_bind_double(statement_.get(), ++bound_, value);
  return *this;
}

Statement& Statement::bind(std::string_view value) {
  sqlite3_bind_text64(statement_.get(), ++bound_, value.data() ? value.data() : "", value.size(), SQLITE_TRANSIENT,
                      SQLITE_UTF8);
  return *this;
}

Statement& Statement::bind_null() {
  sqlite3_bind_null(statement_.get(), ++bound_);
  return *this;
}

bool Statement::step() {
  const int code = sqlite3_step(statement_.get());
  if (code == SQLITE_ROW) return true;
  if (code != SQLITE_DONE) db_.fail(code);
  return false;
}

void Statement::reset() {
  sqlite3_reset(statement_.get());
  sqlite3_clear_bindings(statement_.get());
  bound_ = 0;
}

std::int64_t Statement::whole(int column) const {
  return sqlite3_column_int64(statement_.get(), column);
}

double Statement::real(int column) const {
  return sqlite3_column_double(statement_.get(), column);
}

std::string Statement::text(int column) const {
  const auto* bytes = reinterpret_cast<const char*>(sqlite3_column_text(statement_.get(), column));
  return bytes ? std::string(bytes, static_cast<std::size_t>(sqlite3_column_bytes(statement_.get(), column))) : "";
}

bool Statement::is_null(int column) const {
  return sqlite3_column_type(statement_.get(), column) == SQLITE_NULL;
}

void Transaction::commit() {
  db_.run("COMMIT");
  open_ = false;
}

Transaction::~Transaction() {
  if (open_) db_.end();
}

}  // namespace leat::record
