#include "doors/listen/intake.h"

#include <fmt/core.h>
#include <gtest/gtest.h>
#include <sys/stat.h>

#include "record/scratch.h"

namespace leat::doors {
namespace {

using record::tests::opened;
using record::tests::Scratch;

constexpr record::Moment kNow = 1'764'056'460'000;

record::Context context() {
  record::Context c;
  c.now = kNow;
  c.spots = {{"tank.nursery", "tank", "nursery"}};
  return c;
}

constexpr const char* kFile = R"(
[topic."yard/temp"]
what = "temperature"
where = "tank.nursery"
unit = "degC"
sensor = "probe 1"

[topic."yard/+/any"]
what = "temperature"
unit = "degF"
value = "w"
time = "when"
late = true

[topic."senml/#"]

[name."urn:dev:ow:1"]
what = "pH"
where = "tank.nursery"
)";

ListenFile listen_file(const std::string& text) {
  Problems problems;
  ListenFile file = read_listen_file(text, "loop.listen.toml", context(), problems);
  EXPECT_TRUE(problems.empty()) << problems.text();
  return file;
}

std::string problems_of(const std::string& text, const std::string& file = "loop.listen.toml") {
  Problems problems;
  read_listen_file(text, file, context(), problems);
  return problems.text();
}

struct Yard {
  Scratch scratch;
  record::Store store = opened(scratch.file("a.db"));
  ListenFile file = listen_file(kFile);
  record::Context known = context();
  Intake intake{store, file, known};

