// The record on disk: entries are added at its end, read, and checked; never changed.
#pragma once

#include <functional>
#include <memory>

#include "record/entry.h"

namespace leat::record {

class Database;

/// What a list is narrowed to.
struct Filter {
  std::optional<Moment> since{}, until{};  ///< an entry counts when any part of its time lies within
  std::string what{};                      ///< a word, a subject or a kind
  std::string where{};                     ///< a path, or its first part: "tank"
  bool superseded = false;                 ///< show what was corrected and withdrawn, and seals, as well
  std::optional<std::size_t> latest{};     ///< only so many, the latest
};

/// What a look at every entry found.
struct Verified {
  std::int64_t entries = 0;
  std::string head;                              ///< hash over all entries; equal heads mean equal records
  std::vector<std::string> faults;               ///< empty when all is well
  std::int64_t readings = 0;                     ///< of sensors
  std::int64_t sealed = 0;                       ///< of those, by the day
  std::optional<Moment> open_from{}, open_to{};  ///< the first and the last that no seal covers
};

/// Told how much of a long look is done, 0 to 1.
using Progress = std::function<void(double)>;

/// The hash of an entry on top of the one before it.
std::string chained(const std::string& before, const Entry& entry);
/// The head of an empty record.
std::string empty_head();

/// Adds entries within a transaction of the caller's, numbers and chains them; throws what was refused.
void add_entries(Database& db, std::vector<Entry>& entries);

class Store {
  std::unique_ptr<Database> db_;
  explicit Store(std::unique_ptr<Database> db);

 public:
  Store(Store&&) noexcept;
  Store& operator=(Store&&) noexcept;
  ~Store();

  /// For writing: makes the file when it is not there.
  static std::variant<Store, Trouble> open(const std::string& path);
  static std::variant<Store, Trouble> open_to_read(const std::string& path);

  /// Adds entries, all or none, and numbers them. When this returns they are on the disk. A key names this sending: a
  /// second one with the same key is refused.
  std::optional<Trouble> append(std::vector<Entry>& entries, const std::string& key = "");
  /// What a sending put in; nothing if none had that key.
  std::variant<std::optional<std::vector<Entry>>, Trouble> sent(const std::string& key) const;
  std::variant<std::vector<Entry>, Trouble> entries(const Filter& filter) const;
  std::variant<std::optional<Entry>, Trouble> entry(std::int64_t number) const;
  /// The entry that corrected this one, if any.
  std::variant<std::optional<std::int64_t>, Trouble> superseded_by(std::int64_t number) const;
  std::variant<std::int64_t, Trouble> size() const;
  /// Reads every entry again: the file's own checks, the numbers, the chain, and that a head kept elsewhere is in it.
  std::variant<Verified, Trouble> verify(const std::string& kept_head = "", const Progress& progress = {}) const;
  /// The numbers and the chain of the entries only: what a page that shows entries rests on.
  std::variant<Verified, Trouble> verify_chain(const std::string& kept_head = "") const;
  Database& database() const { return *db_; }
};

}  // namespace leat::record
