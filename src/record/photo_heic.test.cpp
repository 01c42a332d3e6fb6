#include "record/photo_heic.h"

#include <gtest/gtest.h>
#include <libheif/heif.h>

#include <cmath>
#include <cstdio>

#include <jpeglib.h>  // wants <cstdio> before it

#include "record/photo.h"

namespace leat::record {
namespace {

constexpr int kWide = 128, kHigh = 64;

/// A picture, red on its left half and blue on its right, with a place in its Exif; empty where nothing can write one.
std::string heic() {
  heif_context* context = heif_context_alloc();
  heif_encoder* encoder = nullptr;
  std::string bytes;
  if (heif_context_get_encoder_for_format(context, heif_compression_HEVC, &encoder).code == heif_error_Ok) {
    heif_image* image = nullptr;
    heif_image_create(kWide, kHigh, heif_colorspace_RGB, heif_chroma_interleaved_RGB, &image);
    heif_image_add_plane(image, heif_channel_interleaved, kWide, kHigh, 24);
    int stride = 0;
    unsigned char* plane = heif_image_get_plane(image, heif_channel_interleaved, &stride);
    for (int y = 0; y < kHigh; ++y)
      for (int x = 0; x < kWide; ++x) {
        unsigned char* point = plane + y * stride + 3 * x;
        point[0] = x < kWide / 2 ? 220 : 20;
        point[1] = 20;
        point[2] = x < kWide / 2 ? 20 : 220;
      }
    heif_image_handle* handle = nullptr;
    heif_context_encode_image(context, image, encoder, nullptr, &handle);
    const std::string exif = "MM GPSLatitude 47.6 N";
    heif_context_add_exif_metadata(context, handle, exif.data(), static_cast<int>(exif.size()));
    heif_writer writer{1, [](heif_context*, const void* data, std::size_t size, void* to) {
                         static_cast<std::string*>(to)->append(static_cast<const char*>(data), size);
                         return heif_error{heif_error_Ok, heif_suberror_Unspecified, ""};
                       }};
    heif_context_write(context, &writer, &bytes);
    heif_image_handle_release(handle);
    heif_image_release(image);
    heif_encoder_release(encoder);
  }
  heif_context_free(context);
  return bytes;
}

/// The three colours of one point of a JPEG.
std::array<int, 3> colour_at(const std::string& jpeg_bytes, unsigned x, unsigned y) {
  jpeg_decompress_struct jpeg{};
  jpeg_error_mgr errors{};
  jpeg.err = jpeg_std_error(&errors);
  jpeg_create_decompress(&jpeg);
  jpeg_mem_src(&jpeg, reinterpret_cast<const unsigned char*>(jpeg_bytes.data()), jpeg_bytes.size());
  jpeg_read_header(&jpeg, TRUE);
  jpeg_start_decompress(&jpeg);
  EXPECT_EQ(jpeg.output_width, static_cast<unsigned>(kWide));
  EXPECT_EQ(jpeg.output_height, static_cast<unsigned>(kHigh));
  std::string row(3u * kWide, ' ');
  auto* to = reinterpret_cast<unsigned char*>(row.data());
  for (unsigned line = 0; line <= y; ++line) jpeg_read_scanlines(&jpeg, &to, 1);
  jpeg_abort_decompress(&jpeg);
  jpeg_destroy_decompress(&jpeg);
  return {to[3 * x], to[3 * x + 1], to[3 * x + 2]};
}

TEST(PhotoHeic, IsKeptAsJpegWithoutThePlace) {
  const std::string bytes = heic();
  if (bytes.empty()) GTEST_SKIP() << "nothing on this computer writes HEIC";
  ASSERT_TRUE(is_heic(bytes));
  ASSERT_NE(bytes.find("GPSLatitude"), std::string::npos);
  const auto read = strip_photo(bytes, "IMG_0001.HEIC");
  ASSERT_TRUE(std::holds_alternative<Photo>(read)) << std::get<Trouble>(read).said;
  const Photo& photo = std::get<Photo>(read);
  EXPECT_TRUE(photo.name.ends_with(".jpg"));
  EXPECT_EQ(photo.bytes.find("GPSLatitude"), std::string::npos);
  EXPECT_EQ(photo.bytes.find("Exif"), std::string::npos);
  const auto left = colour_at(photo.bytes, 30, 30), right = colour_at(photo.bytes, 100, 30);
  EXPECT_NEAR(left[0], 220, 12);
  EXPECT_NEAR(left[2], 20, 12);
  EXPECT_NEAR(right[0], 20, 12);
  EXPECT_NEAR(right[2], 220, 12);
}

TEST(PhotoHeic, OneThatIsCutOffSaysWhatToDoOnThePhone) {
  std::string bytes = heic();
  if (bytes.empty()) GTEST_SKIP() << "nothing on this computer writes HEIC";
  for (const std::size_t size : {std::size_t{12}, std::size_t{40}, bytes.size() / 2, bytes.size() - 20}) {
    const auto read = strip_photo(bytes.substr(0, size), "IMG_0001.HEIC");
    ASSERT_TRUE(std::holds_alternative<Trouble>(read)) << size;
    EXPECT_NE(std::get<Trouble>(read).said.find("share it from the phone as JPEG"), std::string::npos)
        << std::get<Trouble>(read).said;
  }
}

}  // namespace
}  // namespace leat::record
