#include "doors/page/qr.h"

#include <qrcodegen/qrcodegen.hpp>

namespace leat::doors {

std::string qr_text(const std::string& text) {
  constexpr int kQuiet = 2;
  try {
    const auto code = qrcodegen::QrCode::encodeText(text.c_str(), qrcodegen::QrCode::Ecc::LOW);
    const int n = code.getSize();
    const auto dark = [&](int x, int y) { return x >= 0 && y >= 0 && x < n && y < n && code.getModule(x, y); };
    std::string out;
    for (int y = -kQuiet; y < n + kQuiet; y += 2) {
      out += "\x1b[30;107m";  // black on bright white
      for (int x = -kQuiet; x < n + kQuiet; ++x) {
        const bool top = dark(x, y), below = dark(x, y + 1);
        out += top && below ? "█" : top ? "▀" : below ? "▄" : " ";
      }
      out += "\x1b[0m\n";
    }
    return out;
  } catch (const std::exception&) {
    return "";
  }
}

}  // namespace leat::doors
