#include <algorithm>
#include <array>

#include "reports/workbook/state.hpp"
#include "reports/workbook/text.hpp"

#if defined(__SANITIZE_ADDRESS__)
// libxlsxwriter 1.1.4 never frees the copy of a list's formula that worksheet_data_validation_range makes: a few bytes a
// workbook. Nothing else is looked over.
extern "C" const char* __lsan_default_suppressions();
extern "C" const char* __lsan_default_suppressions() {
  return "leak:lxw_strdup\n";
}
extern "C" const char* __lsan_default_options();
extern "C" const char* __lsan_default_options() {
  return "print_suppressions=0";  // standard error stays empty
}
#endif

namespace steelyard::reports {
namespace {

/// A list that is written in the rule itself may have so many characters, its commas with them (ECMA-376 part 1,
/// 18.3.1.40).
constexpr std::size_t longest_inline = 255;

bool fits_inline(const std::vector<std::string>& words) {
  std::size_t length = words.size();
  for (const std::string& word : words) {
    if (word.find_first_of(",\"") != std::string::npos) return false;
    length += word.size();
  }
  return length <= longest_inline;
}

/// Writes the words in the next column of the sheet of lists: "=Lists!$B$1:$B$30".
std::string on_sheet(const std::vector<std::string>& words, Sheet& lists, int column) {
  for (std::size_t i = 0; i < words.size(); ++i) lists.text(static_cast<int>(i), column, words[i], {});
  std::array<char, LXW_MAX_FORMULA_RANGE_LENGTH> range{};
  lxw_rowcol_to_formula_abs(range.data(), lists.name().c_str(), 0, static_cast<lxw_col_t>(column),
                            static_cast<lxw_row_t>(words.size() - 1), static_cast<lxw_col_t>(column));
  return std::string(1, '=') + range.data();
}

}  // namespace

void Sheet::choices(int column, int first_row, int last_row, const Choices& choices, Sheet& lists) {
  if (choices.words.empty() || first_row < 0 || last_row < first_row || last_row >= LXW_ROW_MAX || column < 0 ||
      column >= LXW_COL_MAX)
    throw std::invalid_argument("choices: no words, or no such cells");
  std::vector<std::string> words;
  for (const std::string& word : choices.words) words.push_back(presentable(word, 100));
  lxw_data_validation rule{};
  std::string range;
  std::vector<const char*> inline_words;
  if (fits_inline(words)) {
    for (const std::string& word : words) inline_words.push_back(word.c_str());
    inline_words.push_back(nullptr);
    rule.validate = LXW_VALIDATION_TYPE_LIST;
    rule.value_list = const_cast<char**>(inline_words.data());  // the library does not write to it
  } else {
    range = on_sheet(words, lists, lists.state_->lists_used++);
    rule.validate = LXW_VALIDATION_TYPE_LIST_FORMULA;
    rule.value_formula = range.data();
  }
  std::string title = "Not in the list", message = choices.others ? "This word is not in the list. Keep it?"
                                                                  : "Pick one of the list, or leave the cell empty.";
  rule.error_title = title.data();
  rule.error_message = message.data();
  rule.error_type = choices.others ? LXW_VALIDATION_ERROR_TYPE_WARNING : LXW_VALIDATION_ERROR_TYPE_STOP;
  state_->book->check(
      worksheet_data_validation_range(state_->sheet, static_cast<lxw_row_t>(first_row),
                                      static_cast<lxw_col_t>(column), static_cast<lxw_row_t>(last_row),
                                      static_cast<lxw_col_t>(column), &rule),
      "setting a list");
}

}  // namespace steelyard::reports
