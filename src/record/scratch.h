// For tests of the record: a folder that goes away again, and entries to put in.
#pragma once

#include <gtest/gtest.h>
#include <stdlib.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "record/store.h"

namespace leat::record::tests {

class Scratch {
  std::filesystem::path folder_;

 public:
  Scratch() {
    std::string name = (std::filesystem::temp_directory_path() / "leat-XXXXXX").string();
    folder_ = ::mkdtemp(name.data());
  }
  Scratch(const Scratch&) = delete;
  ~Scratch() {
    std::error_code none;
    std::filesystem::permissions(folder_, std::filesystem::perms::owner_all, none);
    std::filesystem::remove_all(folder_, none);
  }
  std::string folder() const { return folder_.string(); }
  std::string file(const std::string& name) const { return (folder_ / name).string(); }
  void write(const std::string& name, const std::string& text) const {
    std::ofstream(file(name), std::ios::binary) << text;
  }
  std::string read(const std::string& name) const {
    std::ifstream in(file(name), std::ios::binary);
    std::ostringstream all;
    all << in.rdbuf();
    return all.str();
  }
};

inline Entry fed(double grams) {
  Entry e;
  e.noted = e.from = e.to = 1'764'056'460'000;
  e.kind = Kind::deed;
  e.what = "fed";
  e.where = "tank.nursery";
  e.amount = {grams, grams, "g", "", false};
  e.said = "fed";
  return e;
}

inline Store opened(const std::string& path) {
  auto store = Store::open(path);
  if (const auto* trouble = std::get_if<Trouble>(&store)) {
    ADD_FAILURE() << trouble->said;
    std::abort();
  }
  return std::move(std::get<Store>(store));
}

}  // namespace leat::record::tests
