#include "doors/page/devices.h"

#include <gtest/gtest.h>
#include <sys/stat.h>

#include "record/scratch.h"

namespace leat::doors {
namespace {

using record::tests::Scratch;
using Tried = Devices::Tried;

class DevicesTest : public ::testing::Test {
 protected:
  Scratch scratch;
  Devices devices{scratch.file("loop.devices")};
  std::time_t now = 1'800'000'000;
  std::string token;

  Tried tried(const std::string& code, std::time_t after = 2) {
    return devices.pair(code, "phone", now += after, token);
  }
  static std::string other(const std::string& code) { return code == "00000000" ? "00000001" : "00000000"; }
};

TEST_F(DevicesTest, LetsOneDeviceInByACode) {
  const std::string code = devices.new_code(now);
  ASSERT_EQ(code.size(), 8u);
  EXPECT_EQ(tried(code.substr(0, 4) + " " + code.substr(4)), Tried::paired);
  EXPECT_EQ(token.size(), 64u);
  EXPECT_EQ(devices.device_of(token), devices.all().at(0).id);
  EXPECT_EQ(tried(code), Tried::no_code) << "a code serves once";
  EXPECT_EQ(devices.all().size(), 1u);
}

TEST_F(DevicesTest, LetsNobodyInOtherwise) {
  EXPECT_EQ(tried("12345678"), Tried::no_code);
  const std::string code = devices.new_code(now);
  for (const std::string& wrong : {other(code), std::string(), code.substr(1), code + "0", std::string(100'000, '1')})
    EXPECT_EQ(tried(wrong), Tried::wrong) << wrong.substr(0, 20);
  EXPECT_EQ(tried(code), Tried::no_code) << "void after five wrong ones";
  for (const char* t : {"", "0", "code"}) EXPECT_EQ(devices.device_of(t), "");
  EXPECT_EQ(devices.device_of(std::string(64, '0')), "");
  EXPECT_TRUE(devices.all().empty());
}

TEST_F(DevicesTest, ACodeExpiresAndTriesAreSlow) {
  std::string code = devices.new_code(now);
  EXPECT_EQ(tried(code, Devices::kCodeLasts_s), Tried::no_code);
  code = devices.new_code(now);
  EXPECT_EQ(tried(other(code), 1), Tried::wrong);
  EXPECT_EQ(tried(code, 0), Tried::too_soon);
  EXPECT_EQ(tried(code, Devices::kCodeLasts_s - 2), Tried::paired);
}

TEST_F(DevicesTest, ForgetsADeviceAtOnceEvenFromElsewhere) {
  ASSERT_EQ(tried(devices.new_code(now)), Tried::paired);
  const std::string first = token;
  ASSERT_EQ(tried(devices.new_code(now)), Tried::paired);
  Devices elsewhere(scratch.file("loop.devices"));
  EXPECT_EQ(elsewhere.all().size(), 2u);
  EXPECT_TRUE(elsewhere.forget(devices.device_of(first), now));
  EXPECT_EQ(devices.device_of(first), "");
  EXPECT_NE(devices.device_of(token), "");
  EXPECT_FALSE(devices.forget("nobody", now));
}

TEST_F(DevicesTest, KeepsNoSecretAndShowsTheFileToNobody) {
  const std::string code = devices.new_code(now);
  ASSERT_EQ(devices.pair(code, "Ann's\tphone\nforgotten\tx\t1", now += 2, token), Tried::paired);
  const std::string kept = scratch.read("loop.devices");
  EXPECT_EQ(kept.find(code), std::string::npos);
  EXPECT_EQ(kept.find(token), std::string::npos);
  EXPECT_EQ(devices.all().at(0).name, "Ann's phone forgotten x 1");
  struct stat s {};
  ASSERT_EQ(stat(scratch.file("loop.devices").c_str(), &s), 0);
  EXPECT_EQ(s.st_mode & 0777u, 0600u);
}

}  // namespace
}  // namespace leat::doors
