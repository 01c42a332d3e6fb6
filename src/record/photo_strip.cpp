// What a picture file holds beside its picture, left out: JPEG by segments, PNG and WebP by chunks.
#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <optional>

#include "record/photo.h"
#include "record/photo_heic.h"
#include "record/sha256.h"

namespace leat::record {
namespace {

using std::string_view_literals::operator""sv;

unsigned byte_at(std::string_view s, std::size_t at) {
  return static_cast<unsigned char>(s[at]);
}

std::size_t big16(std::string_view s, std::size_t at) {
  return byte_at(s, at) << 8 | byte_at(s, at + 1);
}
std::size_t big32(std::string_view s, std::size_t at) {
  return big16(s, at) << 16 | big16(s, at + 2);
}
std::size_t little32(std::string_view s, std::size_t at) {
  return byte_at(s, at) | byte_at(s, at + 1) << 8 | byte_at(s, at + 2) << 16 |
         static_cast<std::size_t>(byte_at(s, at + 3)) << 24;
}

/// How the picture is turned, 1 to 8, from the first table of its Exif (TIFF 6.0, tag 274); 1 if it does not say.
unsigned turned(std::string_view exif) {
  if (exif.size() < 14 || !exif.starts_with("Exif\0\0"sv)) return 1;
  const std::string_view tiff = exif.substr(6);
  const bool little = tiff.starts_with("II");
  const auto two = [&](std::size_t at) {
    return little ? byte_at(tiff, at) | byte_at(tiff, at + 1) << 8 : static_cast<unsigned>(big16(tiff, at));
  };
  const std::size_t table = little ? little32(tiff, 4) : big32(tiff, 4);
  if (table > tiff.size() || tiff.size() - table < 2) return 1;
  const std::size_t rows = two(table);
  for (std::size_t i = 0; i < rows && table + 2 + 12 * (i + 1) <= tiff.size(); ++i) {
    const std::size_t row = table + 2 + 12 * i;
    if (two(row) == 274 && two(row + 8) >= 1 && two(row + 8) <= 8) return two(row + 8);
  }
  return 1;
}

/// An Exif segment that says how the picture is turned and nothing else.
std::string only_turned(unsigned how) {
  std::string s;
  s.append("\xFF\xE1\x00\x22", 4).append("Exif\0\0", 6).append("MM\0*\0\0\0\x08", 8).append("\0\x01", 2);
  s.append("\x01\x12\0\x03\0\0\0\x01\0", 9).append(1, static_cast<char>(how)).append("\0\0", 2).append("\0\0\0\0", 4);
  return s;
}

/// Segments that belong to the picture: tables, frames, the colour profile, how its colours are coded.
bool is_picture(unsigned marker, std::string_view body) {
  if (marker == 0xE0) return body.starts_with("JFIF\0"sv);
  if (marker == 0xE2) return body.starts_with("ICC_PROFILE\0"sv);
  if (marker == 0xEE) return body.starts_with("Adobe");
  return !(marker >= 0xE0 && marker <= 0xEF) && marker != 0xFE;
}

/// The end of coded picture data: the next marker that is no restart and no stuffed byte.
std::size_t end_of_scan(std::string_view s, std::size_t at) {
  for (; at + 1 < s.size(); ++at) {
    if (byte_at(s, at) != 0xFF) continue;
    const unsigned next = byte_at(s, at + 1);
    if (next != 0 && next != 0xFF && !(next >= 0xD0 && next <= 0xD7)) return at;
  }
  return s.size();
}

std::optional<std::string> jpeg(std::string_view s) {
  std::string out(s.substr(0, 2));
  bool scanned = false;
  for (std::size_t at = 2; at + 4 <= s.size() || (at + 2 <= s.size() && byte_at(s, at + 1) == 0xD9);) {
    if (byte_at(s, at) != 0xFF) return std::nullopt;
    const unsigned marker = byte_at(s, at + 1);
    if (marker == 0xFF) {
      ++at;  // filling
      continue;
    }
    if (marker == 0xD9) return scanned ? std::optional(out + "\xFF\xD9") : std::nullopt;
    const std::size_t length = big16(s, at + 2);
    if (length < 2 || at + 2 + length > s.size()) return std::nullopt;
    const std::string_view body = s.substr(at + 4, length - 2);
    if (marker == 0xE1 && turned(body) != 1) out += only_turned(turned(body));
    if (is_picture(marker, body)) out += s.substr(at, 2 + length);
    at += 2 + length;
    if (marker != 0xDA) continue;
    const std::size_t end = end_of_scan(s, at);
    out += s.substr(at, end - at);
    at = end;
    scanned = true;
  }
  return std::nullopt;  // no end
}

std::optional<std::string> png(std::string_view s) {
  constexpr std::array kept = {"IHDR", "PLTE", "IDAT", "IEND", "tRNS", "gAMA", "cHRM", "sRGB",
                               "iCCP", "sBIT", "pHYs", "bKGD", "acTL", "fcTL", "fdAT", "cICP"};
  std::string out(s.substr(0, 8));
  for (std::size_t at = 8; at + 12 <= s.size();) {
    const std::size_t length = big32(s, at);
    if (length > s.size() - at - 12) return std::nullopt;
    const std::string_view kind = s.substr(at + 4, 4);
    if (std::find(kept.begin(), kept.end(), kind) != kept.end()) out += s.substr(at, length + 12);
    if (kind == "IEND") return out;
    at += length + 12;
  }
  return std::nullopt;
}

std::optional<std::string> webp(std::string_view s) {
  constexpr std::array kept = {"VP8 ", "VP8L", "VP8X", "ALPH", "ANIM", "ANMF", "ICCP"};
  const std::size_t end = std::min(s.size(), little32(s, 4) + 8);
  std::string out(s.substr(0, 12));
  bool picture = false;
  for (std::size_t at = 12; at + 8 <= end;) {
    const std::size_t length = little32(s, at + 4), whole = 8 + length + length % 2;
    if (length > end - at - 8) return std::nullopt;
    const std::string_view kind = s.substr(at, 4);
    if (std::find(kept.begin(), kept.end(), kind) != kept.end()) {
      const std::size_t start = out.size();
      out += s.substr(at, std::min(whole, end - at));
      if (length % 2 && whole > end - at) out += '\0';
      // It no longer has Exif (8) nor XMP (4).
      if (kind == "VP8X" && length > 0) out[start + 8] = static_cast<char>(byte_at(out, start + 8) & ~0x0Cu);
      picture = picture || kind == "VP8 " || kind == "VP8L" || kind == "ANMF";
    }
    at += whole;
  }
  if (!picture) return std::nullopt;
  const std::size_t size = out.size() - 8;
  for (std::size_t i = 0; i < 4; ++i) out[4 + i] = static_cast<char>(size >> (8 * i) & 0xFF);
  return out;
}

}  // namespace

std::variant<Photo, Trouble> strip_photo(std::string_view bytes, const std::string& file) {
  if (bytes.size() > kLargestPhoto)
    return Trouble{fmt::format("{} has {:.0f} MB; a photo may have 20 MB: take it smaller, or send a smaller copy",
                               file, 1e-6 * static_cast<double>(bytes.size()))};
  if (is_heic(bytes)) {
    const auto as_jpeg = jpeg_of_heic(bytes);
    if (!as_jpeg)
      return Trouble{fmt::format(
          "{} is a HEIC picture that cannot be read; share it from the phone as JPEG, or let the camera make JPEG (on "
          "an iPhone: Settings, Camera, Formats, Most Compatible)",
          file)};
    return strip_photo(*as_jpeg, file);
  }
  const bool is_jpeg = bytes.starts_with("\xFF\xD8\xFF"), is_png = bytes.starts_with("\x89PNG\r\n\x1A\n");
  const bool is_webp = bytes.size() >= 12 && bytes.starts_with("RIFF") && bytes.substr(8, 4) == "WEBP";
  if (!is_jpeg && !is_png && !is_webp)
    return Trouble{fmt::format("{} is no JPEG, PNG, WebP or HEIC picture by its bytes; save it as JPEG", file)};
  auto stripped = is_jpeg ? jpeg(bytes) : is_png ? png(bytes) : webp(bytes);
  if (!stripped)
    return Trouble{
        fmt::format("{} starts like a picture but is cut off or damaged; take it from the camera again", file)};
  Photo photo{std::move(*stripped), ""};
  photo.name = sha256(photo.bytes) + (is_jpeg ? ".jpg" : is_png ? ".png" : ".webp");
  return photo;
}

}  // namespace leat::record
