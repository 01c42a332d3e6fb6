// The kept schema is the one the table gives, and what it calls known is what the decoder knows.
#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>
#include <nlohmann/json.hpp>

#include "base/words/keys.h"
#include "tell/tell.h"
#include "tests/loop_file.h"

namespace leat {
namespace {

TEST(Schema, IsTheOneTheTableGives) {
  const std::string path = std::string(LEAT_ROOT) + "/docs/reference/loop.schema.json";
  if (std::getenv("LEAT_WRITE")) std::ofstream(path, std::ios::binary) << tell::loop_schema();
  EXPECT_EQ(tests::slurp(path), tell::loop_schema());
}

TEST(Schema, KnowsEveryTableAndKey) {
  const auto schema = nlohmann::json::parse(tell::loop_schema());
  for (const words::Kind& kind : words::kinds()) {
    const auto& table = schema["properties"][std::string(kind.name)];
    const auto& keys = kind.single ? table["properties"] : table["additionalProperties"]["properties"];
    EXPECT_EQ(keys.size(), kind.keys.size()) << kind.name;
    for (const words::Key& key : kind.keys)
      EXPECT_TRUE(keys.contains(std::string(key.name))) << kind.name << "." << key.name;
  }
}

}  // namespace
}  // namespace leat
