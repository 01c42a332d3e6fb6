// Inputs of catalogue entries that arrive as words: "154 fish/m3", "3.8 degC (sine)", "1/3", "20 x 25 cm".
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "base/units/parse.h"
#include "base/units/quantity.h"
#include "science/catalogue.h"
#include "science/crops/crop.h"
#include "science/fish/growth.h"
#include "science/fish/species.h"

namespace leat::science {

/// A number and its unit out of words: remarks in brackets and the things counted (fish, plants, feed, N ...) are left
/// out of the unit. Nothing if there is no number or the unit cannot be read.
std::optional<Measured> measured_from(std::string_view text);

/// The number of an input in a unit, whether it came as a number or as words. A bare number is taken to be in the
/// unit. Throws std::out_of_range with the input's name when it is absent or in another dimension, as Given does.
double number_in(const Given& given, std::string_view name, std::string_view unit);
double number_in(const Given& given, std::string_view name, std::string_view unit, double otherwise);

/// The number alone, whatever stands behind it.
double plain_number(const Given& given, std::string_view name);
double plain_number(const Given& given, std::string_view name, double otherwise);

/// One input over another of the same dimension.
double ratio_in(const Given& given, std::string_view over, std::string_view under);

/// Two numbers around a word: "2 vs 2", "20 x 25 cm".
std::pair<double, double> pair_in(const Given& given, std::string_view name, std::string_view between,
                                  std::string_view unit);

/// Remarks that came with the inputs, under "note"; empty if none.
std::string_view remark(const Given& given);

/// Growth coefficient from tgc (raw), tgc_x100 or tgc_x1000, with exponent (1/3 unless given).
ThermalGrowth<> stock_in(const Given& given);

/// Species or crop by the longest run of leading words that names one ("common carp juvenile").
const Species& species_in(const Given& given);
const Crop& crop_in(const Given& given);

/// One figure of the species' table; throws std::out_of_range when there is none.
std::string_view species_figure(const Given& given, std::string_view key);

inline Temperature<> celsius(double c) {
  return Temperature<>::from_celsius(c);
}
inline Mass<> grams(double g) {
  return Mass<>(g * 1e-3);
}
inline Duration<> days(double d) {
  return d * units::day;
}
inline Duration<> hours(double h) {
  return h * units::hour;
}

/// Rows written shorter.
inline InputRow input(std::string_view name, std::string_view unit, double low, double high, std::string_view meaning) {
  return {name, unit, low, high, meaning};
}
inline InputRow assumed(std::string_view name, std::string_view unit, double low, double high, double value,
                        std::string_view meaning) {
  return {name, unit, low, high, meaning, value};
}
inline InputRow optional_input(std::string_view name, std::string_view unit, double low, double high,
                               std::string_view meaning) {
  return {name, unit, low, high, meaning, {}, true};
}
inline InputRow words(std::string_view name, std::string_view meaning) {
  return {name, "", 0.0, 0.0, meaning};
}
inline InputRow optional_words(std::string_view name, std::string_view meaning) {
  return {name, "", 0.0, 0.0, meaning, {}, true};
}

}  // namespace leat::science
