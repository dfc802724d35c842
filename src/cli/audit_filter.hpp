// Which sessions an audit is of: options that narrow the store down.
//
// Each option narrows further. Texts are compared without regard to ASCII case: a client by uid, or by any part of its
// name; a vehicle by uid or registration, or by any part of its label; place, technician and purpose by any part. Dates are
// those of the place (the time's own offset), both ends included; a session without a date passes no date filter. Errors:
// fault() says what is wrong with the words given.
#pragma once

#include <boost/program_options.hpp>
#include <string>
#include <vector>

#include "reports/document/document.hpp"
#include "store/store.hpp"

namespace steelyard::cli {

class AuditFilter {
 public:
  void describe(boost::program_options::options_description& options);
  [[nodiscard]] std::string fault() const;
  [[nodiscard]] bool passes(const store::Summary& session) const;
  /// As passes(), whatever the date.
  [[nodiscard]] bool passes_but_for_date(const store::Summary& session) const;
  [[nodiscard]] bool any() const { return !in_words().empty(); }
  /// What was asked for, as the report says it.
  [[nodiscard]] std::vector<reports::Fact> in_words() const;

 private:
  std::string client_, from_, until_, place_, technician_, purpose_, vehicle_;
};

}  // namespace steelyard::cli
