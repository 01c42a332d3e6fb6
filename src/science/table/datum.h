// Figures of fish and crops as tables give them: text, with where it comes from.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/units/quantity.h"

namespace leat::science {

/// One figure. No row means that nobody supports a value.
struct Datum {
  std::string name;        ///< of the fish or crop
  std::string key;         ///< what it is, its unit at the end: "t_opt_low_C"
  std::string value;       ///< a number, a span "38-45", points "12:0.71 18:2.31", or words
  std::string source;      ///< publication
  std::string provenance;  ///< seen, memory, common-practice, derived; empty for names and notes
};

/// DatumRows of comma-separated text under a header: name, key, value, source, provenance.
std::vector<Datum> read_data(std::string_view csv);

/// A number or the two ends of a span.
struct Span {
  double low = 0.0, high = 0.0;
  double middle() const { return 0.5 * (low + high); }
};

/// Reads "1.74", "1/3", "38-45", "-2"; nothing from words. What follows a blank is a remark.
std::optional<Span> read_span(std::string_view value);

/// Reads "12:0.71 18:2.31 ...": pairs of abscissa and value.
std::vector<std::pair<double, double>> read_points(std::string_view value);

/// The row of that name and key, or nullptr.
const Datum* find_datum(std::span<const Datum> table, std::string_view name, std::string_view key);

/// Names in the order of the table, each once.
std::vector<std::string_view> datum_names(std::span<const Datum> table);

/// The table's name for what someone wrote: its own name, or one of those under "also"; case does not matter. Empty if
/// none.
std::string_view resolve_name(std::span<const Datum> table, std::string_view written);

/// What a table says of one name, read by key.
struct DatumRows {
  enum class Take { low, middle };  ///< which figure of a span stands for it

  std::span<const Datum> table;
  std::string_view name;
  Take take;

  std::string_view text(std::string_view key) const;
  std::optional<Span> span(std::string_view key, double scale = 1.0) const;
  std::optional<double> number(std::string_view key, double scale = 1.0) const;
  std::optional<Temperature<>> temperature(std::string_view key) const;
};

}  // namespace leat::science
