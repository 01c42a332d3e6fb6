#include "doors/command/files.h"

#include <fmt/core.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <sstream>

namespace leat::doors {

std::optional<std::string> read_file(const std::string& path, Problems& problems) {
  std::error_code error;
  if (std::filesystem::is_directory(path, error)) {
    problems.add({path, 0, 0, "", "is a folder; name a file in it, such as loop.toml"});
    return std::nullopt;
  }
  std::ifstream in(path, std::ios::binary);
  if (!in) {
    const std::string why = std::strerror(errno);
    problems.add({path, 0, 0, "",
                  path.ends_with(".toml")
                      ? fmt::format("cannot be read ({}); name a file, or write a starter with: leat new", why)
                      : fmt::format("cannot be read ({}); name a file that is there", why)});
    return std::nullopt;
  }
  std::ostringstream all;
  all << in.rdbuf();
  if (all.str().size() > 64u << 20) {
    problems.add({path, 0, 0, "", "is larger than 64 MB, which no loop or weather file is"});
    return std::nullopt;
  }
  return all.str();
}

std::optional<model::Loop> read_loop(const std::string& path, Problems& problems) {
  const auto text = read_file(path, problems);
  if (!text) return std::nullopt;
  const model::Description description = model::read_description(*text, path, problems);
  model::Loop loop = model::make_loop(description, problems);
  if (!problems.empty()) return std::nullopt;
  return loop;
}

bool write_new_file(const std::string& path, const std::string& text, std::string& why_not) {
  std::FILE* file = std::fopen(path.c_str(), "wx");
  if (!file) {
    why_not = errno == EEXIST ? fmt::format("{} is there already; it was left as it is. Name another file", path)
                              : fmt::format("{} cannot be written ({})", path, std::strerror(errno));
    return false;
  }
  const bool written = std::fwrite(text.data(), 1, text.size(), file) == text.size();
  const bool closed = std::fclose(file) == 0;
  if (written && closed) return true;
  why_not = fmt::format("{} could not be written in full ({}) and was removed", path, std::strerror(errno));
  std::remove(path.c_str());
  return false;
}

bool write_drawing(const std::string& path, const std::string& svg, std::string& why_not) {
  std::error_code error;
  if (std::filesystem::is_directory(path, error)) {
    why_not = fmt::format("{} is a folder; name a file in it, such as loop.svg", path);
    return false;
  }
  if (std::ifstream old(path, std::ios::binary); old) {
    std::string start(4, ' ');
    old.read(start.data(), 4);
    if (old.gcount() > 0 && start != "<svg") {
      why_not = fmt::format("{} is there already and is no drawing; it was left as it is. Name another file", path);
      return false;
    }
  }
  // Written beside it and put in its place when it is whole: an old drawing is never lost to half a new one.
  const std::string part = path + ".part";
  std::FILE* file = std::fopen(part.c_str(), "wb");
  if (!file) {
    why_not = fmt::format("{} cannot be written ({}); name a file in a folder that is there, such as loop.svg", path,
                          std::strerror(errno));
    return false;
  }
  const bool written = std::fwrite(svg.data(), 1, svg.size(), file) == svg.size();
  const bool closed = std::fclose(file) == 0;
  if (written && closed && std::rename(part.c_str(), path.c_str()) == 0) return true;
  why_not =
      fmt::format("{} could not be written in full ({}); what was there is as it was", path, std::strerror(errno));
  std::remove(part.c_str());
  return false;
}

}  // namespace leat::doors
