#include "record/photo.h"

#include <fmt/core.h>
#include <gtest/gtest.h>

#include "record/backup.h"
#include "record/scratch.h"
#include "record/sha256.h"

namespace leat::record {
namespace {

using namespace std::string_literals;
using tests::fed;
using tests::opened;
using tests::Scratch;

std::string segment(char marker, const std::string& body) {
  const std::size_t n = body.size() + 2;
  return "\xFF"s + marker + static_cast<char>(n >> 8) + static_cast<char>(n & 0xFF) + body;
}

/// Exif of a phone: turned by a quarter, with a table that holds the place as words that a test can look for.
std::string exif(char turned) {
  return "Exif\0\0"s + "II*\0\x08\0\0\0"s + "\x02\0"s + "\x12\x01\x03\0\x01\0\0\0"s + turned + "\0\0\0"s +
         "\x25\x88\x04\0\x01\0\0\0\x26\0\0\0"s + "\0\0\0\0"s + "GPS 51.4779 N 0.0015 W";
}

std::string jpeg(char turned = 6) {
  return "\xFF\xD8"s + segment('\xE0', "JFIF\0\x01\x01\0\0\x01\0\x01\0\0"s) + segment('\xE1', exif(turned)) +
         segment('\xE1', "http://ns.adobe.com/xap/1.0/\0<GPSLatitude>51,28.67N"s) + segment('\xED', "Photoshop GPS") +
         segment('\xFE', "a comment with GPS") + segment('\xE2', "ICC_PROFILE\0\x01\x01profile"s) +
         segment('\xE2', "MPF\0 GPS of another picture"s) + segment('\xDB', "\0tables"s) + segment('\xC2', "frame") +
         segment('\xDA', "scan 1") + "coded\xFF\0data\xFF\xD3more"s + segment('\xC4', "codes") +
         segment('\xDA', "scan 2") + "coded" + "\xFF\xD9" + "GPS behind the end";
}

std::string chunk(const std::string& kind, const std::string& body) {
  const std::size_t n = body.size();
  return std::string{static_cast<char>(n >> 24), static_cast<char>(n >> 16 & 0xFF), static_cast<char>(n >> 8 & 0xFF),
                     static_cast<char>(n & 0xFF)} +
         kind + body + "crc!";
}

std::string png() {
  return "\x89PNG\r\n\x1A\n"s + chunk("IHDR", "head") + chunk("eXIf", "GPS") + chunk("tEXt", "GPS") +
         chunk("iTXt", "GPS") + chunk("IDAT", "data") + chunk("IEND", "") + "GPS";
}

std::string riff(const std::string& kind, const std::string& body) {
  const std::size_t n = body.size();
  return kind + static_cast<char>(n) + static_cast<char>(n >> 8) + "\0\0"s + body + (n % 2 ? "\0"s : "");
}

std::string webp() {
  const std::string inside = "WEBP" + riff("VP8X", "\x2C\0\0\0\0\0\0\0\0\0"s) + riff("VP8 ", "coded") +
                             riff("EXIF", "GPS") + riff("XMP ", "<GPS>");
  return "RIFF"s + static_cast<char>(inside.size()) + "\0\0\0"s + inside;
}

Photo stripped(const std::string& bytes) {
  auto made = strip_photo(bytes, "a.jpg");
  EXPECT_TRUE(std::holds_alternative<Photo>(made)) << std::get<Trouble>(made).said;
  return std::get<Photo>(std::move(made));
}

std::string refused(const std::string& bytes) {
  const auto made = strip_photo(bytes, "a.jpg");
  return std::holds_alternative<Trouble>(made) ? std::get<Trouble>(made).said : "";
}

TEST(Photo, KeepsThePictureAndNothingOfThePlace) {
  for (const std::string& bytes : {jpeg(), png(), webp()}) {
    ASSERT_NE(bytes.find("GPS"), std::string::npos);
    const Photo photo = stripped(bytes);
    EXPECT_EQ(photo.bytes.find("GPS"), std::string::npos);
    EXPECT_EQ(photo.name.substr(0, 64), sha256(photo.bytes));
    EXPECT_EQ(stripped(photo.bytes).bytes, photo.bytes) << "twice is the same as once";
  }
  const Photo photo = stripped(jpeg());
  for (const char* part : {"JFIF", "ICC_PROFILE", "tables", "frame", "scan 1", "data\xFF\xD3more", "codes", "scan 2"})
    EXPECT_NE(photo.bytes.find(part), std::string::npos) << part;
  EXPECT_TRUE(photo.bytes.ends_with("coded\xFF\xD9"));
  EXPECT_EQ(photo.name.substr(64), ".jpg");
  EXPECT_EQ(stripped(png()).name.substr(64), ".png");
  const Photo moving = stripped(webp());
  EXPECT_EQ(static_cast<std::size_t>(static_cast<unsigned char>(moving.bytes[4])), moving.bytes.size() - 8);
  EXPECT_EQ(moving.bytes[20], '\x20') << "it no longer says that Exif and XMP are in it";
}

TEST(Photo, KeepsHowItIsTurned) {
  const std::string turned = stripped(jpeg(6)).bytes, upright = stripped(jpeg(1)).bytes;
  // Tag 274 as one short of value 6 (TIFF 6.0), and no other tag.
  EXPECT_NE(turned.find("Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\x06\0\0\0\0\0\0"s), std::string::npos);
  EXPECT_EQ(upright.find("Exif"), std::string::npos);
}

TEST(Photo, LooksAtTheBytesAndNotAtTheName) {
  EXPECT_NE(refused("<svg onload=...>").find("is no JPEG, PNG, WebP or HEIC picture by its bytes"), std::string::npos);
  EXPECT_NE(refused("").find("by its bytes"), std::string::npos);
  EXPECT_NE(refused("MZ\x90").find("by its bytes"), std::string::npos);
  EXPECT_NE(refused("\xFF\xD8\xFF"s + std::string(kLargestPhoto, 'x')).find("may have 20 MB"), std::string::npos);
  for (const std::string& whole :
       {jpeg().substr(0, jpeg().find("GPS behind")), png().substr(0, png().size() - 3), webp()})
    for (std::size_t n = 12; n + 1 < whole.size(); ++n) {
      const auto made = strip_photo(whole.substr(0, n), "a.jpg");
      if (const auto* photo = std::get_if<Photo>(&made)) {
        EXPECT_EQ(photo->bytes.find("GPS"), std::string::npos) << n;
      }
    }
  EXPECT_NE(refused(jpeg().substr(0, 300)).find("cut off or damaged"), std::string::npos);
}

struct Album {
  Scratch scratch;
  std::string path = scratch.file("loop.record.db"), folder = photo_folder(path);
  Photo photo = stripped(jpeg());

