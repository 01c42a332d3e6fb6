// The colours and letters of a drawing.
#pragma once

#include <string>

namespace leat::tell::drawing {

/// CSS. Signal colours are those of Okabe and Ito (Color Universal Design, 2002): blue 0072B2, sky blue 56B4E9, bluish
/// green 009E73, orange E69F00, vermillion D55E00; the rest is grey. `prefers-color-scheme` chooses light or dark.
std::string style_sheet();

}  // namespace leat::tell::drawing
