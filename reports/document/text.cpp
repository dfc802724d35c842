#include "reports/document/text.hpp"

#include <algorithm>
#include <cmath>

#include "reports/document/number_text.hpp"
#include "reports/words/terminal_text.hpp"

namespace steelyard::reports {
namespace {

using document::line_of;
using document::one_line;

constexpr std::size_t label_width = 20;

std::string ruled(std::string_view text, char rule) {
  std::string out;
  std::size_t most = 0;
  for (const std::string& line : wrap(text, table_width)) {
    out += line + '\n';
    most = std::max(most, display_width(line));
  }
  return out + std::string(most, rule) + '\n';
}

/// One sheet of the report.
class Part {
 public:
  explicit Part(const SheetContent& content) : content_(content) {}
  std::string write(bool first);

 private:
  void put(const Heading& heading) { out_ += '\n' + ruled(one_line(heading.text), '-'); }
  void put(const Paragraph& paragraph);
  void put(const Facts& facts);
  void put(const Banner& banner);
  void put(const Table& table);
  void put(const LongTable& table);
  void put(const Columns& columns);
  void put(const Bars& bars);
  void put(const Picture& picture);
  void put(const Signature& signature);

  /// "Rear axle load  ##############|#    105.8 %": as long as its figure is a part of `whole`; the upright
  /// stroke is the rating.
  void bar(int row, int category_column, int value_column, double whole, bool rated);

  const SheetContent& content_;
  const Table* last_table_ = nullptr;
  std::string out_;
};

void Part::put(const Paragraph& paragraph) {
  const char* first = paragraph.kind == Paragraph::Kind::bullet    ? "  • "
                      : paragraph.kind == Paragraph::Kind::warning ? "▲ "
                                                                   : "";
  out_ += reports::paragraph(first, one_line(paragraph.text));
}

void Part::put(const Facts& facts) {
  for (const Fact& fact : facts.facts) {
    const std::string label = one_line(fact.label);
    const bool beside = display_width(label) <= label_width;
    if (!beside) out_ += reports::paragraph("", label);
    out_ +=
        reports::paragraph(pad_right(beside ? label : std::string(), label_width + 2), one_line(fact.text));
  }
}

void Part::put(const Banner& banner) {
  const std::string rule(table_width, '=');
  out_ += '\n' + rule + '\n' +
          reports::paragraph("  " + std::string(sign_of(banner.tone)) + "  ", one_line(banner.headline));
  for (const std::string& line : banner.lines) out_ += reports::paragraph("     ", one_line(line));
  out_ += rule + "\n\n";
}

void Part::put(const Table& table) {
  last_table_ = &table;
  put(Heading{table.title});
  if (table.rows.empty())
    out_ += reports::paragraph("", one_line(table.when_empty));
  else
    out_ += document::text_table(table, table_width);
}

void Part::put(const LongTable& table) {
  Table whole{.title = content_.title, .columns = table.columns, .when_empty = table.when_empty};
  for (std::size_t i = 0; i < table.rows; ++i) whole.rows.push_back(table.row(i));
  put(whole);
  last_table_ = nullptr;
}

void Part::bar(int row, int category_column, int value_column, double whole, bool rated) {
  constexpr std::size_t name_width = 28, track = 40;
  const auto place = [whole](double part) {
    return static_cast<std::size_t>(
        std::lround(whole > 0 ? track * std::clamp(part / whole, 0.0, 1.0) : 0.0));
  };
  const auto& cells = last_table_->rows.at(static_cast<std::size_t>(row)).cells;
  const Cell& figure = cells.at(static_cast<std::size_t>(value_column));
  const auto* number = std::get_if<Number>(&figure.value);
  if (!number) return;
  std::string line(place(number->value), '#');
  line.resize(track + 1, ' ');
  if (rated) line[place(1)] = '|';
  out_ += pad_right(line_of(cells.at(static_cast<std::size_t>(category_column))), name_width) + ' ' + line +
          pad_left(line_of(figure), 9) + '\n';
}

void Part::put(const Columns& columns) {
  if (!last_table_) return;
  put(Heading{columns.title});
  double most = 0;
  for (int i = 0; i < columns.rows; ++i) {
    const auto& cells = last_table_->rows.at(static_cast<std::size_t>(columns.first_row + i)).cells;
    if (const auto* number =
            std::get_if<Number>(&cells.at(static_cast<std::size_t>(columns.value_column)).value))
      most = std::max(most, number->value);
  }
  for (int i = 0; i < columns.rows; ++i)
    bar(columns.first_row + i, columns.category_column, columns.value_column, most, false);
  if (!columns.description.empty()) out_ += reports::paragraph("", one_line(columns.description));
}

void Part::put(const Bars& bars) {
  if (!last_table_) return;
  put(Heading{bars.title});
  for (int i = 0; i < bars.rows; ++i) bar(i, bars.category_column, bars.value_column, bars.maximum, true);
  if (!bars.description.empty()) out_ += reports::paragraph("", one_line(bars.description));
}

void Part::put(const Picture& picture) {
  put(Heading{picture.title});
  out_ += reports::paragraph("", one_line(picture.drawing.description));
  if (!picture.note.empty()) out_ += reports::paragraph("", one_line(picture.note));
}

void Part::put(const Signature& signature) {
  out_ += "\n\n" + pad_right(one_line(signature.name), 30) + "  " + std::string(30, '_') + "  " +
          std::string(16, '_') + '\n' + pad_right("Weighed and authorised by", 32) +
          pad_right("Signature", 32) + "Date\n";
}

std::string Part::write(bool first) {
  if (!first) out_ = "\n\n" + ruled(one_line(content_.title), '=');
  if (!content_.subtitle.empty()) out_ += reports::paragraph("", one_line(content_.subtitle));
  if (first) out_ += '\n';
  for (const Block& block : content_.blocks) std::visit([this](const auto& one) { put(one); }, block);
  return out_;
}

}  // namespace

std::string text_page(const Report& report) {
  std::string number = "Report " + report.number;
  if (!report.standing.empty()) number += " · " + report.standing;
  std::string page = ruled(one_line(report.title), '=') + paragraph("", one_line(number));
  for (std::size_t i = 0; i < report.sheets.size(); ++i) page += Part(report.sheets[i]).write(i == 0);
  return page + '\n' + paragraph("", one_line("— End of report " + report.number + " —")) +
         paragraph("", one_line("Steelyard " + report.engine + " · issued " + report.issued));
}

}  // namespace steelyard::reports
