// Text on a sheet: how wide it may be, where it breaks, how it is written down.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace leat::tell::drawing {

/// Sizes of letters, in units of the sheet.
inline constexpr double kPlain = 13.0, kTitle = 18.0;
/// A wider sheet would have letters less than 11 px high on a page of 1000 px.
inline constexpr double kWidest = kPlain * 1000.0 / 11.0;

/// The width of a text, rather too much than too little: by the advance widths of DejaVu Sans, the widest of the usual
/// sans-serif fonts (read from the font itself).
double text_width(std::string_view text, double size, bool bold = false);

/// Lines that each fit a width; a word that does not fit is broken.
std::vector<std::string> broken(std::string_view text, double width, double size, bool bold = false);

/// Cut to a width, with an ellipsis where something was cut.
std::string cut(std::string_view text, double width, double size, bool bold = false);

/// Safe inside XML: its marks escaped, control characters and broken UTF-8 replaced.
std::string escaped(std::string_view text);

/// "12.5": one decimal at most, never "-0".
std::string number(double x);

/// "tank.nursery" without its kind; the kind in words.
std::string name_of(std::string_view path);
std::string kind_of(std::string_view path);

}  // namespace leat::tell::drawing
