#include "sheet/csv_text.hpp"

#include <algorithm>

#include "sheet/formats.hpp"
#include "sheet/place.hpp"
#include "units/number.hpp"

namespace steelyard::sheet {
namespace {

constexpr std::string_view save_as = "; save the sheet as \"CSV UTF-8\" and name that file";

std::size_t line_at_end(std::string_view text) {
  return 1 + static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
}

/// What keeps the bytes from being read at all; empty where nothing does.
std::string unreadable(std::string_view bytes) {
  if (bytes.size() > longest_csv)
    return "is longer than one file may be (" + std::to_string(longest_csv >> 20) +
           " MB); part it in several, which are imported together";
  if (bytes.starts_with("PK\x03\x04")) return std::string("is a workbook under another name") + std::string(save_as);
  if (bytes.starts_with("\xFF\xFE") || bytes.starts_with("\xFE\xFF") ||
      bytes.find('\0') != std::string_view::npos)
    return std::string("is text of another coding (UTF-16), or no text") + std::string(save_as);
  for (std::size_t at = 0; at < bytes.size();) {
    const std::size_t width = utf8_width(bytes.substr(at));
    if (width == 0)
      return "is not UTF-8 in line " + std::to_string(line_at_end(bytes.substr(0, at))) + std::string(save_as);
    at += width;
  }
  return {};
}

/// The separator that the first line which is not empty has most of, outside quotes.
char separator_of(std::string_view text) {
  constexpr std::string_view separators = ",;\t";
  std::size_t counts[3] = {};
  bool quoted = false, any = false;
  for (const char c : text) {
    if (c == '"') quoted = !quoted;
    if (!quoted && (c == '\n' || c == '\r')) {
      if (any) break;
      std::fill(std::begin(counts), std::end(counts), 0u);
      continue;
    }
    const std::size_t which = separators.find(c);
    if (which == std::string_view::npos)
      any = any || c != ' ';
    else if (!quoted)
      ++counts[which];
  }
  return separators[static_cast<std::size_t>(std::max_element(std::begin(counts), std::end(counts)) - counts)];
}

}  // namespace

/// Walks over the text once; quoted cells are freed of their quotes in place, where they can only become shorter.
class CsvParser {
 public:
  CsvParser(CsvTable& table, std::size_t file, CellFaults& faults)
      : table_(table), faults_(faults), at_(table.text_->data()), end_(at_ + table.text_->size()), file_(file) {}

  /// False where the text cannot be followed any further.
  bool run() {
    while (at_ != end_)
      if (!row()) return false;
    return true;
  }

 private:
  [[nodiscard]] bool ends_row() const { return at_ == end_ || *at_ == '\n' || *at_ == '\r'; }
  [[nodiscard]] bool ends_cell() const { return ends_row() || *at_ == table_.separator_; }

  bool fault(std::string what) {
    faults_.add({file_, number_, column_}, std::move(what));
    return false;
  }

  bool row() {
    if (++number_ > most_csv_rows)
      return fault("is the last row that can be read; part the file in several, which are imported together");
    const std::size_t first = table_.cells_.size();
    for (column_ = 1;; ++column_, ++at_) {
      if (column_ > most_csv_columns)
        return fault("a sheet has at most " + std::to_string(most_csv_columns) + " columns; remove what is beyond");
      std::string_view cell;
      if (!take(cell)) return false;
      table_.cells_.push_back(cell);
      if (ends_row()) break;
    }
    step_over_line_end();
    while (table_.cells_.size() > first && trimmed(table_.cells_.back()).empty()) table_.cells_.pop_back();
    if (table_.cells_.size() > first)
      table_.rows_.push_back({first, static_cast<std::uint32_t>(table_.cells_.size() - first), number_});
    return true;
  }

  /// LF, CRLF or CR.
  void step_over_line_end() {
    const bool carriage_return = at_ != end_ && *at_ == '\r';
    if (carriage_return) ++at_;
    if (at_ != end_ && *at_ == '\n') ++at_;
  }

  bool take(std::string_view& cell) {
    if (at_ != end_ && *at_ == '"') return take_quoted(cell);
    const char* const start = at_;
    while (!ends_cell()) {
      if (*at_ == '"')
        return fault("a quote stands inside a cell without quotes; write \"\" for it, within quotes");
      ++at_;
    }
    cell = {start, static_cast<std::size_t>(at_ - start)};
    return true;
  }

  bool take_quoted(std::string_view& cell) {
    char* const start = ++at_;
    char* out = start;
    for (; at_ != end_; *out++ = *at_++) {
      if (*at_ != '"') continue;
      if (++at_ == end_ || *at_ != '"') {
        cell = {start, static_cast<std::size_t>(out - start)};
        return ends_cell() || fault("something stands behind a closing quote; write \"\" for a quote inside a cell");
      }
    }
    return fault("the quote that opens here is not closed");
  }

  CsvTable& table_;
  CellFaults& faults_;
  char* at_;
  char* end_;
  std::size_t file_;
  std::uint32_t number_ = 0, column_ = 0;
};

std::optional<CsvTable> CsvTable::parse(const CsvFile& file, std::size_t index, CellFaults& faults) {
  const auto refuse = [&](std::string what) {
    faults.add({index, 0, 0}, std::move(what));
    return std::nullopt;
  };
  if (std::string why = unreadable(file.text); !why.empty()) return refuse(std::move(why));
  CsvTable table;
  constexpr std::string_view mark = "\xEF\xBB\xBF";
  table.text_ = std::make_unique<std::string>(file.text, file.text.starts_with(mark) ? mark.size() : 0);
  table.separator_ = separator_of(*table.text_);
  if (!CsvParser(table, index, faults).run()) return std::nullopt;
  if (table.rows_.empty()) return refuse("is empty; its first row names the columns");
  return table;
}

void CellFaults::add(const CellPlace& at, std::string what) {
  One one{at, std::move(what)};
  if (list_.contains(one)) return;
  if (list_.size() < most)
    list_.insert(std::move(one));
  else
    ++beyond_;
}

std::string column_letters(std::size_t column) {
  std::string letters;
  for (; column > 0; column = (column - 1) / 26)
    letters.insert(letters.begin(), static_cast<char>('A' + (column - 1) % 26));
  return letters;
}

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view blanks = " \t\r\n";
  const std::size_t first = text.find_first_not_of(blanks);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

CellNumber cell_number(std::string_view cell, char separator) {
  const std::string_view text = trimmed(cell);
  const auto wrong = [&](std::string_view remedy) {
    return CellNumber{std::nullopt, "must be a number, is " + in_quotes(text) + std::string(remedy)};
  };
  const std::size_t mark = text.find_first_of(".,");
  const bool comma = mark != std::string_view::npos && text[mark] == ',';
  if (comma && separator == ',') return wrong("; write the decimals behind a point, and no mark between thousands");
  if (mark != std::string_view::npos && separator != ',') {
    if (text.find_first_of(".,", mark + 1) != std::string_view::npos) return wrong("; write no mark between thousands");
    const std::string_view whole = text.substr(text.starts_with('-') ? 1 : 0, mark - (text.starts_with('-') ? 1 : 0));
    if (text.size() - mark == 4 && !whole.empty() && whole.size() <= 3 && whole != "0")
      return wrong("; this may be thousands or decimals: write no mark between thousands, and not three decimals");
  }
  std::string plain(text);
  if (comma) plain[mark] = '.';
  const auto value = units::parse_number(plain);
  if (!value) return wrong("; write figures alone, without a unit or blanks");
  return {value, {}};
}

}  // namespace steelyard::sheet
