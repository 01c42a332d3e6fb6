#include "doors/listen/senml.h"

#include <fmt/core.h>
#include <gtest/gtest.h>

#include "doors/listen/meaning.h"

namespace leat::doors {
namespace {

constexpr record::Moment kNow = 1'764'056'460'000;

Senml read(const std::string& text) {
  Problems problems;
  Senml pack = read_senml(text, "x.senml", kNow, problems);
  EXPECT_TRUE(problems.empty()) << problems.text();
  return pack;
}

std::string problems_of(const std::string& text) {
  Problems problems;
  read_senml(text, "x.senml", kNow, problems);
  return problems.text();
}

void expect(const SenmlRecord& r, const std::string& name, const std::string& unit, record::Moment at, double value) {
  EXPECT_EQ(r.name, name);
  EXPECT_EQ(r.unit, unit);
  EXPECT_EQ(r.at, at);
  EXPECT_DOUBLE_EQ(r.value, value);
}

// The examples of RFC 8428, 5.1.1 to 5.1.4.
TEST(Senml, ASingleReadingIsTakenAtAboutNow) {
  const Senml pack = read(R"([{"n":"urn:dev:ow:10e2073a01080063","u":"Cel","v":23.1}])");
  ASSERT_EQ(pack.records.size(), 1u);
  expect(pack.records[0], "urn:dev:ow:10e2073a01080063", "Cel", kNow, 23.1);
}

TEST(Senml, ABaseNameStandsInFrontOfEachName) {
  const Senml pack = read(R"([{"bn":"urn:dev:ow:10e2073a01080063:","n":"voltage","u":"V","v":120.1},
                              {"n":"current","u":"A","v":1.2}])");
  ASSERT_EQ(pack.records.size(), 2u);
  expect(pack.records[0], "urn:dev:ow:10e2073a01080063:voltage", "V", kNow, 120.1);
  expect(pack.records[1], "urn:dev:ow:10e2073a01080063:current", "A", kNow, 1.2);
}

TEST(Senml, ABaseTimeAndABaseUnitHoldUntilOthersCome) {
  const Senml pack = read(R"([{"bn":"urn:dev:ow:10e2073a0108006:","bt":1.276020076001e+09,"bu":"A","bver":5,
                               "n":"voltage","u":"V","v":120.1},
                              {"n":"current","t":-5,"v":1.2},{"n":"current","t":-4,"v":1.3},
                              {"n":"current","t":-3,"v":1.4},{"n":"current","t":-2,"v":1.5},
                              {"n":"current","t":-1,"v":1.6},{"n":"current","v":1.7}])");
  ASSERT_EQ(pack.records.size(), 7u);
  expect(pack.records[0], "urn:dev:ow:10e2073a0108006:voltage", "V", 1'276'020'076'001, 120.1);
  for (int i = 1; i <= 6; ++i)
    expect(pack.records[static_cast<std::size_t>(i)], "urn:dev:ow:10e2073a0108006:current", "A",
           1'276'020'076'001 - (6 - i) * 1000, 1.1 + 0.1 * i);
}

TEST(Senml, AUnitOfARecordGoesBeforeTheBaseUnit) {
  const Senml pack = read(R"([{"bn":"urn:dev:ow:10e2073a01080063","bt":1.320067464e+09,"bu":"%RH","v":20},
                              {"u":"lon","v":24.30621},{"u":"lat","v":60.07965},
                              {"t":60,"v":20.3},{"u":"lon","t":60,"v":24.30622},{"u":"lat","t":60,"v":60.07965},
                              {"t":120,"v":20.7},{"u":"lon","t":120,"v":24.30623},{"u":"lat","t":120,"v":60.07966},
                              {"u":"%EL","t":150,"v":98},{"t":180,"v":21.2},{"u":"lon","t":180,"v":24.30628},
                              {"u":"lat","t":180,"v":60.07967}])");
  ASSERT_EQ(pack.records.size(), 13u);
  expect(pack.records[0], "urn:dev:ow:10e2073a01080063", "%RH", 1'320'067'464'000, 20.0);
  expect(pack.records[2], "urn:dev:ow:10e2073a01080063", "lat", 1'320'067'464'000, 60.07965);
  expect(pack.records[9], "urn:dev:ow:10e2073a01080063", "%EL", 1'320'067'614'000, 98.0);
  expect(pack.records[10], "urn:dev:ow:10e2073a01080063", "%RH", 1'320'067'644'000, 21.2);
}

TEST(Senml, OtherKindsOfValueAreCountedAndLeftOut) {
  const Senml pack = read(R"([{"bn":"urn:dev:ow:10e2073a01080063:","n":"temp","u":"Cel","v":23.1},
                              {"n":"label","vs":"Machine Room"},{"n":"open","vb":false},{"n":"nfc-reader","vd":"aGkgCg"}])");
  EXPECT_EQ(pack.records.size(), 1u);
  EXPECT_EQ(pack.no_number, 3u);
}

