#include "published.hpp"

#include <fstream>
#include <nlohmann/json.hpp>
#include <stdexcept>

namespace steelyard::test {
namespace {

using Json = nlohmann::json;

double as_number(const Json& value) {
  if (value.is_number()) return value.get<double>();
  if (!value.is_string()) throw std::runtime_error("published value is not a number: " + value.dump());
  const auto text = value.get<std::string>();
  const Json read = Json::parse(text, nullptr, false);
  if (!read.is_number()) throw std::runtime_error("published value is not a number: " + text);
  return read.get<double>();
}

std::vector<double> as_numbers(const Json& list) {
  if (!list.is_array() || list.empty()) throw std::runtime_error("published list is not there or empty");
  std::vector<double> out;
  for (const Json& value : list) out.push_back(as_number(value));
  return out;
}

}  // namespace

struct Published::Content {
  Json json;
  [[nodiscard]] const Json& at(const std::string& pointer) const {
    return json.at(Json::json_pointer(pointer));
  }
};

Published::Published(const std::string& name) : content_(std::make_unique<Content>()) {
  const std::string path = std::string(STEELYARD_SOURCE_DIR) + "/tests/published/data/" + name + ".json";
  std::ifstream file(path);
  if (!file) throw std::runtime_error("cannot open " + path);
  content_->json = Json::parse(file);
}

Published::~Published() = default;

double Published::number(const std::string& pointer) const {
  return as_number(content_->at(pointer));
}

std::vector<double> Published::numbers(const std::string& pointer) const {
  return as_numbers(content_->at(pointer));
}

std::vector<std::vector<double>> Published::table(const std::string& pointer) const {
  std::vector<std::vector<double>> out;
  for (const Json& row : content_->at(pointer)) out.push_back(as_numbers(row));
  if (out.empty()) throw std::runtime_error("published table is empty: " + pointer);
  return out;
}

std::vector<std::string> Published::keys(const std::string& pointer) const {
  std::vector<std::string> out;
  for (const auto& entry : content_->at(pointer).items()) out.push_back(entry.key());
  return out;
}

std::size_t Published::size(const std::string& pointer) const {
  return content_->at(pointer).size();
}

bool Published::has(const std::string& pointer) const {
  const Json::json_pointer place(pointer);
  return content_->json.contains(place) && !content_->json.at(place).is_null();
}

}  // namespace steelyard::test
