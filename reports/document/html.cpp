#include "reports/document/html.hpp"

#include <algorithm>

#include "reports/document/markup.hpp"
#include "reports/document/number_text.hpp"
#include "units/number.hpp"

namespace steelyard::reports {
namespace {

using document::escaped;

constexpr double picture_width = 760;  // pixels, as in the workbook

std::string_view class_of(Tone tone) {
  switch (tone) {
    case Tone::within:
      return "within";
    case Tone::close_within:
      return "close-within";
    case Tone::close_over:
      return "close-over";
    case Tone::over:
      return "over";
    case Tone::unknown:
    case Tone::none:
      break;
  }
  return "unknown";
}

std::string cell_content(const Cell& cell) {
  std::string content;
  if (const auto* text = std::get_if<std::string>(&cell.value))
    content = escaped(*text);
  else if (const auto* number = std::get_if<Number>(&cell.value))
    content =
        "<data value=\"" + units::shortest(number->value) + "\">" + escaped(shown_text(*number)) + "</data>";
  return cell.struck && !content.empty() ? "<del>" + content + "</del>" : content;
}

std::string figure_head(std::string_view title, std::string_view description) {
  return "<figure role=\"img\" aria-label=\"" + escaped(description) + "\">\n<figcaption class=\"bold\">" +
         escaped(title) + "</figcaption>\n";
}

/// One sheet of the report as a section of the page.
class Section {
 public:
  Section(const SheetContent& content, std::size_t index) : content_(content), index_(index) {}
  std::string write();

 private:
  void put(const Heading& heading) { heading_line(heading.text); }
  void put(const Paragraph& paragraph);
  void put(const Facts& facts);
  void put(const Banner& banner);
  void put(const Table& table);
  void put(const LongTable& table);
  void put(const Columns& columns);
  void put(const Bars& bars);
  void put(const Picture& picture);
  void put(const Signature& signature);
  void put_row(const Table& table, const TableRow& row);
  /// One bar for row `row` of the last table, as long as its figure is a part of `whole`; the rating's line
  /// where 1 is.
  void bar(int row, int category_column, int value_column, Tone tone, double whole, bool rated);
  void heading_line(std::string_view text);
  /// A list of bullets stands open from its first to its last.
  void close_list();

