// A folder with a loop file in which commands are run, for tests that go in by the front door.
#pragma once

#include <sys/wait.h>

#include <array>
#include <cstdio>
#include <string>

#include "record/scratch.h"
#include "tests/loop_file.h"

namespace leat::tests {

struct Printed {
  std::string text;
  int code = 0;
};

/// Runs a command line by the shell; both streams together.
inline Printed printed_by_shell(const std::string& line) {
  std::FILE* pipe = popen((line + " 2>&1").c_str(), "r");
  Printed printed;
  std::array<char, 4096> buffer;
  for (std::size_t n; (n = std::fread(buffer.data(), 1, buffer.size(), pipe)) > 0;)
    printed.text.append(buffer.data(), n);
  const int status = pclose(pipe);
  printed.code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  return printed;
}

class Yard {
  record::tests::Scratch scratch_;

 public:
  explicit Yard(const std::string& loop) { scratch_.write("loop.toml", slurp(std::string(LEAT_ROOT) + "/" + loop)); }
  Printed leat(const std::string& rest) const {
    return printed_by_shell("cd '" + scratch_.folder() + "' && '" + LEAT_BINARY + "' " + rest);
  }
  Printed note(const std::string& phrase, const std::string& now) const {
    return leat("note '" + phrase + "' --now '" + now + "'");
  }
  std::string file(const std::string& name) const { return slurp(scratch_.folder() + "/" + name); }
  void write(const std::string& name, const std::string& text) { scratch_.write(name, text); }
  std::string folder() const { return scratch_.folder(); }
};

inline bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

/// A text with every run of blanks and line ends as one blank: for sentences that were broken into lines.
inline std::string unbroken(const std::string& text) {
  std::string out;
  for (const char c : text) {
    const bool blank = c == ' ' || c == '\n';
    if (!blank || out.empty() || out.back() != ' ') out += blank ? ' ' : c;
  }
  return out;
}

}  // namespace leat::tests
