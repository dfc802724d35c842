// Why a request is refused by the server itself, before any handler sees it.
#pragma once

#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace steelyard::field::http {

/// what() is one sentence with the remedy.
struct Fault : std::runtime_error {
  Fault(int answered, const std::string& what, std::vector<std::pair<std::string, std::string>> also = {})
      : std::runtime_error(what), status(answered), headers(std::move(also)) {}

  int status;
  std::vector<std::pair<std::string, std::string>> headers;
};

}  // namespace steelyard::field::http