TEST(Senml, BaseValuesAddAndRecordsOfBasesOnlyHoldNothing) {
  const Senml pack = read(R"([{"bn":"a:","bv":20,"bt":1320067464},{"n":"t","v":0.5},{"n":"t","t":1,"v":-0.5},
                              {"bn":"b:","bv":0},{"n":"t","t":268435456,"v":3}])");
  ASSERT_EQ(pack.records.size(), 3u);
  expect(pack.records[0], "a:t", "", 1'320'067'464'000, 20.5);
  expect(pack.records[1], "a:t", "", 1'320'067'465'000, 19.5);
  expect(pack.records[2], "b:t", "", 1'588'502'920'000, 3.0);
  EXPECT_EQ(read(R"([{"n":"a","t":-60,"v":1}])").records[0].at, kNow - 60'000) << "below 2^28 it counts from now";
}

TEST(Senml, SaysWhichRecordIsWrongAndHow) {
  const std::pair<const char*, const char*> wrong[] = {
      {"", "is no SenML pack"},
      {"{\"n\":\"a\",\"v\":1}", "is no SenML pack"},
      {"[1]", "record 1: is no record"},
      {R"([{"n":"a","v":1},{"n":"a"}])", "record 2: has no value"},
      {R"([{"n":"a","v":"1"}])", "\"v\" holds no number"},
      {R"([{"n":"_a","v":1}])", "is no name of a sensor"},
      {R"([{"v":1}])", "is no name of a sensor"},
      {R"([{"bver":11,"n":"a","v":1}])", "knows versions up to 10"},
      {R"([{"bver":5,"n":"a","v":1},{"bver":6,"n":"a","v":1}])", "a pack has one version"},
      {R"([{"n":"a","v":1,"must_":2}])", "must be understood"},
      {R"([{"n":"a","v":1,"t":1764056460000}])", "SenML counts seconds"},
      {R"([{"n":"a","v":1,"bt":-1764056460000}])", "SenML counts seconds"},
      {R"([{"bv":1e308,"n":"a","v":1e308}])", "can be held"}};
  for (const auto& [text, said] : wrong)
    EXPECT_NE(problems_of(text).find(said), std::string::npos) << problems_of(text);
}

record::Context context() {
  record::Context c;
  c.now = kNow;
  c.spots = {{"tank.nursery", "tank", "nursery"}};
  return c;
}

std::vector<record::Batch> batches(const std::string& text, const std::string& map, std::string& said) {
  Problems problems;
  const auto meanings = read_name_meanings(map, context(), problems);
  const auto all = batches_of(read_senml(text, "x.senml", kNow, problems), meanings, context(), "x.senml", problems);
  said = problems.text();
  return all;
}

TEST(SenmlMeaning, IsInTheNameOrInTheMap) {
  std::string said;
  const auto own = batches(R"([{"n":"yard/tank/nursery/temperature","u":"K","v":282.65}])", "", said);
  ASSERT_EQ(own.size(), 1u) << said;
  EXPECT_EQ(own[0].name,
            (record::SeriesName{"temperature", "tank.nursery", "yard/tank/nursery/temperature", "degC", ""}));
  EXPECT_NEAR(own[0].samples[0].value, 9.5, 1e-9);
  const auto mapped =
      batches(R"([{"n":"urn:dev:ow:1","u":"S/m","v":0.045}])", "urn:dev:ow:1=conductivity tank.nursery", said);
  ASSERT_EQ(mapped.size(), 1u) << said;
  EXPECT_EQ(mapped[0].name.unit, "mS/cm");
  EXPECT_NEAR(mapped[0].samples[0].value, 0.45, 1e-12);
}

TEST(SenmlMeaning, UnknownUnitsAreRefusedInOneSentence) {
  std::string said;
  EXPECT_TRUE(
      batches(R"([{"n":"tank.nursery.temperature","u":"Ra","v":1},{"n":"tank.nursery.temperature","u":"Ra","v":2}])",
              "", said)
          .empty());
  EXPECT_EQ(said,
            "x.senml tank.nursery.temperature: its unit \"Ra\" is not known; write one of SenML, such as \"Cel\" or "
            "\"S/m\", or one of the record, such as \"mg/L\"\n");
  batches(R"([{"n":"tank.nursery.temperature","u":"S/m","v":1}])", "", said);
  EXPECT_NE(said.find("temperature cannot be in \"mS/cm\"; write such as degC"), std::string::npos) << said;
  batches(R"([{"n":"tank.nursery.temperature","v":1}])", "", said);
  EXPECT_NE(said.find("has no unit"), std::string::npos) << said;
  batches(R"([{"n":"urn:dev:ow:10e2073a01080063","u":"Cel","v":23.1}])", "", said);
  EXPECT_NE(said.find("--map \"urn:dev:ow:10e2073a01080063=temperature tank.nursery\""), std::string::npos) << said;
  batches("[]", "urn=warmth", said);
  EXPECT_NE(said.find("is no sensor with its meaning"), std::string::npos) << said;
}

}  // namespace
}  // namespace leat::doors
