// The record as a grower meets it: commands in a folder of their own, from the first note to a restored backup.
#include <gtest/gtest.h>
#include <sys/wait.h>

#include <algorithm>
#include <array>
#include <cstdio>

#include "record/scratch.h"
#include "tests/loop_file.h"

namespace leat {
namespace {

using record::tests::Scratch;

struct Printed {
  std::string text;
  int code = 0;
};

/// A yard with the example's loop, and a clock that stands still.
struct Yard {
  Scratch scratch;
  Yard() { scratch.write("loop.toml", tests::slurp(std::string(LEAT_ROOT) + "/examples/first-loop/loop.toml")); }

  Printed leat(const std::string& rest) const {
    const std::string shell = "cd '" + scratch.folder() + "' && '" + LEAT_BINARY + "' " + rest + " 2>&1";
    std::FILE* pipe = popen(shell.c_str(), "r");
    Printed printed;
    std::array<char, 4096> buffer;
    for (std::size_t n; (n = std::fread(buffer.data(), 1, buffer.size(), pipe)) > 0;)
      printed.text.append(buffer.data(), n);
    const int status = pclose(pipe);
    printed.code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    return printed;
  }
  Printed at_noon(const std::string& rest) const { return leat(rest + " --now '2026-11-20 12:00'"); }
  std::string head() const {
    const std::string text = leat("record --verify").text;
    const std::size_t at = text.find("head ");
    EXPECT_NE(at, std::string::npos) << text;
    return text.substr(at, 69);
  }
};

bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

TEST(RecordCommands, TheFirstNoteMakesTheRecord) {
  const Yard yard;
  const Printed first = yard.at_noon("note 'fed 60 g'");
  EXPECT_EQ(first.code, 0);
  EXPECT_EQ(first.text,
            "    2  fed 60 g, tank.nursery, 2026-11-20 12:00\n"
            "A first chapter begins with this; loop.toml is kept in it as it is now (entry 1).\n");
  const Printed list = yard.leat("record");
  EXPECT_EQ(list.text,
            "    1  a new chapter: the record begins, 2026-11-20 12:00\n"
            "    2  fed 60 g, tank.nursery, 2026-11-20 12:00\n");
}

TEST(RecordCommands, NoNoteIsRefusedForItsWords) {
  const Yard yard;
  const Printed vague = yard.at_noon("note loop.toml 'kh 4'");
  EXPECT_EQ(vague.code, 0);
  EXPECT_TRUE(holds(vague.text, "kept as words: degrees or mg/L?")) << vague.text;
  const std::string command = "record loop.toml --correct 2 \"kh 4 dKH\" --why completed";
  EXPECT_TRUE(holds(vague.text, "leat " + command)) << vague.text;
  const Printed completed = yard.leat(command);
  EXPECT_EQ(completed.code, 0) << completed.text;
  EXPECT_TRUE(holds(completed.text, "3  alkalinity 4 dKH, tank.nursery, 2026-11-20 12:00 [instead of 2: completed]"))
      << completed.text;
}

TEST(RecordCommands, ABrokenLoopFileIsNoReasonToRefuse) {
  const Yard yard;
  yard.scratch.write("loop.toml", "[tank.nursery]\nvolume = \"1000\"\n[fish.trout]\nin = \"tank.nursery\"\n]]\n");
  const Printed note = yard.at_noon("note '2 dead'");
  EXPECT_EQ(note.code, 0);
  EXPECT_TRUE(holds(note.text, "died 2")) << note.text;
  EXPECT_TRUE(holds(note.text, "leat check loop.toml shows them")) << note.text;
}

TEST(RecordCommands, MistakesAreToldInOneSentence) {
  const Yard yard;
  EXPECT_TRUE(holds(yard.leat("record").text, "nothing has been noted yet. Begin with: leat note loop.toml"));
  EXPECT_TRUE(holds(yard.leat("backup").text, "nothing has been noted yet"));
  EXPECT_TRUE(holds(yard.leat("restore").text, "no backup of loop.record.db lies in backups"));
  EXPECT_TRUE(holds(yard.leat("note").text, "says nothing to note"));
  EXPECT_TRUE(holds(yard.leat("note lop.toml 'fed 60 g'").text, "lop.toml: cannot be read"));
  EXPECT_TRUE(holds(yard.leat("note 'fed 60 g' --at tomorow").text, "--at: \"tomorow\" is no time that can be read"));
  yard.at_noon("note 'fed 60 g'");
  EXPECT_TRUE(holds(yard.leat("record --since lately").text, "--since: \"lately\" is no time"));
  EXPECT_TRUE(holds(yard.leat("record --what feed").text, "Nothing of that is in the record, which has 2 entries"));
  EXPECT_TRUE(holds(yard.leat("record --correct 9 'fed 50 g'").text, "there is no entry 9"));
  EXPECT_TRUE(holds(yard.leat("record --correct two 'fed 50 g'").text, "is no number of an entry"));
  EXPECT_TRUE(holds(yard.leat("record --correct 2 'fed 50'").text, "so entry 2 stays as it is; plainer: \"fed 50 g\""));
  EXPECT_TRUE(holds(yard.leat("record --correct 2 'fed 50 g' --verify").text, "are asked one at a time"));
  EXPECT_EQ(yard.leat("record --correct 2 'fed 50'").code, 2);
}

TEST(RecordCommands, WordsAreLookedForInAnyOrder) {
  const Yard yard;
  for (const char* said :
       {"fed 50 g", "1 dead", "planted 9 chard in raft bed north", "cleaned the strainer", "fed 60 g"})
    ASSERT_EQ(yard.at_noon("note loop.toml '" + std::string(said) + "'").code, 0);
  const auto lines = [&](const std::string& words, const std::string& more = "") {
    const std::string text = yard.leat("record --search '" + words + "' " + more).text;
    return std::count(text.begin(), text.end(), '\n');
  };
  const auto found = yard.leat("record --search 'NURSERY fed'");
  EXPECT_TRUE(holds(found.text, "fed 50 g") && holds(found.text, "fed 60 g")) << found.text;
  EXPECT_EQ(lines("nursery FED"), 2);
  EXPECT_EQ(lines("silverbeet|chard"), 1);
  EXPECT_EQ(lines("raft_bed planted"), 1) << "_ is a space";
  EXPECT_EQ(lines("fed|died"), 3);
  const auto latest = yard.leat("record --search 'fed|died' --latest 1");
  EXPECT_TRUE(holds(latest.text, "fed 60 g") && holds(latest.text, "latest 1 of 3")) << latest.text;
  EXPECT_TRUE(holds(yard.leat("record --search 'fed strainer'").text, "Nothing of that")) << latest.text;
  EXPECT_EQ(yard.leat("record --search fed --verify").code, 2);
}

TEST(RecordCommands, ACorrectionKeepsTimeAndPlaceAndIsCorrectedOnce) {
  const Yard yard;
  yard.at_noon("note 'yesterday fed 60 g in raft'");
  EXPECT_TRUE(holds(yard.leat("record --correct 2 'fed 50 g' --why 'typed wrong'").text,
                    "3  fed 50 g, raft_bed.north, 2026-11-19 [instead of 2: typed wrong]"));
  EXPECT_TRUE(holds(yard.leat("record --correct 2 'fed 40 g'").text, "was corrected already, by entry 3"));
  EXPECT_EQ(yard.leat("record --correct 3 nothing --why 'was another day'").code, 0);
  EXPECT_FALSE(holds(yard.leat("record").text, "fed"));
  const std::string all = yard.leat("record --superseded").text;
  EXPECT_TRUE(holds(all, "2  fed 60 g, raft_bed.north, 2026-11-19 [corrected by 3]")) << all;
  EXPECT_TRUE(holds(all, "withdrawn")) << all;
}

TEST(RecordCommands, ANumberIsNotCorrectedIntoARemark) {
  const Yard yard;
  yard.at_noon("note 'fed 60 g'");
  const Printed refused = yard.leat("record --correct 2 'it was less'");
  EXPECT_EQ(refused.code, 2) << refused.text;
  EXPECT_TRUE(holds(refused.text, "\"it was less\" is words only, and entry 2 is more, so it stays as it is"))
      << refused.text;
  EXPECT_TRUE(holds(yard.leat("record").text, "2  fed 60 g"));
  EXPECT_EQ(yard.leat("record --latest -3").code, 2);
}

TEST(RecordCommands, ACropThatIsNearAnotherIsKeptAndAskedAbout) {
  const Yard yard;
  const Printed first = yard.at_noon("note 'planted 12 roket in north'");
  EXPECT_TRUE(holds(first.text, "2  planted 12 roket, raft_bed.north")) << first.text;
  EXPECT_TRUE(
      holds(first.text,
            "kept as written; is \"roket\" rocket?\n       If so: leat record loop.toml --correct 2 \"planted 12 "
            "rocket in north\" --why slip"))
      << first.text;
  EXPECT_FALSE(holds(yard.at_noon("note 'harvested 3 roket 90 g'").text, "kept as written")) << "the record has it so";
  EXPECT_EQ(yard.leat("record --correct 2 'planted 12 rocket in north' --why slip").code, 0);

  EXPECT_FALSE(holds(yard.at_noon("note --dry-run 'harvested 3 rocket 90 g'").text, "kept as written"));
  EXPECT_TRUE(holds(yard.at_noon("note --dry-run 'harvested 3 arugula 90 g'").text, "is \"arugula\" rocket?"));
  EXPECT_TRUE(
      holds(yard.at_noon("note --json 'planted 5 letuce in north'").text, "\"ask\": \"is \\\"letuce\\\" lettuce?\""));
}

TEST(RecordCommands, WhatCannotWaitIsSaidAtOnce) {
  const Yard yard;
  EXPECT_TRUE(holds(yard.at_noon("note 'power off'").text, "How long do the fish have? leat outage loop.toml"));
  EXPECT_FALSE(holds(yard.at_noon("note 'power on'").text, "leat outage"));
  EXPECT_TRUE(holds(yard.at_noon("note 'fish gasping at the inlet'").text, "Gasping fish come first"));
}

TEST(RecordCommands, AFeedAsHeavyAsTheFishIsAskedAbout) {
  const Yard yard;
  const Printed kept = yard.at_noon("note 'fed 60 kg'");
  EXPECT_TRUE(holds(kept.text, "of what the fish weigh by the loop file; was it grams?")) << kept.text;
  EXPECT_TRUE(holds(kept.text, "--correct 2 \"fed 60 g\" --why slip")) << kept.text;
  EXPECT_FALSE(holds(yard.at_noon("note 'fed 60 g'").text, "kept as written"));
}

TEST(RecordCommands, AWeightOfACropIsCompletedByOneCommand) {
  const Yard yard;
  const Printed kept = yard.at_noon("note '3 bags of rocket 450 g'");
  const std::string command = "leat record loop.toml --correct 2 \"harvested 3 bags of rocket 450 g\" --why completed";
  EXPECT_TRUE(holds(kept.text, "harvested or sold?")) << kept.text;
  ASSERT_TRUE(holds(kept.text, command)) << kept.text;
  EXPECT_TRUE(holds(yard.leat(command.substr(5)).text, "3  harvested 450 g of rocket")) << "as it stands there";
}

TEST(RecordCommands, FiltersNarrowTheList) {
  const Yard yard;
  yard.at_noon("note '2026-11-10 07:30 min 8.1 max 10.4' 'yesterday 2 dead' 'planted 12 rocket in raft 1' 'ph 6.8'");
  EXPECT_EQ(yard.at_noon("record --since yesterday --until yesterday").text,
            "    4  died 2, tank.nursery, 2026-11-19\n");
  EXPECT_TRUE(holds(yard.leat("record --what rocket").text, "planted 12 rocket"));
  EXPECT_TRUE(holds(yard.leat("record --what ph").text, "pH 6.8"));
  EXPECT_TRUE(holds(yard.leat("record --where 'raft 1'").text, "planted 12 rocket"));
  EXPECT_FALSE(holds(yard.leat("record --where raft").text, "died"));
  EXPECT_TRUE(holds(yard.leat("record --latest 1").text, "These are the latest 1 of 6"));
}

TEST(RecordCommands, MinAndMaxRunFromTheLastReset) {
  const Yard yard;
  yard.leat("note 'min 8.1 max 10.4' --now '2026-11-19 07:30'");
  EXPECT_TRUE(holds(yard.leat("note 'min 9.1 max 11.4' --now '2026-11-20 07:41'").text,
                    "temperature min 9.1 degC, tank.nursery, 2026-11-20 07:41 (since 2026-11-19 07:30)"));
}

TEST(RecordCommands, AChapterKeepsTheLoopFile) {
  const Yard yard;
  yard.at_noon("note 'fed 60 g'");
  yard.scratch.write("loop.toml", yard.scratch.read("loop.toml") + "# a second raft\n");
  EXPECT_TRUE(holds(yard.at_noon("note 'fed 60 g'").text, "loop.toml has changed since the last chapter"));
  const Printed chapter = yard.at_noon("note 'replumbed: a second raft'");
  EXPECT_TRUE(holds(chapter.text, "4  a new chapter: a second raft")) << chapter.text;
  EXPECT_FALSE(holds(chapter.text, "has changed since"));
  EXPECT_EQ(yard.leat("record --export out").code, 0);
  EXPECT_EQ(yard.scratch.read("out/chapter-4.toml"), yard.scratch.read("loop.toml"));
}

TEST(RecordCommands, WhatGoesOutComesBackTheSame) {
  const Yard yard;
  yard.at_noon(
      "note 'fed 60 g, =slow' 'nh3 between 0.25 and 0.5 by drop kit' 'this morning 2 dead, about 70 g' 'kh 4'");
  yard.leat("record --correct 2 'fed 50 g' --why '-typed'");
  const std::string head = yard.head();
  for (const char* file : {"all.csv", "all.jsonl"}) {
    const Yard other;
    ASSERT_EQ(yard.leat(std::string("record --export ") + file).code, 0);
    other.scratch.write(file, yard.scratch.read(file));
    EXPECT_TRUE(holds(other.leat(std::string("record --dry-run --import ") + file).text, "Would take in 7 entries"));
    EXPECT_TRUE(holds(other.leat("record").text, "nothing has been noted yet"));
    const Printed taken = other.leat(std::string("record --import ") + file);
    EXPECT_TRUE(holds(taken.text, "Took in 7 entries; 0 were")) << taken.text;
    EXPECT_EQ(other.head(), head) << file;
    EXPECT_TRUE(holds(other.leat(std::string("record --import ") + file).text, "Took in 0 entries; 7 were"));
    EXPECT_EQ(other.head(), head) << file;
  }
  EXPECT_TRUE(holds(yard.leat("record --export all.csv").text, "is there already"));
}

TEST(RecordCommands, ATableFromElsewhereIsLookedAtFirst) {
  const Yard yard;
  yard.scratch.write("log.csv", "Date,Temp (C),NH3\n2026-11-01,9.5,0.25-0.5\n2026-11-02,9.7,lots\n");
  const Printed asked = yard.at_noon("record --import log.csv");
  EXPECT_EQ(asked.code, 2);
  EXPECT_TRUE(holds(asked.text, "--map \"Date=date, Temp (C)=temp C, NH3=nh3\"")) << asked.text;
  const std::string map = " --map 'Date=date, Temp (C)=temp C, NH3=nh3 mg/L as N'";
  const Printed dry = yard.at_noon("record --dry-run --import log.csv" + map);
  EXPECT_TRUE(holds(dry.text, "Would take in 4 entries, of them 1 as words only")) << dry.text;
  EXPECT_TRUE(holds(yard.leat("record").text, "nothing has been noted yet"));
  EXPECT_EQ(yard.at_noon("record --import log.csv" + map).code, 0);
  EXPECT_TRUE(
      holds(yard.leat("record --what ammonia").text, "ammonia 0.25 to 0.5 mg/L as N, tank.nursery, 2026-11-01"));
}

TEST(RecordCommands, ABackupComesBack) {
  const Yard yard;
  yard.at_noon("note 'fed 60 g'");
  const std::string head = yard.head();
  const Printed made = yard.at_noon("backup");
  EXPECT_TRUE(holds(made.text, "Wrote backups/loop.record.2026-11-20T120000.db: 2 entries")) << made.text;
  yard.at_noon("note 'ph 6.8'");
  const Printed back = yard.at_noon("restore");
  EXPECT_EQ(back.code, 0) << back.text;
  EXPECT_TRUE(holds(back.text, "The one that was is kept as loop.record.before-restore-2026-11-20T120000.db"))
      << back.text;
  EXPECT_TRUE(holds(back.text, "It held 1 entry that the backup does not")) << back.text;
  EXPECT_EQ(yard.head(), head);
  const Printed named = yard.at_noon("restore backups/loop.record.2026-11-20T120000.db");
  EXPECT_EQ(named.code, 0) << named.text;
  EXPECT_TRUE(holds(yard.at_noon("week --until 2026-12-01").text, "\"2026-12-01\" lies ahead"));
}

TEST(Flags, MistakesInThemAreToldPlainly) {
  const Yard yard;
  const Printed bare = yard.leat("");
  EXPECT_EQ(bare.code, 2);
  EXPECT_TRUE(holds(bare.text, "To begin:\n  leat new ")) << bare.text;
  const auto longest = [](const std::string& text) {
    std::size_t most = 0, start = 0;
    for (std::size_t end; (end = text.find('\n', start)) != std::string::npos; start = end + 1)
      most = std::max(most, end - start);
    return most;
  };
  EXPECT_LE(longest(bare.text), 60u) << bare.text;
  EXPECT_EQ(
      yard.leat("round --urgnt").text,
      "leat round: --urgnt is no flag of it; did you mean \"--urgent\"? leat round --help shows what may be asked.\n");
  EXPECT_EQ(yard.leat("week --days x").text,
            "leat week: --days: \"x\" is no whole number; write such as --days 7. leat week --help shows what may be "
            "asked.\n");
  EXPECT_EQ(yard.leat("round --ical").text,
            "leat round: --ical wants something behind it. leat round --help shows what may be asked.\n");
  EXPECT_TRUE(holds(yard.leat("odd loop.toml more").text, "\"more\" is one word too many"));
  EXPECT_TRUE(holds(yard.leat("dose").text, "dose what? Say base")) << yard.leat("dose").text;
}

/// A terminal of 60 columns, as script(1) gives one.
TEST(Flags, SentencesAndHelpFitANarrowTerminal) {
  const Yard yard;
  if (std::system("command -v script >/dev/null 2>&1") != 0) GTEST_SKIP() << "script is not here";
  const auto on_terminal = [&](const std::string& rest) {
    return yard
        .leat("--help >/dev/null; script -qec \"stty cols 60; '" + std::string(LEAT_BINARY) + "' " + rest +
              "\" /dev/null </dev/null")
        .text;
  };
  for (const char* rest : {"round --help", "cause --help", "feed"}) {
    const std::string text = on_terminal(rest);
    ASSERT_GT(text.size(), 100u) << text;
    for (std::size_t start = 0, end; (end = text.find('\n', start)) != std::string::npos; start = end + 1)
      EXPECT_LE(end - start, 61u) << rest << ": " << text.substr(start, end - start);  // with a carriage return
  }
}

TEST(RecordCommands, AHeadThatWasKeptIsFoundAgain) {
  const Yard yard;
  yard.at_noon("note 'fed 60 g'");
  const std::string head = yard.head().substr(5);
  yard.at_noon("note 'ph 6.8'");
  EXPECT_TRUE(holds(yard.leat("record --verify --head " + head).text, "The head that you kept is in it"));
  const Printed other = yard.leat("record --verify --head " + std::string(64, 'a'));
  EXPECT_EQ(other.code, 1);
  EXPECT_TRUE(holds(other.text, "FAULT the head you kept is not in it")) << other.text;
}

TEST(RecordCommands, SensorsComeInBySenmlAndGoOutAgain) {
  const Yard yard;
  ASSERT_EQ(yard.at_noon("note 'fed 60 g'").code, 0);
  yard.scratch.write(
      "pond.senml", R"([{"bn":"urn:dev:ow:1","bt":1763632800,"bu":"Cel","v":9.5},{"t":60,"v":9.6},{"t":120,"v":9.1}])");
  const Printed unknown = yard.at_noon("record --import pond.senml");
  EXPECT_EQ(unknown.code, 2);
  EXPECT_TRUE(holds(unknown.text, "say it with --map \"urn:dev:ow:1=temperature tank.nursery\"")) << unknown.text;
  const std::string import = "record --import pond.senml --map 'urn:dev:ow:1=temperature tank.nursery'";
  EXPECT_EQ(yard.at_noon(import + " --dry-run").text, "Would take in 3 readings of 1 sensor.\n");
  EXPECT_EQ(yard.at_noon(import).text, "Took in 3 readings of 1 sensor; 0 were in the record already.\n");
  EXPECT_EQ(yard.at_noon(import).text, "Took in 0 readings of 1 sensor; 3 were in the record already.\n");
  const Printed list = yard.leat("record --sensors");
  EXPECT_TRUE(holds(list.text, "temperature, tank.nursery, by urn:dev:ow:1, in degC: 3 readings")) << list.text;
  EXPECT_TRUE(holds(yard.leat("record --what temperature --points 1 --json").text, "\"low\": 9.1"));
  EXPECT_TRUE(holds(yard.leat("feed --now '2025-11-20 03:00'").text, "water.temperature 9.1 degC"));
  ASSERT_EQ(yard.leat("record --export out").code, 0);
  const Printed back = yard.at_noon("record --import out/sensor-1.csv");
  EXPECT_EQ(back.text, "Took in 0 readings of 1 sensor; 3 were in the record already.\n");
  EXPECT_EQ(yard.leat("record --verify").code, 0);
}

TEST(RecordCommands, TheWeekTellsTheOxygenToCome) {
  const Yard yard;
  ASSERT_EQ(yard.at_noon("note 'temp 9.0'").code, 0);
  const std::string text = yard.at_noon("week --text").text;
  const std::string front = "oxygen of the week to come: lowest ";
  const std::size_t at = text.find(front);
  ASSERT_NE(at, std::string::npos) << text;
  const double lowest = std::stod(text.substr(at + front.size()));
  EXPECT_GT(lowest, 6.0) << "sixty small trout in cold November water";
  EXPECT_LT(lowest, 14.6) << "no water above freezing holds more at sea level";
}

TEST(RecordCommands, APhotoIsKeptByWhatItHolds) {
  const Yard yard;
  const std::string png =
      std::string("\x89PNG\r\n\x1A\n", 8) + std::string("\0\0\0\0IHDRcrc!\0\0\0\3tEXtGPScrc!\0\0\0\0IENDcrc!", 39);
  yard.scratch.write("a.jpg", png);
  const Printed kept = yard.at_noon("note '2 dead in nursery' --photo a.jpg");
  EXPECT_EQ(kept.code, 0);
  EXPECT_TRUE(holds(kept.text, ".png, tank.nursery")) << kept.text;
  EXPECT_EQ(yard.leat("record --verify").code, 0);
  yard.scratch.write("b.jpg", "GIF89a");
  const Printed refused = yard.at_noon("note '1 dead' --photo b.jpg");
  EXPECT_EQ(refused.code, 2);
  EXPECT_EQ(refused.text, "leat note: b.jpg is no JPEG, PNG, WebP or HEIC picture by its bytes; save it as JPEG.\n");
  EXPECT_FALSE(holds(yard.leat("record").text, "died 1"));
  for (const auto& file : std::filesystem::directory_iterator(yard.scratch.file("loop.record.photos"))) {
    EXPECT_FALSE(holds(tests::slurp(file.path().string()), "GPS"));
    std::filesystem::remove(file);
  }
  const Printed gone = yard.leat("record --verify");
  EXPECT_EQ(gone.code, 1);
  EXPECT_TRUE(holds(gone.text, "is not there")) << gone.text;
}

}  // namespace
}  // namespace leat
