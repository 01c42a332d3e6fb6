// What the signs mean, of those that were used.
#pragma once

#include "tell/drawing/parts.h"

namespace leat::tell::drawing {

/// Draws it in columns below `top` and returns where it ends.
double draw_legend(Svg& svg, const Signs& signs, double top, double width);

}  // namespace leat::tell::drawing
