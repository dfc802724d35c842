#include <algorithm>
#include <numeric>

#include "reports/document/number_text.hpp"
#include "reports/document/text.hpp"
#include "reports/words/terminal_text.hpp"

namespace steelyard::reports::document {
namespace {

constexpr std::size_t between = 2;      // blanks between columns
constexpr std::size_t least_text = 13;  // columns below which a wrapped text is no longer read
constexpr std::size_t most_lines = 4;   // of one row, before the table is written row by row

using Rows = std::vector<std::vector<std::string>>;

std::size_t longest_word(std::string_view text) {
  std::size_t most = 0;
  for (const std::string& word : wrap(text, 1000)) {
    std::string_view rest = word;
    while (!rest.empty()) {
      const std::size_t end = std::min(rest.find(' '), rest.size());
      most = std::max(most, display_width(rest.substr(0, end)));
      rest.remove_prefix(std::min(end + 1, rest.size()));
    }
  }
  return most;
}

/// What a column takes at least and at most: figures are never broken, texts between words.
struct Need {
  std::size_t least = 0, most = 0;
};

std::vector<Need> needs_of(const Table& table, const Rows& rows) {
  std::vector<Need> needs;
  for (std::size_t i = 0; i < table.columns.size(); ++i) {
    const std::string head = one_line(table.columns[i].title);
    Need need{longest_word(head), display_width(head)};
    for (std::size_t r = 0; r < rows.size(); ++r) {
      const std::size_t width = display_width(rows[r][i]);
      const auto& cells = table.rows[r].cells;
      const bool figure = i < cells.size() && std::holds_alternative<Number>(cells[i].value);
      need.most = std::max(need.most, width);
      need.least = std::max(need.least,
                            figure ? width : std::min(width, std::min(longest_word(rows[r][i]), least_text)));
    }
    if (need.most > least_text) need.least = std::max(need.least, std::min(need.most, least_text));
    needs.push_back(need);
  }
  return needs;
}

std::size_t sum(const std::vector<std::size_t>& widths) {
  return std::accumulate(widths.begin(), widths.end(), between * (widths.size() - 1));
}

/// Widths that fit, the room shared out to those that still want some; nothing where not even the least fits.
std::vector<std::size_t> widths_of(const std::vector<Need>& needs, std::size_t width) {
  std::vector<std::size_t> widths;
  for (const Need& need : needs) widths.push_back(need.least);
  if (widths.empty() || sum(widths) > width) return {};
  for (std::size_t room = width - sum(widths); room > 0;) {
    const std::size_t before = room;
    for (std::size_t i = 0; i < needs.size() && room > 0; ++i)
      if (widths[i] < needs[i].most) ++widths[i], --room;
    if (room == before) break;
  }
  return widths;
}

/// One row, as many lines high as its highest cell.
std::string aligned(const std::vector<std::string>& cells, const Table& table,
                    const std::vector<std::size_t>& widths) {
  std::vector<std::vector<std::string>> lines;
  std::size_t height = 1;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    lines.push_back(wrap(cells[i], widths[i]));
    height = std::max(height, lines.back().size());
  }
  std::string out;
  for (std::size_t line = 0; line < height; ++line) {
    std::string row;
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const std::string text = line < lines[i].size() ? lines[i][line] : std::string();
      row += (i > 0 ? std::string(between, ' ') : std::string()) +
             (table.columns[i].right ? pad_left(text, widths[i]) : pad_right(text, widths[i]));
    }
    row.erase(row.find_last_not_of(' ') + 1);
    out += row + '\n';
  }
  return out;
}

/// A row as its first text and, beneath, every other cell behind its column's name.
std::string apart(const std::vector<std::string>& cells, const Table& table, std::size_t width) {
  std::string out = paragraph("* ", cells.front().empty() ? "-" : cells.front(), width), line;
  const auto end_line = [&] {
    if (!line.empty()) out += line + '\n';
    line.clear();
  };
  for (std::size_t i = 1; i < cells.size(); ++i) {
    if (cells[i].empty()) continue;
    const std::string head = one_line(table.columns[i].title);
    const std::string piece = head.empty() ? cells[i] : head + ": " + cells[i];
    if (!line.empty() && display_width(line) + 2 + display_width(piece) <= width) {
      line += "; " + piece;
      continue;
    }
    end_line();
    if (4 + display_width(piece) <= width)
      line = "    " + piece;
    else
      out += paragraph("    ", piece, width);
  }
  end_line();
  return out;
}

/// The table without the columns in which no row says anything.
Table without_empty_columns(Table table) {
  for (std::size_t i = table.columns.size(); i-- > 1;) {
    const auto says = [i](const TableRow& row) {
      return i < row.cells.size() && !line_of(row.cells[i]).empty();
    };
    if (std::any_of(table.rows.begin(), table.rows.end(), says)) continue;
    table.columns.erase(table.columns.begin() + static_cast<std::ptrdiff_t>(i));
    for (TableRow& row : table.rows)
      if (i < row.cells.size()) row.cells.erase(row.cells.begin() + static_cast<std::ptrdiff_t>(i));
  }
  return table;
}

}  // namespace

std::string one_line(std::string_view text) {
  std::string flat(text);
  std::replace_if(
      flat.begin(), flat.end(), [](char c) { return c == '\n' || c == '\r' || c == '\t'; }, ' ');
  return printable(flat);
}

std::string line_of(const Cell& cell) {
  if (const auto* text = std::get_if<std::string>(&cell.value)) return one_line(*text);
  if (const auto* number = std::get_if<Number>(&cell.value)) return one_line(shown_text(*number));
  return {};
}

std::string text_table(const Table& whole, std::size_t width) {
  const Table table = without_empty_columns(whole);
  Rows rows;
  for (const TableRow& row : table.rows) {
    rows.emplace_back(table.columns.size());
    for (std::size_t i = 0; i < std::min(row.cells.size(), table.columns.size()); ++i)
      rows.back()[i] = line_of(row.cells[i]);
  }
  std::vector<std::size_t> widths = widths_of(needs_of(table, rows), width);
  const auto too_high = [&](const std::vector<std::string>& cells) {
    for (std::size_t i = 0; i < cells.size(); ++i)
      if (wrap(cells[i], widths[i]).size() > most_lines) return true;
    return false;
  };
  if (!widths.empty() && std::any_of(rows.begin(), rows.end(), too_high)) widths.clear();
  std::string out;
  if (widths.empty()) {
    for (const auto& cells : rows) out += apart(cells, table, width);
    return out;
  }
  std::vector<std::string> heads;
  for (const Column& column : table.columns) heads.push_back(one_line(column.title));
  out = aligned(heads, table, widths) + std::string(sum(widths), '-') + '\n';
  for (const auto& cells : rows) out += aligned(cells, table, widths);
  return out;
}

}  // namespace steelyard::reports::document