  const SheetContent& content_;
  std::size_t index_;
  const Table* last_table_ = nullptr;
  bool list_open_ = false;
  std::string out_;
};

void Section::heading_line(std::string_view text) {
  const std::string tag = index_ == 0 ? "h2" : "h3";
  out_ += "<" + tag + ">" + escaped(text) + "</" + tag + ">\n";
}

void Section::close_list() {
  if (list_open_) out_ += "</ul>\n";
  list_open_ = false;
}

void Section::put(const Paragraph& paragraph) {
  if (paragraph.kind == Paragraph::Kind::bullet) {
    if (!list_open_) out_ += "<ul>\n";
    list_open_ = true;
    out_ += "<li>" + escaped(paragraph.text) + "</li>\n";
    return;
  }
  if (paragraph.kind == Paragraph::Kind::warning)
    out_ += "<p class=\"warning\">▲ " + escaped(paragraph.text) + "</p>\n";
  else
    out_ += std::string(paragraph.kind == Paragraph::Kind::note ? "<p class=\"note\">" : "<p>") +
            escaped(paragraph.text) + "</p>\n";
}

void Section::put(const Facts& facts) {
  out_ += facts.two_columns ? "<dl class=\"two\">\n" : "<dl>\n";
  for (const Fact& fact : facts.facts)
    out_ += "<div><dt>" + escaped(fact.label) + "</dt><dd>" + escaped(fact.text) + "</dd></div>\n";
  out_ += "</dl>\n";
}

void Section::put(const Banner& banner) {
  out_ += "<div class=\"banner solid " + std::string(class_of(banner.tone)) + "\">\n";
  heading_line(std::string(sign_of(banner.tone)) + " " + banner.headline);
  for (const std::string& line : banner.lines) out_ += "<p>" + escaped(line) + "</p>\n";
  out_ += "</div>\n";
}

void Section::put_row(const Table& table, const TableRow& row) {
  out_ += "<tr>";
  for (std::size_t i = 0; i < table.columns.size(); ++i) {
    const Cell empty;
    const Cell& cell = i < row.cells.size() ? row.cells[i] : empty;
    const auto* text = std::get_if<std::string>(&cell.value);
    const bool names_row = i == 0 && text && !text->empty();
    std::string classes;
    const auto add = [&classes](std::string_view one) {
      classes.append(classes.empty() ? "" : " ").append(one);
    };
    if (table.columns[i].right) add("right");
    if (cell.bold) add("bold");
    if (cell.tone != Tone::none) {
      add("pale");
      add(class_of(cell.tone));
    }
    out_ += names_row ? "<th scope=\"row\"" : "<td";
    if (!classes.empty()) out_ += " class=\"" + classes + "\"";
    out_ += ">" + cell_content(cell) + (names_row ? "</th>" : "</td>");
  }
  out_ += "</tr>\n";
}

void Section::put(const Table& table) {
  last_table_ = &table;
  if (table.rows.empty()) {
    heading_line(table.title);
    out_ += "<p>" + escaped(table.when_empty) + "</p>\n";
    return;
  }
  // Wide tables are scrolled, by keyboard too.
  out_ += "<div class=\"scroll\" role=\"region\" tabindex=\"0\" aria-label=\"" + escaped(table.title) +
          "\">\n<table>\n<caption>" + escaped(table.title) + "</caption>\n<thead><tr>";
  for (const Column& column : table.columns)
    out_ += std::string(column.right ? "<th scope=\"col\" class=\"right\">" : "<th scope=\"col\">") +
            escaped(column.title) + "</th>";
  out_ += "</tr></thead>\n<tbody>\n";
  for (const TableRow& row : table.rows) put_row(table, row);
  out_ += "</tbody>\n</table>\n</div>\n";
}

void Section::put(const LongTable& table) {
  Table whole{.title = content_.title, .columns = table.columns, .when_empty = table.when_empty};
  for (std::size_t i = 0; i < table.rows; ++i) whole.rows.push_back(table.row(i));
  put(whole);
  last_table_ = nullptr;
}

void Section::bar(int row, int category_column, int value_column, Tone tone, double whole, bool rated) {
  const auto percent = [whole](double part) {
    return units::fixed(whole > 0 ? 100 * std::clamp(part / whole, 0.0, 1.0) : 0, 2);
  };
  const auto& cells = last_table_->rows.at(static_cast<std::size_t>(row)).cells;
  const auto* name = std::get_if<std::string>(&cells.at(static_cast<std::size_t>(category_column)).value);
  const auto* number = std::get_if<Number>(&cells.at(static_cast<std::size_t>(value_column)).value);
  if (!number) return;
  out_ += "<div class=\"bar\"><span class=\"name\">" + escaped(name ? *name : std::string()) +
          "</span><span class=\"track\"><span class=\"fill solid " + std::string(class_of(tone)) +
          "\" style=\"width: " + percent(number->value) + "%\"></span><span class=\"reads\">" +
          escaped(shown_text(*number)) + "</span>";
  if (rated) out_ += "<span class=\"rated\" style=\"left: " + percent(1) + "%\"></span>";
  out_ += "</span></div>\n";
}

void Section::put(const Columns& columns) {
  if (!last_table_) return;
  double most = 0;
  for (int i = 0; i < columns.rows; ++i) {
    const auto& cells = last_table_->rows.at(static_cast<std::size_t>(columns.first_row + i)).cells;
    if (const auto* number =
            std::get_if<Number>(&cells.at(static_cast<std::size_t>(columns.value_column)).value))
      most = std::max(most, number->value);
  }
  out_ += figure_head(columns.title, columns.description);
  for (int i = 0; i < columns.rows; ++i)
    bar(columns.first_row + i, columns.category_column, columns.value_column,
        columns.tones.empty() ? Tone::unknown : columns.tones.at(static_cast<std::size_t>(i)), most, false);
  out_ += "</figure>\n";
}

void Section::put(const Bars& bars) {
  if (!last_table_) return;
  out_ += figure_head(bars.title, bars.description);
  for (int i = 0; i < bars.rows; ++i)
    bar(i, bars.category_column, bars.value_column, bars.tones.at(static_cast<std::size_t>(i)), bars.maximum,
        true);
  out_ += "</figure>\n";
}

void Section::put(const Picture& picture) {
  out_ += "<figure>\n";
  heading_line(picture.title);
  out_ += document::svg_of(picture.drawing, picture.title, picture_width);
  if (!picture.note.empty())
    out_ += "<figcaption class=\"note\">" + escaped(picture.note) + "</figcaption>\n";
  out_ += "</figure>\n";
}

void Section::put(const Signature& signature) {
  out_ += "<div class=\"signature\"><span>" + escaped(signature.name) +
          "</span><span></span><span></span><small>Weighed and authorised by</small><small>Signature</small>"
          "<small>Date</small></div>\n";
}

std::string Section::write() {
  const std::string id = "part-" + std::to_string(index_ + 1);
  std::string classes = index_ == 0 ? "first" : "";
  if (content_.landscape) classes += classes.empty() ? "wide" : " wide";
  out_ = "<section id=\"" + id + "\" class=\"" + classes + "\">\n";
  if (index_ > 0) out_ += "<h2>" + escaped(content_.title) + "</h2>\n";
  if (!content_.subtitle.empty()) out_ += "<p class=\"subtitle\">" + escaped(content_.subtitle) + "</p>\n";
  for (const Block& block : content_.blocks) {
    const auto* paragraph = std::get_if<Paragraph>(&block);
    if (!paragraph || paragraph->kind != Paragraph::Kind::bullet) close_list();
    std::visit([this](const auto& one) { put(one); }, block);
  }
  close_list();
  return out_ + "</section>\n";
}

std::string contents(const Report& report) {
  std::string nav = "<nav aria-label=\"Parts of this report\">\n";
  for (std::size_t i = 0; i < report.sheets.size(); ++i)
    nav += (i > 0 ? std::string(" · ") : std::string()) + "<a href=\"#part-" + std::to_string(i + 1) + "\">" +
           escaped(report.sheets[i].name) + "</a>\n";
  return nav + "</nav>\n";
}

}  // namespace

std::string html_page(const Report& report) {
  const std::string number = "Report " + escaped(report.number) +
                             (report.standing.empty() ? std::string() : " · " + escaped(report.standing));
  std::string page =
      "<!DOCTYPE html>\n<html lang=\"en-GB\">\n<head>\n<meta charset=\"utf-8\"/>\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n<title>" +
      escaped(report.title) + " " + escaped(report.number) + "</title>\n<style>\n" +
      document::page_style(report) + "</style>\n</head>\n<body>\n<header>\n<p class=\"standing\">" + number +
      "</p>\n<h1>" + escaped(report.title) + "</h1>\n" + contents(report) + "</header>\n<main>\n";
  for (std::size_t i = 0; i < report.sheets.size(); ++i) page += Section(report.sheets[i], i).write();
  return page + "</main>\n<footer>\n<p class=\"end\">— End of report " + escaped(report.number) +
         " —</p>\n<p>Steelyard " + escaped(report.engine) + " · issued " + escaped(report.issued) +
         "</p>\n</footer>\n</body>\n</html>\n";
}

}  // namespace steelyard::reports
