// Photos beside the record: kept under the hash of what they hold, without the place where they were taken. The entry
// names the hash, so the chain covers it.
#pragma once

#include "record/store.h"

namespace leat::record {

inline constexpr std::size_t kLargestPhoto = 20'000'000;

/// "loop.record.db" has "loop.record.photos".
std::string photo_folder(const std::string& record);

/// A picture without anything but the picture: place, time, maker, words and all that hangs behind its end are left
/// out; how it is turned is kept.
struct Photo {
  std::string bytes;
  std::string name;  ///< SHA-256 and ending: "3f0c....jpg"
};
/// Reads JPEG, PNG, WebP or HEIC by what the bytes say, whatever the file's name. HEIC is made JPEG.
std::variant<Photo, Trouble> strip_photo(std::string_view bytes, const std::string& file);
std::variant<Photo, Trouble> read_photo(const std::string& path);

/// Puts it into the folder; when this returns it is on the disk. One that is there already is left.
std::optional<Trouble> keep_photo(const Photo& photo, const std::string& folder);
/// What the record says of a photo.
Entry photo_entry(const Photo& photo, const std::string& file, const std::string& where, Moment from, Moment to,
                  Moment now);

/// Names of all photos in the entries.
std::vector<std::string> photos_in(const std::vector<Entry>& entries);
/// Photos of the record that are not there or not as they were put in.
std::variant<std::vector<std::string>, Trouble> photo_faults(const Store& store, const std::string& folder);
/// Copies the photos of a record from one folder into another; those that are there already are left.
std::optional<Trouble> copy_photos(const Store& store, const std::string& from, const std::string& to);

}  // namespace leat::record
