// The record as a table, and a table as entries: export, import, and readings kept elsewhere until now.
#pragma once

#include "base/csv.h"
#include "record/phrase.h"

namespace leat::record {

/// A cell that a spreadsheet would take for a formula (it starts with = + - @ or a tab) gets a ' in front, and so does
/// one that starts with '. `unguarded` takes it off again. Cells that hold a number stay numbers.
std::string guarded(const std::string& cell);
std::string unguarded(const std::string& cell);

/// One row an entry, a column a field, and in front the local time for people, which is not read back.
std::string csv_of(const std::vector<Entry>& entries, const Clock& clock);

/// Whether a table was written by `csv_of`.
bool is_own_table(const CsvTable& table);
std::vector<Entry> entries_of(const CsvTable& table, std::string_view file, Problems& problems);

/// What a column of a table from elsewhere is taken as.
struct Column {
  std::string column;  ///< its name
  std::string as;      ///< "date", "time", "where", "note", or a phrase that the cell completes: "temperature degC"
};
/// "Date=date, Temp=temperature degC, Remarks=note"
std::vector<Column> read_mapping(std::string_view text, Problems& problems);

/// What the columns of a table may be meant as, by their names, as --map takes it.
std::string likely_mapping(const CsvTable& table, const Context& context);

enum class DateOrder { year_first, day_first, month_first };

/// Reads every cell as the phrase that its column says: "temperature 9.5 degC". Cells that are not plain are kept as
/// words. A row without a date that can be read is a problem.
std::vector<Understood> read_table(const CsvTable& table, const std::vector<Column>& mapping, DateOrder order,
                                   const Context& context, std::string_view file, Problems& problems);

/// What is put in when a record takes another one's entries: those that it does not hold yet, without their numbers and
/// with corrections pointing at the new ones.
struct Merge {
  std::vector<Entry> fresh;
  std::size_t known = 0;  ///< left out: the record holds them
};
Merge merged(const std::vector<Entry>& held, const std::vector<Entry>& other);

}  // namespace leat::record
