#include "record/photo_heic.h"

#include <libheif/heif.h>

#include <algorithm>
#include <array>
#include <csetjmp>
#include <cstdio>
#include <cstdlib>
#include <memory>

#include <jpeglib.h>  // wants <cstdio> before it

namespace leat::record {
namespace {

constexpr long kMostPoints = 60'000'000;
constexpr int kQuality = 90;  // of 100: no loss that is seen

template <auto Free>
struct Freed {
  template <class T>
  void operator()(T* of) const {
    Free(of);
  }
};
using Context = std::unique_ptr<heif_context, Freed<&heif_context_free>>;
using Handle = std::unique_ptr<const heif_image_handle, Freed<&heif_image_handle_release>>;
using Image = std::unique_ptr<const heif_image, Freed<&heif_image_release>>;

Image image_of(std::string_view bytes) {
  const Context context(heif_context_alloc());
  if (heif_context_read_from_memory_without_copy(context.get(), bytes.data(), bytes.size(), nullptr).code !=
      heif_error_Ok)
    return nullptr;
  heif_image_handle* first = nullptr;
  if (heif_context_get_primary_image_handle(context.get(), &first).code != heif_error_Ok) return nullptr;
  const Handle handle(first);
  const long wide = heif_image_handle_get_width(first), high = heif_image_handle_get_height(first);
  if (wide < 1 || high < 1 || wide > kMostPoints / high) return nullptr;
  heif_image* image = nullptr;
  if (heif_decode_image(first, &image, heif_colorspace_RGB, heif_chroma_interleaved_RGB, nullptr).code != heif_error_Ok)
    return nullptr;
  return Image(image);
}

struct Rows {
  const unsigned char* first;
  int stride;
  unsigned wide, high;
};

/// libjpeg ends the program where it cannot go on, unless it is led out.
struct Way {
  jpeg_error_mgr errors;
  std::jmp_buf out;
};
[[noreturn]] void lead_out(j_common_ptr jpeg) {
  std::longjmp(reinterpret_cast<Way*>(jpeg->err)->out, 1);
}

/// Bytes of its own making, which must be freed; nothing held here needs a destructor when it is led out.
bool compress(const Rows& rows, unsigned char*& bytes, unsigned long& size) {
  jpeg_compress_struct jpeg{};
  Way way{};
  jpeg.err = jpeg_std_error(&way.errors);
  way.errors.error_exit = lead_out;
  if (setjmp(way.out) != 0) {
    jpeg_destroy_compress(&jpeg);
    return false;
  }
  jpeg_create_compress(&jpeg);
  jpeg_mem_dest(&jpeg, &bytes, &size);
  jpeg.image_width = rows.wide;
  jpeg.image_height = rows.high;
  jpeg.input_components = 3;
  jpeg.in_color_space = JCS_RGB;
  jpeg_set_defaults(&jpeg);
  jpeg_set_quality(&jpeg, kQuality, TRUE);
  jpeg_start_compress(&jpeg, TRUE);
  while (jpeg.next_scanline < rows.high) {
    auto* row = const_cast<JSAMPLE*>(rows.first + static_cast<std::size_t>(jpeg.next_scanline) *
                                                      static_cast<std::size_t>(rows.stride));
    jpeg_write_scanlines(&jpeg, &row, 1);
  }
  jpeg_finish_compress(&jpeg);
  jpeg_destroy_compress(&jpeg);
  return true;
}

}  // namespace

bool is_heic(std::string_view bytes) {
  constexpr std::array<std::string_view, 7> kBrands = {"heic", "heix", "heim", "heis", "hevc", "mif1", "avif"};
  return bytes.size() >= 12 && bytes.substr(4, 4) == "ftyp" &&
         std::find(kBrands.begin(), kBrands.end(), bytes.substr(8, 4)) != kBrands.end();
}

std::optional<std::string> jpeg_of_heic(std::string_view bytes) {
  const Image image = image_of(bytes);
  if (!image) return std::nullopt;
  Rows rows{};
  rows.first = heif_image_get_plane_readonly(image.get(), heif_channel_interleaved, &rows.stride);
  rows.wide = static_cast<unsigned>(std::max(0, heif_image_get_width(image.get(), heif_channel_interleaved)));
  rows.high = static_cast<unsigned>(std::max(0, heif_image_get_height(image.get(), heif_channel_interleaved)));
  if (!rows.first || rows.wide == 0 || rows.high == 0) return std::nullopt;
  unsigned char* made = nullptr;
  unsigned long size = 0;
  const bool good = compress(rows, made, size);
  const std::unique_ptr<unsigned char, Freed<&std::free>> freed(made);
  if (!good) return std::nullopt;
  return std::string(reinterpret_cast<const char*>(made), size);
}

}  // namespace leat::record
