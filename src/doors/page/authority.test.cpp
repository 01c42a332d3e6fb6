#include "doors/page/authority.h"

#include <arpa/inet.h>
#include <gtest/gtest.h>
#include <sys/stat.h>
#include <sys/wait.h>

#include <array>

#include "doors/page/home.h"
#include "doors/page/private_address.h"
#include "record/scratch.h"

namespace leat::doors {
namespace {

using record::tests::Scratch;

const std::time_t kNow = std::time(nullptr);

Signed authority() {
  return std::get<Signed>(new_authority("leat at home, test", kNow));
}

struct Said {
  int code;
  std::string text;
};

/// What openssl says: another program's judgement on our certificates.
Said openssl(const Scratch& scratch, const std::string& arguments) {
  const int status = std::system(("cd '" + scratch.folder() + "' && openssl " + arguments + " >said 2>&1").c_str());
  return {WEXITSTATUS(status), scratch.read("said")};
}

Said verified(const Signed& ca, const HomeNames& names, const std::string& more) {
  const Scratch scratch;
  scratch.write("ca.pem", ca.certificate);
  scratch.write("leaf.pem", std::get<Signed>(new_certificate(ca, names, kNow)).certificate);
  return openssl(scratch, "verify -x509_strict -purpose sslserver " + more + " -CAfile ca.pem leaf.pem");
}

TEST(Authority, SignsForThisHome) {
  const Signed ca = authority();
  const HomeNames home{{"yard.local"}, {"192.168.1.20", "10.1.2.3", "127.0.0.1", "fd12:3456::7", "::1"}};
  for (const char* as :
       {"-verify_hostname yard.local", "-verify_ip 192.168.1.20", "-verify_ip 10.1.2.3", "-verify_ip fd12:3456::7"}) {
    const Said said = verified(ca, home, as);
    EXPECT_EQ(said.code, 0) << as << said.text;
  }
  EXPECT_NE(verified(ca, home, "-verify_hostname other.local").code, 0);
}

/// Whatever its key signs beyond the home is refused by who checks it.
TEST(Authority, SignsForNothingElse) {
  const Signed ca = authority();
  const HomeNames beyond[] = {
      {{"bank.example"}, {}},           {{"local.example"}, {}},          {{"yard.local", "bank.example"}, {}},
      {{"yard.local"}, {"8.8.8.8"}},    {{"yard.local"}, {"172.32.0.1"}}, {{"evillocal"}, {}},
      {{"yard.local"}, {"2001:db8::7"}}};
  for (const HomeNames& names : beyond) {
    const Said said = verified(ca, names, "");
    EXPECT_NE(said.code, 0) << names.names.front() << said.text;
    EXPECT_NE(said.text.find("permitted subtree violation"), std::string::npos) << said.text;
  }
}

TEST(Authority, MakesNoOtherAuthority) {
  const Signed ca = authority();
  const Scratch scratch;
  scratch.write("ca.pem", ca.certificate);
  const std::string text = openssl(scratch, "x509 -noout -text -in ca.pem").text;
  EXPECT_NE(text.find("X509v3 Basic Constraints: critical\n                CA:TRUE, pathlen:0"), std::string::npos)
      << text;
  EXPECT_NE(text.find("X509v3 Name Constraints: critical"), std::string::npos) << text;
  EXPECT_NE(text.find("X509v3 Key Usage: critical"), std::string::npos) << text;
  const Signed leaf = std::get<Signed>(new_certificate(ca, {{"yard.local"}, {}}, kNow));
  scratch.write("leaf.pem", leaf.certificate);
  scratch.write("under.pem", std::get<Signed>(new_certificate(leaf, {{"yard.local"}, {}}, kNow)).certificate);
  EXPECT_NE(openssl(scratch, "verify -CAfile ca.pem -untrusted leaf.pem under.pem").code, 0);
}

TEST(Authority, KnowsWhatIsNeverRoutedOutside) {
  const auto is = [](const char* text) {
    std::array<std::uint8_t, 16> a{};
    EXPECT_EQ(inet_pton(AF_INET6, text, a.data()), 1) << text;
    return is_private_v6(a.data());
  };
  for (const char* inside :
       {"::1", "fc00::1", "fd12:3456::7", "fe80::1", "febf::1", "::ffff:192.168.1.20", "::ffff:127.0.0.1"})
    EXPECT_TRUE(is(inside)) << inside;
  for (const char* outside : {"::", "::2", "2001:db8::7", "fec0::1", "fe00::1", "fb00::1", "ff02::1", "::ffff:8.8.8.8",
                              "::192.168.1.20", "64:ff9b::c0a8:114"})
    EXPECT_FALSE(is(outside)) << outside;
}

TEST(Authority, TellsWhenACertificateNoLongerFits) {
  const Signed ca = authority(), other = authority();
  const HomeNames home{{"yard.local"}, {"192.168.1.20"}};
  const std::string leaf = std::get<Signed>(new_certificate(ca, home, kNow)).certificate;
  EXPECT_TRUE(still_fits(leaf, ca.certificate, home, kNow));
  EXPECT_FALSE(still_fits(leaf, other.certificate, home, kNow));
  EXPECT_FALSE(still_fits(leaf, ca.certificate, {{"yard.local"}, {"192.168.1.21"}}, kNow));
  EXPECT_FALSE(still_fits(leaf, ca.certificate, home, kNow + 380 * 86400));
  EXPECT_FALSE(still_fits("", ca.certificate, home, kNow));
}

TEST(Home, KeepsItsAuthorityAndItsSecretsToItself) {
  const Scratch scratch;
  const auto open = [&](const HomeNames& names) { return open_home(scratch.file("loop"), names, kNow); };
  const Home first = std::get<Home>(open({{"yard.local"}, {"192.168.1.20"}}));
  const Home again = std::get<Home>(open({{"yard.local"}, {"192.168.1.20"}}));
  const Home moved = std::get<Home>(open({{"yard.local"}, {"192.168.1.99"}}));
  EXPECT_EQ(first.certificate, again.certificate);
  EXPECT_NE(first.certificate, moved.certificate);
  EXPECT_EQ(first.fingerprint, moved.fingerprint);
  for (const char* name : {"loop.home-authority.pem", "loop.home.pem"}) {
    struct stat s {};
    ASSERT_EQ(stat(scratch.file(name).c_str(), &s), 0) << name;
    EXPECT_EQ(s.st_mode & 0777u, 0600u) << name;
  }
  chmod(scratch.file("loop.home-authority.pem").c_str(), 0644);
  const auto loose = open({{"yard.local"}, {}});
  ASSERT_TRUE(std::holds_alternative<std::string>(loose));
  EXPECT_NE(std::get<std::string>(loose).find("chmod 600"), std::string::npos);
}

}  // namespace
}  // namespace leat::doors
