// The little Markdown that a report's wording is written in: headings, lists, quotes, emphasis, and links to figures
// and entries of the same page. All else is text, whatever it looks like.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace leat::tell {

/// Text as Markdown that shows it as it is: its marks behind backslashes, on one line.
std::string markdown_escaped(std::string_view text);

/// What a link may point at: letters, digits, point, dash and underscore; all else becomes an underscore.
std::string anchor_of(std::string_view name);

/// A link within the page: [text](#anchor).
struct WordingLink {
  std::string text, anchor;
};
std::vector<WordingLink> links_in(std::string_view markdown);

/// Everything that is not of the forms above is escaped; a link goes nowhere but to an anchor of the page.
std::string html_of_markdown(std::string_view markdown);
/// For a terminal: without marks, broken into lines.
std::string text_of_markdown(std::string_view markdown);

}  // namespace leat::tell
