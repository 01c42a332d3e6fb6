// A text as a QR code for a terminal.
#pragma once

#include <string>

namespace leat::doors {

/// Two rows of modules a line, in half blocks, black on white whatever the terminal's own colours; "" if it is too
/// long.
std::string qr_text(const std::string& text);

}  // namespace leat::doors
