// The published check values of tests/published/data, by file and JSON pointer.
//
// A figure written as text in a file is read as a number too (certified values keep all their digits so).
// Errors: std::runtime_error where the file, the place or the kind of value is not there, so that a test
// never compares with nothing.
#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <vector>

namespace steelyard::test {

/// One data file, named without folder and ending.
class Published {
 public:
  explicit Published(const std::string& name);
  ~Published();
  Published(const Published&) = delete;
  Published& operator=(const Published&) = delete;

  [[nodiscard]] double number(const std::string& pointer) const;
  [[nodiscard]] std::vector<double> numbers(const std::string& pointer) const;
  [[nodiscard]] std::vector<std::vector<double>> table(const std::string& pointer) const;
  [[nodiscard]] std::vector<std::string> keys(const std::string& pointer) const;
  [[nodiscard]] std::size_t size(const std::string& pointer) const;
  [[nodiscard]] bool has(const std::string& pointer) const;  // and is not null

 private:
  struct Content;
  std::unique_ptr<Content> content_;
};

}  // namespace steelyard::test
