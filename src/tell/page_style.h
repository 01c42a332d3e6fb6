// The head of a page for paper: everything in it, nothing from elsewhere.
#pragma once

#include <string>

namespace leat::tell {

/// Up to the start of the body. Black on white, large enough to read in the sun, one sheet of A4 or Letter.
std::string page_head(const std::string& title);

}  // namespace leat::tell
