// A page on paper: asks a browser that is on this computer.
#pragma once

#include <string>

namespace leat::doors {

/// Writes the PDF of a page; false with the reason when there is no chromium or it fails.
bool write_pdf(const std::string& page, const std::string& pdf, std::string& why_not);

}  // namespace leat::doors