  Album() {
    EXPECT_FALSE(keep_photo(photo, folder));
    Store store = opened(path);
    std::vector<Entry> some = {fed(1.0), photo_entry(photo, "/home/me/IMG_1.jpg", "tank.nursery", 1, 1, 1)};
    EXPECT_FALSE(store.append(some));
  }
  std::string kept() const { return folder + "/" + photo.name; }
  std::vector<std::string> faults() {
    const Store store = opened(path);
    return std::get<std::vector<std::string>>(photo_faults(store, folder));
  }
};

TEST(Photo, OneThatIsGoneOrChangedIsSeen) {
  Album album;
  EXPECT_TRUE(album.faults().empty());
  std::ofstream(album.kept(), std::ios::app) << "x";
  ASSERT_EQ(album.faults().size(), 1u);
  EXPECT_NE(album.faults()[0].find("is not as it was put in"), std::string::npos);
  std::filesystem::remove(album.kept());
  EXPECT_NE(album.faults().at(0).find("is not there"), std::string::npos);
  EXPECT_FALSE(keep_photo(album.photo, album.folder));
  EXPECT_TRUE(album.faults().empty());
}

TEST(Photo, BackupAndRestoreTakeThemAlong) {
  Album album;
  const auto made = make_backup(album.path, album.scratch.file("backups"), "2026-11-25T074100", 3);
  ASSERT_TRUE(std::holds_alternative<Backup>(made)) << std::get<Trouble>(made).said;
  const std::string copy = album.scratch.file("backups/loop.record.photos/") + album.photo.name;
  EXPECT_TRUE(std::filesystem::exists(copy));
  std::filesystem::remove_all(album.folder);
  const auto refused = make_backup(album.path, album.scratch.file("backups"), "2026-11-26T074100", 3);
  ASSERT_TRUE(std::holds_alternative<Backup>(refused)) << "the backup's folder has it still";
  std::filesystem::remove(copy);
  EXPECT_TRUE(
      std::holds_alternative<Trouble>(make_backup(album.path, album.scratch.file("backups"), "2026-11-27T074100", 3)));
  EXPECT_FALSE(keep_photo(album.photo, album.scratch.file("backups/loop.record.photos")));
  const auto back = restore(album.path, std::get<Backup>(made).path, "2026-11-28T074100");
  ASSERT_TRUE(std::holds_alternative<Restored>(back)) << std::get<Trouble>(back).said;
  EXPECT_TRUE(album.faults().empty());
}

TEST(Photo, AnEntryCannotLeadOutOfTheFolder) {
  Entry e = fed(1.0);
  e.what = "photo";
  e.subject = std::string(60, '.') + "/../../../etc/passwd";
  EXPECT_TRUE(photos_in({e}).empty());
}

}  // namespace
}  // namespace leat::record
