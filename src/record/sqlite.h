// SQLite as this folder wants it: handles that close themselves, failures that say what to do. The exceptions thrown
// here are caught in this folder.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>

struct sqlite3;
struct sqlite3_stmt;

namespace leat::record {

/// A step that SQLite refused; its text says what happened and what it means.
struct Failed : std::runtime_error {
  using std::runtime_error::runtime_error;
};

enum class Access { read, write, create };

class Statement;

class Database {
  struct Closer {
    void operator()(sqlite3* db) const;
  };
  std::string path_;
  std::unique_ptr<sqlite3, Closer> db_;
  std::map<const char*, std::unique_ptr<Statement>> kept_;  // by the place of its text

 public:
  Database(const std::string& path, Access access);
  ~Database();
  /// A statement that is made once and kept; the text must be a literal. `Reuse` gives it back.
  Statement& kept(const char* sql);
  /// Runs statements that hand nothing back.
  void run(const char* sql);
  std::int64_t number(const char* sql);
  std::string text(const char* sql);
  /// How many rows the last statement put in.
  std::int64_t changed() const;
  sqlite3* handle() const { return db_.get(); }
  const std::string& path() const { return path_; }
  /// Ends a transaction that only read.
  void end();
  /// Copies all of this one into another while both may be in use.
  void copy_into(Database& other);
  /// Throws what the last refusal was.
  [[noreturn]] void fail(int code) const;
};

/// A prepared statement; binds count from 1, columns from 0.
class Statement {
  struct Finisher {
    void operator()(sqlite3_stmt* statement) const;
  };
  Database& db_;
  std::unique_ptr<sqlite3_stmt, Finisher> statement_;
  int bound_ = 0;

 public:
  Statement(Database& db, const char* sql);
  Statement& bind(std::int64_t value);
  Statement& bind(double value);
  Statement& bind(std::string_view value);
  Statement& bind_null();
  template <class T>
  Statement& bind(const std::optional<T>& value) {
    return value ? bind(*value) : bind_null();
  }
  /// The next row, false at the end.
  bool step();
  void reset();
  std::int64_t whole(int column) const;
  double real(int column) const;
  std::string text(int column) const;
  bool is_null(int column) const;
};

/// A kept statement for as long as it is wanted; it is ready for the next one afterwards.
class Reuse {
  Statement& statement_;

 public:
  Reuse(Database& db, const char* sql) : statement_(db.kept(sql)) {}
  Reuse(const Reuse&) = delete;
  Reuse& operator=(const Reuse&) = delete;
  ~Reuse() { statement_.reset(); }
  Statement& operator*() const { return statement_; }
  Statement* operator->() const { return &statement_; }
};

/// A transaction that is undone unless it is committed.
class Transaction {
  Database& db_;
  bool open_ = true;

 public:
  explicit Transaction(Database& db) : db_(db) { db_.run("BEGIN IMMEDIATE"); }
  Transaction(const Transaction&) = delete;
  Transaction& operator=(const Transaction&) = delete;
  ~Transaction();
  void commit();
};

}  // namespace leat::record
