// Commands with the text they must print: every *.expected under examples/ and tests/expected/ holds runs, each a line
// "$ leat ..." and what follows it. They guard against change and prove nothing about the science. LEAT_WRITE=1 writes
// them anew.
#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "tests/loop_file.h"

namespace leat {
namespace {

namespace fs = std::filesystem;

std::vector<std::string> expected_files() {
  std::vector<std::string> files;
  for (const char* folder : {"examples", "tests/expected"})
    for (const auto& entry : fs::recursive_directory_iterator(fs::path(LEAT_ROOT) / folder))
      if (entry.path().extension() == ".expected" && !entry.path().string().ends_with(".toml.expected"))
        files.push_back(fs::relative(entry.path(), LEAT_ROOT).string());
  std::sort(files.begin(), files.end());
  return files;
}

/// What a command prints, both streams together, run in the project's folder; the exit code stands at the end when it
/// is not 0.
std::string printed_by(std::string command) {
  const std::string program = "leat ";
  if (const auto at = command.find(program); at == 0)
    command.replace(0, program.size(), std::string(LEAT_BINARY) + " ");
  const std::string shell = "cd '" + std::string(LEAT_ROOT) + "' && " + command + " 2>&1";
  std::FILE* pipe = popen(shell.c_str(), "r");
  std::string text;
  std::array<char, 4096> buffer;
  for (std::size_t n; (n = std::fread(buffer.data(), 1, buffer.size(), pipe)) > 0;) text.append(buffer.data(), n);
  const int status = pclose(pipe);
  if (status != 0) text += "[exit code " + std::to_string(WEXITSTATUS(status)) + "]\n";
  return text;
}

std::vector<std::string> commands_in(const std::string& text) {
  std::vector<std::string> commands;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    if (text.compare(at, 7, "$ leat ") == 0) commands.push_back(text.substr(at + 2, end - at - 2));
    at = end + 1;
  }
  return commands;
}

class Expected : public ::testing::TestWithParam<std::string> {};

TEST_P(Expected, PrintsWhatItDid) {
  const std::string path = std::string(LEAT_ROOT) + "/" + GetParam();
  const std::string wanted = tests::slurp(path);
  const auto commands = commands_in(wanted);
  ASSERT_FALSE(commands.empty()) << "no line starts with \"$ leat \"";
  std::string got;
  for (const std::string& command : commands) got += "$ " + command + "\n" + printed_by(command);
  if (std::getenv("LEAT_WRITE")) std::ofstream(path, std::ios::binary) << got;
  EXPECT_EQ(got, std::getenv("LEAT_WRITE") ? got : wanted);
}

std::string test_name(const ::testing::TestParamInfo<std::string>& info) {
  std::string name = info.param;
  for (char& c : name)
    if (!std::isalnum(static_cast<unsigned char>(c))) c = '_';
  return name;
}

INSTANTIATE_TEST_SUITE_P(Commands, Expected, ::testing::ValuesIn(expected_files()), test_name);

}  // namespace
}  // namespace leat
