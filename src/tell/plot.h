// A small line plot for the terminal, in braille dots.
#pragma once

#include <string>
#include <vector>

namespace leat::tell {

/// Equally spaced values as a plot of columns x rows characters, its scale at the left. Values that are not finite
/// leave a gap. A series of one value is drawn in the middle.
std::string braille_plot(const std::vector<double>& values, std::size_t columns, std::size_t rows);

}  // namespace leat::tell
