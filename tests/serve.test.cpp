// The page's server from outside: it answers as the command line does, and only to its own page.
#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <nlohmann/json.hpp>
#include <thread>
#include <vector>

#include "tests/served.h"
#include "tests/yard.h"

namespace leat {
namespace {

using nlohmann::json;
using tests::Heard;
using tests::holds;

class Serve : public ::testing::Test {
 protected:
  tests::Yard yard{"examples/first-loop/loop.toml"};
  tests::Served served{yard.folder(), "loop.toml"};

  void SetUp() override { ASSERT_GT(served.port(), 0); }
  json entries() const { return json::parse(yard.leat("record loop.toml --json").text).at("entries"); }
};

/// What the clock changes between two runs of one question.
std::string without_now(const std::string& text) {
  json j = json::parse(text);
  for (const char* field : {"now", "due", "later", "from_record"}) j.erase(field);
  return j.dump();
}

TEST_F(Serve, GivesTheBytesOfTheCommandLine) {
  const std::pair<const char*, const char*> same[] = {
      {"/api/check", "check loop.toml --json"},
      {"/api/drawing", "check loop.toml --drawing=-"},
      {"/api/ahead?days=2&start=2026-06-01&seed=3", "ahead loop.toml --json --days=2 --start=2026-06-01 --seed=3"},
      {"/api/ahead.csv?days=2&start=2026-06-01", "ahead loop.toml --csv --days=2 --start=2026-06-01"},
      {"/api/night?reading=18:00%209.0%20mg/L&reading=21:00%208.1%20mg/L&reaeration=0.3%201/h",
       "night loop.toml --json --reading='18:00 9.0 mg/L' --reading='21:00 8.1 mg/L' --reaeration='0.3 1/h'"},
      {"/api/feed?temperature=11%20degC", "feed loop.toml --json --temperature='11 degC'"},
      {"/api/outage?temperature=12%20degC", "outage loop.toml --json --temperature='12 degC'"},
      {"/api/emergency", "outage loop.toml --table --json"},
      {"/api/carry?start=2026-06-01&members=20", "carry loop.toml --json --start=2026-06-01 --members=20"},
      {"/api/dose?what=base&ph=6.2&shaken=6.8&feed=150%20g/d",
       "dose base --loop=loop.toml --json --ph=6.2 --shaken=6.8 --feed='150 g/d'"},
      {"/api/dose?what=nitrite&reading=0.5%20mg/L", "dose nitrite --loop=loop.toml --json --reading='0.5 mg/L'"},
      {"/api/calc?relation=unionised_ammonia_fraction&input=temperature=14%20degC&input=ph=8",
       "calc unionised_ammonia_fraction 'temperature=14 degC' ph=8 --json"},
      {"/api/calc?list=true", "calc --list --json"},
      {"/api/record", "record loop.toml --json"}};
  ASSERT_EQ(yard.leat("note loop.toml 'temp 9.5 degC' --at '2026-06-01 08:00' --now '2026-06-01 09:00'").code, 0);
  for (const auto& [path, line] : same) {
    const tests::Printed own = yard.leat(line);
    const Heard heard = served.get(path);
    EXPECT_EQ(heard.status, 200) << path << heard.body;
    EXPECT_EQ(heard.header("Leat-Exit"), std::to_string(own.code)) << path;
    EXPECT_EQ(heard.body, own.text) << path;
    EXPECT_GT(heard.body.size(), 100u) << path;
  }
  EXPECT_EQ(without_now(served.get("/api/round").body), without_now(yard.leat("round loop.toml --json").text));
}

/// What is put in as words of a question is never taken for a flag of its verb.
TEST_F(Serve, TakesWordsAsWords) {
  for (const char* path : {"/api/calc?relation=--checks=/etc/passwd", "/api/calc?input=ph=8", "/api/calc",
                           "/api/calc?relation=unionised_ammonia_fraction&input=--list", "/api/dose?what=--json",
                           "/api/dose", "/api/dose?what=copper&reading=1%20mg/L"}) {
    const Heard heard = served.get(path);
    EXPECT_EQ(heard.status, 422) << path << heard.body;
    EXPECT_FALSE(holds(heard.body, "root:")) << path;
    EXPECT_GT(json::parse(heard.body).at("problems").get<std::string>().size(), 20u) << path;
  }
}

/// Each dose carries its caution, and the grams of its days are those of the text.
TEST_F(Serve, TellsADoseWithItsCaution) {
  for (const char* asked :
       {"what=base&ph=6.2&shaken=6.8&feed=150%20g/d", "what=acid&ph=7.4&kh=60%20mg/L",
        "what=nitrite&reading=0.5%20mg/L", "what=iron&target=2%20mg/L",
        "what=chlorine&reading=0.8%20mg/L&new-water=200%20L", "what=change&reading=120%20mg/L&target=60%20mg/L"}) {
    const json dose = json::parse(served.get(std::string("/api/dose?") + asked).body);
    EXPECT_FALSE(dose.at("cautions").empty()) << asked;
    EXPECT_FALSE(dose.at("verdict").get<std::string>().empty()) << asked;
    for (const json& day : dose.at("days")) EXPECT_GE(day.at("goes"), 1) << asked;
  }
  const json base = json::parse(served.get("/api/dose?what=base&ph=6.2&shaken=6.8&feed=150%20g/d").body);
  const std::string text = yard.leat("dose base --loop=loop.toml --ph=6.2 --shaken=6.8 --feed='150 g/d'").text;
  ASSERT_FALSE(base.at("days").empty());
  EXPECT_EQ(base.at("units").at("dry_mass"), "g");
  char grams[32];
  for (const json& day : base.at("days")) {
    std::snprintf(grams, sizeof grams, "  %.3g", day.at("dry_mass").get<double>());
    EXPECT_TRUE(holds(text, grams)) << grams << text;
  }
}

/// A base that is asked for where pH stands high enough only holds it.
TEST_F(Serve, HoldsAPhThatIsHighEnough) {
  const json dose = json::parse(served.get("/api/dose?what=base&ph=7.2&kh=60%20mg/L&feed=60%20g/d").body);
  EXPECT_TRUE(dose.at("days").empty()) << dose;
  EXPECT_GT(dose.at("dry_mass_a_day").get<double>(), 1.0);
  EXPECT_TRUE(holds(dose.at("lines").dump(), "only holds it")) << dose;
  EXPECT_EQ(served.get("/api/dose?what=base&ph=7.2&to=7.0").status, 422) << "what is said outright is not bent";
}

TEST_F(Serve, KeepsANoteOnceHoweverOftenItIsSent) {
  const std::string note = R"({"words": "fed 60 g", "key": "6f1d2a90c44e"})";
  const Heard first = served.post("/api/note", note), again = served.post("/api/note", note);
  ASSERT_EQ(first.status, 200) << first.body;
  ASSERT_EQ(again.status, 200) << again.body;
  EXPECT_FALSE(json::parse(first.body).at("again").get<bool>());
  EXPECT_TRUE(json::parse(again.body).at("again").get<bool>());
  int fed = 0;
  for (const json& e : entries()) fed += holds(e.at("words").get<std::string>(), "fed 60 g");
  EXPECT_EQ(fed, 1);
}

TEST_F(Serve, ForgetsAnAnswerWhenTheRecordHasMore) {
  ASSERT_EQ(served.get("/api/feed").status, 200);
  ASSERT_EQ(yard.leat("note loop.toml 'temp 17 degC'").code, 0);
  const Heard heard = served.get("/api/feed");
  EXPECT_EQ(json::parse(heard.body).at("temperature"), 17.0) << heard.body;
}

TEST_F(Serve, KeepsTheTimeOfANoteThatIsSentLater) {
  const auto from = [](const std::string& note) {
    return json::parse(note).at("entries")[0].at("from").get<std::string>();
  };
  const std::string line = "note loop.toml 'temp 9.5 degC' --now '90 min ago' --json";
  const std::string before = from(yard.leat(line).text);
  const Heard heard = served.post("/api/note", R"({"words": "temp 9.5 degC", "ago_s": 5400})");
  ASSERT_EQ(heard.status, 200) << heard.body;
  const std::string after = from(yard.leat(line).text);
  EXPECT_LE(before, from(heard.body));
  EXPECT_LE(from(heard.body), after);
  EXPECT_EQ(served.post("/api/note", R"({"words": "temp 9 degC", "ago_s": -5})").status, 422);
  EXPECT_EQ(served.post("/api/note", R"({"words": "temp 9 degC", "ago_s": "soon"})").status, 422);
}

TEST_F(Serve, UndoesANoteAndSaysSo) {
  const Heard noted = served.post("/api/note", R"({"words": "2 dead"})");
  ASSERT_EQ(noted.status, 200) << noted.body;
  const int number = json::parse(noted.body).at("entries")[0].at("number");
  const Heard undone = served.post("/api/record", json{{"correct", {std::to_string(number), "nothing"}}}.dump());
  EXPECT_EQ(undone.status, 200) << undone.body;
  for (const json& e : entries()) EXPECT_FALSE(holds(e.at("words").get<std::string>(), "2 dead")) << e;
}

TEST_F(Serve, KeepsAWordingOfTheWeek) {
  ASSERT_EQ(served.post("/api/note", R"({"words": "fed 5 g"})").status, 200);
  EXPECT_EQ(served.post("/api/week", "{}").status, 422);
  const Heard kept = served.post("/api/week", R"({"wording": "# Mine\n"})");
  ASSERT_EQ(kept.status, 200) << kept.body;
  EXPECT_EQ(json::parse(served.get("/api/week").body).at("wording"), "# Mine\n");
  EXPECT_EQ(served.post("/api/week", R"({"wording": "--out=/tmp/evil.html"})").status, 200) << "it is words only";
  EXPECT_EQ(json::parse(served.get("/api/week").body).at("wording"), "--out=/tmp/evil.html");
  EXPECT_EQ(served.post("/api/week", R"({"wording": "x", "out": "evil.html"})").status, 422);
  EXPECT_FALSE(json::parse(served.post("/api/week", R"({"fresh": true})").body).at("own_wording"));
}

TEST_F(Serve, StopsAQuestionOnlyForThePageThatAskedIt) {
  const auto stop = [&](const std::string& page) {
    return served.post("/api/stop", R"({"job": "long"})", "Leat-Page: " + page + "\r\n").status;
  };
  Heard answer;
  std::thread asks([&] { answer = served.get("/api/season?years=200&job=long", "Leat-Page: one\r\n"); });
  while (!holds(served.get("/api/jobs").body, "\"running\":true"))
    std::this_thread::sleep_for(std::chrono::milliseconds(20));
  EXPECT_EQ(stop("two"), 404);
  EXPECT_EQ(served.post("/api/stop", R"({"job": "long"})").status, 404);
  EXPECT_TRUE(holds(served.get("/api/jobs").body, "\"running\":true"));
  EXPECT_EQ(stop("one"), 200);
  asks.join();
  EXPECT_EQ(answer.status, 503) << answer.body;
  EXPECT_TRUE(holds(answer.body, "stopped"));
}

/// Those who ask the same while it waits are answered by one run; a note goes before them all.
TEST_F(Serve, AnswersManyWhoAskTheSameAtOnce) {
  ASSERT_EQ(served.post("/api/note", R"({"words": "fed 5 g"})").status, 200) << "there is a week to tell of";
  std::vector<Heard> heard(12);
  std::vector<std::jthread> asking;
  for (Heard& h : heard) asking.emplace_back([&] { h = served.get("/api/week"); });
  const Heard note = served.post("/api/note", R"({"words": "fed 5 g"})");
  EXPECT_EQ(note.status, 200) << note.body;
  asking.clear();
  for (const Heard& h : heard) {
    EXPECT_EQ(h.status, 200) << h.body;
    EXPECT_EQ(json::parse(h.body).at("verb"), "week");
  }
  const std::string text = served.get("/metrics").body;
  const auto number = [&](const std::string& name) {
    return std::stol(text.substr(text.find("\n" + name) + name.size() + 1));
  };
  EXPECT_EQ(number("leat_answers_total{question=\"week\"}") + number("leat_answers_shared_total"), 12) << text;
  EXPECT_GT(number("leat_answers_shared_total"), 0) << text;
}

TEST_F(Serve, TakesNoWordsForAFlagOrACommand) {
  for (const char* words : {"--dry-run", "$(touch broken)", "; touch broken", "-h", "`touch broken`"}) {
    const Heard heard = served.post("/api/note", json{{"words", words}}.dump());
    EXPECT_EQ(heard.status, 200) << words << heard.body;
  }
  EXPECT_FALSE(holds(yard.leat("check loop.toml; ls").text, "broken"));
  const Heard flag = served.get("/api/check?drawing=out.svg");
  EXPECT_EQ(flag.status, 422);
  EXPECT_TRUE(holds(flag.body, "drawing")) << flag.body;
  EXPECT_EQ(served.get("/api/ahead?record=%2Fetc%2Fpasswd").status, 422);
}

TEST_F(Serve, AnswersOnlyToItsOwnName) {
  const auto as = [&](const std::string& host) {
    return served.said("GET /api/about HTTP/1.1\r\n" + host + "Connection: close\r\n\r\n").status;
  };
  const std::string port = std::to_string(served.port());
  EXPECT_EQ(as("Host: 127.0.0.1:" + port + "\r\n"), 200);
  EXPECT_EQ(as("Host: localhost:" + port + "\r\n"), 200);
  for (const std::string& wrong : {std::string("evil.example"), "evil.example:" + port, std::string("127.0.0.1"),
                                   "127.0.0.1.evil.example:" + port})
    EXPECT_EQ(as("Host: " + wrong + "\r\n"), 403) << wrong;
}

TEST_F(Serve, TakesNotesOnlyFromItsOwnPage) {
  const std::string body = R"({"words": "fed 1 g"})";
  EXPECT_EQ(served.post("/api/note", body, "Origin: http://evil.example\r\n").status, 403);
  EXPECT_EQ(served.post("/api/note", body, "Origin: null\r\n").status, 403);
  EXPECT_EQ(served.post("/api/note", body, "Origin: http://127.0.0.1:1\r\n").status, 403);
  EXPECT_EQ(served.post("/api/note", body, "Sec-Fetch-Site: cross-site\r\n").status, 403);
  EXPECT_EQ(served.post("/api/note", body, "Sec-Fetch-Site: same-site\r\n").status, 403);
  EXPECT_EQ(served.get("/api/record", "Sec-Fetch-Site: cross-site\r\n").status, 403);
  const std::string plain =
      "POST /api/note HTTP/1.1\r\nHost: " + served.host() +
      "\r\nConnection: close\r\nContent-Type: text/plain\r\nContent-Length: " + std::to_string(body.size()) +
      "\r\n\r\n" + body;
  EXPECT_EQ(served.said(plain).status, 415);
  EXPECT_EQ(served.get("/api/note").status, 404);
  EXPECT_TRUE(holds(served.get("/api/record").body, "nothing has been noted yet"));
  EXPECT_EQ(
      served.post("/api/note", body, "Origin: http://" + served.host() + "\r\nSec-Fetch-Site: same-origin\r\n").status,
      200);
}

TEST_F(Serve, GuardsWhatItSends) {
  for (const char* path : {"/", "/api/about", "/api/check", "/nothing", "/api/ahead?what=1"}) {
    const Heard heard = served.get(path);
    const std::string policy = heard.header("Content-Security-Policy");
    EXPECT_TRUE(holds(policy, "default-src 'none'")) << path << heard.head;
    EXPECT_FALSE(holds(policy, "unsafe")) << path;
    EXPECT_EQ(heard.header("X-Content-Type-Options"), "nosniff") << path;
    EXPECT_EQ(heard.header("Access-Control-Allow-Origin"), "") << path;
  }
}

TEST_F(Serve, BoundsWhatIsSent) {
  EXPECT_EQ(served.post("/api/note", "{\"words\": \"" + std::string(300u << 10, 'a') + "\"}").status, 413);
  EXPECT_EQ(served.post("/api/note", "{\"words\": \"" + std::string(5000, 'a') + "\"}").status, 422);
  EXPECT_EQ(served.post("/api/note", std::string(100'000, '[')).status, 400);
  EXPECT_EQ(served.post("/api/note", "{").status, 400);
  EXPECT_EQ(served.post("/api/note", "[1]").status, 400);
  EXPECT_EQ(served.post("/api/note", R"({"words": {"a": 1}})").status, 400);
  EXPECT_EQ(served.post("/api/note", R"({"words": ""})").status, 422);
  const int status = served.get("/api/check?" + std::string(60'000, 'a')).status;
  EXPECT_TRUE(status == 0 || status >= 400) << status;
  EXPECT_EQ(served.get("/api/about").status, 200);
}

TEST_F(Serve, CountsInOpenMetrics) {
  served.get("/api/check");
  served.get("/api/about", "Sec-Fetch-Site: cross-site\r\n");
  const Heard heard = served.get("/metrics");
  EXPECT_EQ(heard.status, 200);
  EXPECT_TRUE(heard.body.ends_with("# EOF\n"));
  EXPECT_TRUE(holds(heard.body, "leat_answers_total{question=\"check\"} 1\n")) << heard.body;
  EXPECT_TRUE(holds(heard.body, "leat_requests_refused_total 1\n")) << heard.body;
}

TEST_F(Serve, TellsTheLastReadingsToAMonitor) {
  EXPECT_FALSE(holds(served.get("/metrics").body, "leat_reading{"));
  ASSERT_EQ(yard.leat("note loop.toml 'temp 9.5 degC' --at '2026-06-01 08:00' --now '2026-06-01 09:00'").code, 0);
  ASSERT_EQ(yard.leat("note loop.toml 'temp 11 degC' --at '2026-06-01 12:00' --now '2026-06-01 13:00'").code, 0);
  ASSERT_EQ(yard.leat("note loop.toml 'temp 10 degC' --at '2026-06-01 10:00' --now '2026-06-01 14:00'").code, 0);
  ASSERT_EQ(yard.leat("note loop.toml 'nh3 between 0.25 and 0.5 mg/L' --now '2026-06-01 14:00'").code, 0);
  const std::string text = served.get("/metrics").body;
  EXPECT_TRUE(holds(text, "leat_reading{what=\"temperature\",where=\"tank.nursery\",unit=\"degC\"} 11\n")) << text;
  EXPECT_TRUE(holds(text, "leat_reading{what=\"ammonia\",where=\"tank.nursery\",unit=\"mg/L\"} 0.375\n")) << text;
  // 2026-06-01 12:00 in Los Angeles is 19:00 UTC.
  EXPECT_TRUE(holds(
      text, "leat_reading_time_seconds{what=\"temperature\",where=\"tank.nursery\",unit=\"degC\"} 1780340400.000\n"))
      << text;
  EXPECT_TRUE(holds(text, "leat_record_entries 5\n")) << text;
  EXPECT_TRUE(text.ends_with("# EOF\n"));
  const json last = json::parse(served.get("/api/last").body).at("readings");
  const auto warm = std::find_if(last.begin(), last.end(), [](const json& r) { return r.at("what") == "temperature"; });
  ASSERT_NE(warm, last.end()) << last;
  EXPECT_EQ(warm->at("value"), 11.0);
  EXPECT_EQ(warm->at("where"), "tank.nursery");
}

TEST_F(Serve, DescribesEveryQuestion) {
  const Heard heard = served.get("/api/openapi.json");
  EXPECT_EQ(heard.body, yard.leat("serve --openapi").text);
  const json paths = json::parse(heard.body).at("paths");
  for (const char* path :
       {"check", "ahead", "night", "feed", "outage", "round", "note", "record", "dose", "calc", "carry"})
    EXPECT_TRUE(paths.contains(std::string("/api/") + path)) << path;
  for (const auto& [path, methods] : paths.items()) {
    if (!methods.contains("get")) continue;
    const Heard odd = served.get(path + "?no_such_thing=1");
    EXPECT_EQ(odd.status, 422) << path << " is described and not answered";
  }
}

/// Each parameter that is described is a flag of its verb: the help of the command line has it.
TEST_F(Serve, DescribesFlagsThatTheVerbsHave) {
  const json paths = json::parse(yard.leat("serve --openapi").text).at("paths");
  for (const auto& [path, methods] : paths.items()) {
    if (!methods.contains("get")) continue;
    const std::string answers = methods.at("get").at("responses").at("200").at("description");
    const std::string verb = answers.substr(20, answers.find('`', 20) - 20);
    const std::string help = yard.leat(verb + " --help").text;
    for (const json& p : methods.at("get").at("parameters")) {
      const std::string name = p.at("name");
      if (name == "job") continue;
      const bool word = name == "what" || name == "relation" || name == "input";  // these stand without a flag
      EXPECT_TRUE(holds(help, word && (verb == "dose" || verb == "calc") ? name : "--" + name))
          << path << " " << verb << " " << name;
    }
  }
}

TEST_F(Serve, EndsWhenAskedTo) {
  EXPECT_EQ(served.get("/api/about").status, 200);
  EXPECT_EQ(served.stop(), 0);
}

TEST(ServeStarts, WithoutALoopWritesOneOnceOrShowsTheExample) {
  const tests::Yard yard{"examples/first-loop/loop.toml"};
  const tests::Served served{yard.folder(), "mine.toml"};
  const auto about = [&] { return json::parse(served.get("/api/about").body); };
  EXPECT_FALSE(about().at("has_loop"));
  EXPECT_EQ(served.get("/api/check").status, 422);
  EXPECT_EQ(served.post("/api/new", R"({"dry-run": true})").status, 200);
  EXPECT_FALSE(about().at("has_loop"));
  EXPECT_EQ(served.post("/api/example", "{}").status, 200);
  EXPECT_TRUE(about().at("example"));
  EXPECT_EQ(json::parse(served.get("/api/check").body).at("loop"), "Alder yard");
  EXPECT_EQ(served.post("/api/own", "{}").status, 200);
  EXPECT_FALSE(about().at("has_loop"));
  EXPECT_EQ(served.post("/api/example", "{}").status, 200) << "an example that is there is gone on with";
  const Heard begun = served.post("/api/new", R"({"name": "Mine", "tank": "900 L", "time-zone": "Europe/London"})");
  ASSERT_EQ(begun.status, 200) << begun.body;
  EXPECT_EQ(json::parse(begun.body).at("text"), yard.file("mine.toml"));
  EXPECT_FALSE(about().at("example"));
  EXPECT_EQ(json::parse(served.get("/api/check").body).at("loop"), "Mine");
  const Heard twice = served.post("/api/new", R"({"name": "Other"})");
  EXPECT_EQ(twice.status, 422);
  EXPECT_TRUE(holds(twice.body, "there already")) << twice.body;
}

TEST(ServeStarts, SaysWhatIsWrong) {
  const tests::Yard yard{"examples/first-loop/loop.toml"};
  for (const char* nowhere : {"nowhere/loop.toml", "."}) {
    const auto none = yard.leat(std::string("serve ") + nowhere);
    EXPECT_EQ(none.code, 2) << none.text;
    EXPECT_TRUE(holds(none.text, "name a loop's file")) << none.text;
  }
  EXPECT_EQ(yard.leat("serve loop.toml --port 70000").code, 2);
  const tests::Served first{yard.folder(), "loop.toml"};
  const auto taken = yard.leat("serve loop.toml --port " + std::to_string(first.port()));
  EXPECT_EQ(taken.code, 2);
  EXPECT_TRUE(holds(taken.text, "cannot be had")) << taken.text;
}

}  // namespace
}  // namespace leat
