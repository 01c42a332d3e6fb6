#include "record/photo.h"

#include <fcntl.h>
#include <fmt/core.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "record/sha256.h"

namespace leat::record {
namespace {

namespace fs = std::filesystem;

std::optional<std::string> bytes_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream all;
  all << in.rdbuf();
  if (!in) return std::nullopt;
  return all.str();
}

std::string in(const std::string& folder, const std::string& name) {
  return (fs::path(folder) / name).string();
}

/// Writes all and waits for the disk; the number of what went wrong, or 0.
int written(const std::string& path, std::string_view bytes) {
  const int file = ::open(path.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0644);
  if (file < 0) return errno;
  int code = 0;
  while (!bytes.empty() && code == 0) {
    const ssize_t n = ::write(file, bytes.data(), bytes.size());
    if (n > 0)
      bytes.remove_prefix(static_cast<std::size_t>(n));
    else if (errno != EINTR)
      code = errno;
  }
  if (code == 0 && ::fsync(file) != 0) code = errno;
  ::close(file);
  return code;
}

void sync_folder(const std::string& folder) {
  const int file = ::open(folder.c_str(), O_RDONLY);
  if (file < 0) return;
  ::fsync(file);
  ::close(file);
}

bool is_whole(const std::string& path, const std::string& name) {
  const auto bytes = bytes_of(path);
  return bytes && name.starts_with(sha256(*bytes));
}

std::variant<std::vector<std::string>, Trouble> names_in(const Store& store) {
  auto found = store.entries({.what = "photo", .superseded = true});
  if (const auto* trouble = std::get_if<Trouble>(&found)) return *trouble;
  return photos_in(std::get<std::vector<Entry>>(found));
}

}  // namespace

std::string photo_folder(const std::string& record) {
  return fs::path(record).replace_extension(".photos").string();
}

std::variant<Photo, Trouble> read_photo(const std::string& path) {
  std::error_code none;
  if (!fs::is_regular_file(path, none)) return Trouble{fmt::format("{} is not there, or is no file", path)};
  const auto size = fs::file_size(path, none);
  if (!none && size > kLargestPhoto) return strip_photo(std::string(kLargestPhoto + 1, '\0'), path);
  const auto bytes = bytes_of(path);
  if (!bytes) return Trouble{fmt::format("{} cannot be read", path)};
  return strip_photo(*bytes, path);
}

std::optional<Trouble> keep_photo(const Photo& photo, const std::string& folder) {
  std::error_code error;
  fs::create_directories(folder, error);
  if (error)
    return Trouble{fmt::format("{}: the folder for photos cannot be made ({}); nothing of this was kept", folder,
                               error.message())};
  const std::string path = in(folder, photo.name), part = path + fmt::format(".part-{}", ::getpid());
  if (is_whole(path, photo.name)) return std::nullopt;
  int code = written(part, photo.bytes);
  if (code == 0 && std::rename(part.c_str(), path.c_str()) != 0) code = errno;
  if (code != 0) {
    fs::remove(part, error);
    return Trouble{fmt::format("{}: the disk refused ({}); nothing of this was kept, all that was noted before is",
                               path, std::strerror(code))};
  }
  sync_folder(folder);
  sync_folder(fs::absolute(folder, error).parent_path().string());
  return std::nullopt;
}

Entry photo_entry(const Photo& photo, const std::string& file, const std::string& where, Moment from, Moment to,
                  Moment now) {
  Entry e;
  e.noted = now;
  e.from = from;
  e.to = to;
  e.kind = Kind::deed;
  e.what = "photo";
  e.where = where;
  e.subject = photo.name;
  e.said = fs::path(file).filename().string();
  return e;
}

std::vector<std::string> photos_in(const std::vector<Entry>& entries) {
  std::vector<std::string> names;
  for (const Entry& e : entries)
    // A name that could lead elsewhere is none of ours.
    if (e.what == "photo" && e.kind == Kind::deed && e.subject.size() > 64 &&
        e.subject.find('/') == std::string::npos && std::find(names.begin(), names.end(), e.subject) == names.end())
      names.push_back(e.subject);
  return names;
}

std::variant<std::vector<std::string>, Trouble> photo_faults(const Store& store, const std::string& folder) {
  auto names = names_in(store);
  if (const auto* trouble = std::get_if<Trouble>(&names)) return *trouble;
  std::vector<std::string> faults;
  std::error_code none;
  for (const std::string& name : std::get<std::vector<std::string>>(names))
    if (faults.size() < 5 && !is_whole(in(folder, name), name))
      faults.push_back(fmt::format("the photo {} {}", in(folder, name),
                                   fs::exists(in(folder, name), none) ? "is not as it was put in" : "is not there"));
  return faults;
}

std::optional<Trouble> copy_photos(const Store& store, const std::string& from, const std::string& to) {
  auto names = names_in(store);
  if (const auto* trouble = std::get_if<Trouble>(&names)) return *trouble;
  for (const std::string& name : std::get<std::vector<std::string>>(names)) {
    if (is_whole(in(to, name), name)) continue;
    const auto bytes = bytes_of(in(from, name));
    if (!bytes || !name.starts_with(sha256(*bytes)))
      return Trouble{fmt::format("the photo {} is not there, or not as it was put in", in(from, name))};
    if (auto trouble = keep_photo({*bytes, name}, to)) return trouble;
  }
  return std::nullopt;
}

}  // namespace leat::record