  std::string take(const std::string& topic, const std::string& payload, bool retained = false,
                   record::Moment heard = kNow) {
    const auto taken = intake.take({topic, payload, retained, heard});
    EXPECT_TRUE(std::holds_alternative<std::string>(taken));
    return std::get<std::string>(taken);
  }
  std::vector<record::Sample> samples(std::int64_t series = 1) const {
    return std::get<std::vector<record::Sample>>(record::samples_of(store, series, 0, kNow * 2));
  }
};

TEST(Intake, TakesNumbersJsonAndSenml) {
  Yard yard;
  EXPECT_EQ(yard.take("yard/temp", " 9.5\n"), "");
  EXPECT_EQ(yard.take("yard/temp", R"({"value": 9.6, "time": 1764056461})", false, kNow + 2000), "");
  EXPECT_EQ(yard.take("yard/temp", R"({"value": "9.7", "time": "2025-11-25T07:41:02Z"})", false, kNow + 3000), "");
  EXPECT_EQ(yard.samples(), (std::vector<record::Sample>{{kNow, 9.5}, {kNow + 1000, 9.6}, {kNow + 2000, 9.7}}));
  EXPECT_EQ(yard.take("yard/2/any", R"({"w": 50, "when": 1764056460000})"), "");
  EXPECT_EQ(yard.take("senml/x", R"([{"n":"urn:dev:ow:1","u":"pH","v":6.8}])"), "");
  const auto all = std::get<std::vector<record::Series>>(record::all_series(yard.store));
  ASSERT_EQ(all.size(), 3u);
  EXPECT_EQ(all[1].name, (record::SeriesName{"temperature", "", "yard/2/any", "degF", ""}));
  EXPECT_EQ(all[2].name, (record::SeriesName{"pH", "tank.nursery", "urn:dev:ow:1", "", ""}));
  EXPECT_EQ(yard.intake.tally().taken, 5);
}

TEST(Intake, DropsWhatCameBeforeByIdAndByTimeAndWhatIsLate) {
  Yard yard;
  const std::string first = R"({"value": 9.5, "time": 1764056400, "id": 7})";
  yard.take("yard/temp", first);
  yard.take("yard/temp", first);
  yard.take("yard/temp", R"({"value": 9.5, "time": 1764056401, "id": 7})");  // the same sending, its clock corrected
  yard.take("yard/temp", R"({"value": 9.9, "time": 1764056400, "id": 8})");  // another number for the same moment
  yard.take("yard/temp", R"({"value": 9.4, "time": 1764056390, "id": 9})");  // late
  EXPECT_EQ(yard.samples(), (std::vector<record::Sample>{{1'764'056'400'000, 9.5}}));
  EXPECT_EQ(yard.intake.tally().again, 3);
  EXPECT_EQ(yard.intake.tally().late, 1);
  yard.take("yard/1/any", R"({"w": 50, "when": 1764056400})");
  yard.take("yard/1/any", R"({"w": 51, "when": 1764056300})");
  EXPECT_EQ(yard.samples(2).size(), 2u) << "late = true takes it";
  // Another run of the program knows what is held.
  Intake again(yard.store, yard.file, yard.known);
  again.take({"yard/temp", R"({"value": 9.4, "time": 1764056390})", false, kNow});
  EXPECT_EQ(again.tally().late, 1);
}

TEST(Intake, AKeptMessageCountsOnlyWithItsTime) {
  Yard yard;
  EXPECT_NE(yard.take("yard/temp", "9.5", true).find("does not say from when it is"), std::string::npos);
  EXPECT_NE(yard.take("senml/x", R"([{"n":"urn:dev:ow:1","u":"pH","v":6.8}])", true).find("from when"),
            std::string::npos);
  EXPECT_EQ(yard.take("yard/temp", R"({"value": 9.5, "time": 1764056400})", true), "");
  EXPECT_EQ(yard.samples().size(), 1u);
}

TEST(Intake, SaysWhyAMessageIsNotTaken) {
  Yard yard;
  const std::pair<const char*, const char*> wrong[] = {
      {"", "it is empty"},
      {"warm", "no number, no JSON object and no SenML"},
      {"nan", "no number"},
      {"9,5", "no number"},
      {"{\"value\": ", "no JSON"},
      {"{\"v\": 1}", "it has no \"value\""},
      {"{\"value\": true}", "its \"value\" is no number"},
      {R"({"value": 1, "time": "noon"})", "its \"time\" is no time"},
      {R"({"value": 1, "time": 12})", "before 2000"},
      {R"({"value": 1, "time": 1764060000})", "lies ahead"},
      {R"([{"n":"x","u":"Cel","v":1}])", "what it reads is not known"}};
  for (const auto& [payload, said] : wrong) {
    const std::string told = yard.take("yard/temp", payload);
    EXPECT_NE(told.find(said), std::string::npos) << payload << ": " << told;
  }
  EXPECT_NE(yard.take("senml/x", "9.5").find("takes SenML only"), std::string::npos);
  EXPECT_EQ(yard.intake.tally().taken, 0);
  EXPECT_EQ(yard.intake.tally().refused, 12);
}

TEST(ListenFile, SaysWhatIsWrongAndWhere) {
  const std::string said = problems_of(R"([broker]
adress = "x"
port = 99999
password = "hunter2"
protocol = "4"
[topic."a/#/b"]
what = "temprature"
where = "tank.nursry"
unit = "degC"
[topic.b]
what = "pH"
unit = "mg/L"
[topic.c]
unit = "lb"
)");
  for (const char* part :
       {"loop.listen.toml:2:1 broker.adress: is no key here; did you mean \"address\"?",
        "no whole number from 1 to 65535", "a password does not stand in this file",
        "\"4\" is not known; write \"3.1.1\" or \"5\"", "is no topic", "did you mean \"temperature\"?",
        "\"tank.nursry\" is no part of the loop file; did you mean \"tank.nursery\"?",
        "pH cannot be in \"mg/L\"; it has no unit", "\"lb\" is not known"})
    EXPECT_NE(said.find(part), std::string::npos) << part << "\n" << said;
  EXPECT_EQ(said.find("hunter2"), std::string::npos) << "a secret is not printed";
  EXPECT_NE(problems_of("").find("names no topic"), std::string::npos);
  EXPECT_NE(problems_of("[topic").find("loop.listen.toml:1:"), std::string::npos);
}

TEST(ListenFile, ASecretThatOthersMayReadIsNotTaken) {
  const Scratch scratch;
  scratch.write("s", "hunter2\n");
  const std::string text = std::string("[broker]\nsecret = \"s\"\n") + kFile;
  chmod(scratch.file("s").c_str(), 0644);
  const std::string said = problems_of(text, scratch.file("loop.listen.toml"));
  EXPECT_NE(said.find("others may read it (mode 0644), so it is not taken: chmod 600"), std::string::npos) << said;
  chmod(scratch.file("s").c_str(), 0600);
  Problems problems;
  EXPECT_EQ(read_listen_file(text, scratch.file("loop.listen.toml"), context(), problems).broker.secret, "hunter2");
  EXPECT_TRUE(problems.empty()) << problems.text();
  EXPECT_NE(problems_of(text, "/nowhere/loop.listen.toml").find("is not there"), std::string::npos);
}

// MQTT 3.1.1, 4.7.1: the examples of the specification.
TEST(Topics, FitFiltersAsTheSpecificationSays) {
  for (const auto& [filter, topic, yes] : {std::tuple{"sport/tennis/player1/#", "sport/tennis/player1", true},
                                           {"sport/tennis/player1/#", "sport/tennis/player1/score/wimbledon", true},
                                           {"sport/#", "sport", true},
                                           {"#", "a/b", true},
                                           {"sport/tennis/+", "sport/tennis/player1", true},
                                           {"sport/tennis/+", "sport/tennis/player1/ranking", false},
                                           {"sport/+", "sport", false},
                                           {"sport/+", "sport/", true},
                                           {"+/+", "/finance", true},
                                           {"/+", "/finance", true},
                                           {"+", "/finance", false},
                                           {"#", "$SYS/x", false},
                                           {"+/monitor/Clients", "$SYS/monitor/Clients", false},
                                           {"$SYS/#", "$SYS/x", true}})
    EXPECT_EQ(fits(filter, topic), yes) << filter << " " << topic;
  for (const char* bad : {"sport/tennis#", "sport/tennis/#/ranking", "sport+", ""}) EXPECT_FALSE(is_filter(bad)) << bad;
  for (const char* well : {"#", "+", "+/tennis/#", "/finance"}) EXPECT_TRUE(is_filter(well)) << well;
}

}  // namespace
}  // namespace leat::doors
