#include "tell/markdown.h"

#include <fmt/core.h>

#include <cctype>
#include <functional>

#include "tell/drawing/layout/text.h"
#include "tell/table.h"

namespace leat::tell {
namespace {

using drawing::escaped;

/// Marks that do something wherever they stand, here or with other readers of Markdown.
constexpr std::string_view kActive = "\\`*_[]<>&|~";
/// Marks that a backslash may stand before.
constexpr std::string_view kMarks = "\\`*_{}[]()#+-.!|<>&~=:\"'$%@^/";

bool is_plain_letter(char c) {
  return (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || c == '.' || c == '-' || c == '_';
}

bool is_mark(char c) {
  return kMarks.find(c) != std::string_view::npos;
}

/// A link at the front: its text, its anchor, and how many bytes it takes; none takes 0.
struct LinkRead {
  std::string_view text, anchor;
  std::size_t size = 0;
};

LinkRead link_at(std::string_view s) {
  if (!s.starts_with("[")) return {};
  std::size_t close = 1;
  while (close < s.size() && s[close] != ']') {
    if (s[close] == '[') return {};
    close += s[close] == '\\' ? 2 : 1;
  }
  if (close >= s.size() || !s.substr(close).starts_with("](#")) return {};
  std::size_t end = close + 3;
  while (end < s.size() && is_plain_letter(s[end])) ++end;
  if (end >= s.size() || s[end] != ')' || end == close + 3) return {};
  return {s.substr(1, close - 1), s.substr(close + 3, end - close - 3), end + 1};
}

/// What each part of a line becomes.
struct Style {
  std::function<std::string(std::string_view)> text;
  std::function<std::string(const std::string& inside, std::string_view anchor)> link;
  std::string strong, strong_end, stress, stress_end;
};

/// The end of an emphasis that starts here, or npos.
std::size_t closing(std::string_view s, std::string_view mark) {
  for (std::size_t i = mark.size(); i + mark.size() <= s.size(); ++i) {
    if (s[i] == '\\')
      ++i;
    else if (s.substr(i).starts_with(mark) && i > mark.size())
      return i;
  }
  return std::string_view::npos;
}

std::string inline_of(std::string_view s, const Style& style, int depth = 0) {
  std::string out, plain;
  const auto flush = [&] {
    if (!plain.empty()) out += style.text(plain);
    plain.clear();
  };
  while (!s.empty()) {
    if (s[0] == '\\' && s.size() > 1 && is_mark(s[1])) {
      plain += s[1];
      s.remove_prefix(2);
      continue;
    }
    const std::string_view mark = s.starts_with("**") ? "**" : s.starts_with("*") ? "*" : "";
    const std::size_t end = mark.empty() || depth > 2 ? std::string_view::npos : closing(s, mark);
    if (end != std::string_view::npos) {
      flush();
      const std::string inside = inline_of(s.substr(mark.size(), end - mark.size()), style, depth + 1);
      out += mark.size() == 2 ? style.strong + inside + style.strong_end : style.stress + inside + style.stress_end;
      s.remove_prefix(end + mark.size());
    } else if (const LinkRead link = depth > 2 ? LinkRead{} : link_at(s); link.size > 0) {
      flush();
      out += style.link(inline_of(link.text, style, depth + 1), link.anchor);
      s.remove_prefix(link.size);
    } else {
      plain += s[0];
      s.remove_prefix(1);
    }
  }
  flush();
  return out;
}

const Style& html_style() {
  static const Style style{[](std::string_view text) { return escaped(text); },
                           [](const std::string& inside, std::string_view anchor) {
                             return fmt::format("<a href=\"#{}\">{}</a>", anchor, inside);
                           },
                           "<strong>",
                           "</strong>",
                           "<em>",
                           "</em>"};
  return style;
}

const Style& text_style() {
  static const Style style{[](std::string_view text) { return std::string(text); },
                           [](const std::string& inside, std::string_view) { return inside; },
                           "",
                           "",
                           "",
                           ""};
  return style;
}

/// One block of lines: a heading (1 to 3), a list item, a quote or a paragraph.
struct Block {
  char kind = 'p';  ///< '1' '2' '3' 'i' 'q' 'p'
  std::string text;
};

/// The kind that a line begins, and how many bytes of mark it has; a paragraph has none.
std::pair<char, std::size_t> begins(std::string_view line) {
  if (line.starts_with("### ")) return {'3', 4};
  if (line.starts_with("## ")) return {'2', 3};
  if (line.starts_with("# ")) return {'1', 2};
  if (line.starts_with("- ") || line.starts_with("* ")) return {'i', 2};
  if (line.starts_with("> ")) return {'q', 2};
  return {'p', 0};
}

std::vector<Block> blocks_of(std::string_view markdown) {
  std::vector<Block> blocks;
  bool open = false;
  while (!markdown.empty()) {
    const std::size_t end = std::min(markdown.find('\n'), markdown.size());
    std::string_view line = markdown.substr(0, end);
    markdown.remove_prefix(std::min(end + 1, markdown.size()));
    while (!line.empty() && (line.back() == '\r' || line.back() == ' ')) line.remove_suffix(1);
    const auto [kind, size] = begins(line);
    if (line.empty()) {
      open = false;
    } else if (kind == 'p' && open) {
      while (line.starts_with(' ')) line.remove_prefix(1);
      blocks.back().text += " " + std::string(line);
    } else {
      blocks.push_back({kind, std::string(line.substr(size))});
      open = kind == 'p' || kind == 'i' || kind == 'q';
    }
  }
  return blocks;
}

}  // namespace

std::string markdown_escaped(std::string_view text) {
  std::string out;
  const auto in_word = [&](std::size_t i) {
    const auto letter = [](char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0; };
    return i > 0 && i + 1 < text.size() && letter(text[i - 1]) && letter(text[i + 1]);
  };
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    const bool first = i == 0 && std::string_view("#+-=").find(c) != std::string_view::npos;
    // "raft_bed.north" stays readable: an underscore within a word does nothing anywhere.
    const bool active = kActive.find(c) != std::string_view::npos && !(c == '_' && in_word(i));
    if (first || active) out += '\\';
    out += static_cast<unsigned char>(c) < 0x20 ? ' ' : c;
  }
  return out;
}

std::string anchor_of(std::string_view name) {
  std::string out;
  for (const char c : name) out += is_plain_letter(c) ? c : '_';
  return out;
}

std::vector<WordingLink> links_in(std::string_view markdown) {
  std::vector<WordingLink> links;
  for (const Block& block : blocks_of(markdown)) {
    const std::string& s = block.text;
    for (std::size_t i = 0; i < s.size(); ++i) {
      if (s[i] == '\\') {
        ++i;
        continue;
      }
      const LinkRead link = link_at(std::string_view(s).substr(i));
      if (link.size == 0) continue;
      links.push_back({inline_of(link.text, text_style()), std::string(link.anchor)});
      i += link.size - 1;
    }
  }
  return links;
}

std::string html_of_markdown(std::string_view markdown) {
  std::string out;
  bool list = false;
  for (const Block& block : blocks_of(markdown)) {
    if (list && block.kind != 'i') out += "</ul>\n";
    if (!list && block.kind == 'i') out += "<ul>\n";
    list = block.kind == 'i';
    const std::string inside = inline_of(block.text, html_style());
    if (block.kind == 'i')
      out += fmt::format("<li>{}</li>\n", inside);
    else if (block.kind == 'q')
      out += fmt::format("<blockquote>{}</blockquote>\n", inside);
    else if (block.kind == 'p')
      out += fmt::format("<p>{}</p>\n", inside);
    else
      out += fmt::format("<h{0}>{1}</h{0}>\n", block.kind, inside);
  }
  return list ? out + "</ul>\n" : out;
}

std::string text_of_markdown(std::string_view markdown) {
  std::string out;
  char before = 0;
  for (const Block& block : blocks_of(markdown)) {
    const std::string inside = inline_of(block.text, text_style());
    const bool item = block.kind == 'i' || block.kind == 'q';
    const bool close = before == 0 || (item && (before == 'i' || before == 'q' || before == '2' || before == '3')) ||
                       (block.kind == 'p' && (before == '2' || before == '3'));
    if (!close) out += "\n";
    out += item ? wrapped((block.kind == 'i' ? "  - " : "  > ") + inside, 100, "    ") : wrapped(inside, 100, "");
    before = block.kind;
  }
  return out;
}

}  // namespace leat::tell
