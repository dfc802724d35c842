// Warnings of scales that were used after their calibration had run out: one a scale, however many sessions
// used it.
#pragma once

#include <map>
#include <string>
#include <utility>
#include <vector>

#include "cli/output.hpp"
#include "rig/session.hpp"

namespace steelyard::cli {

class ScaleWarnings {
 public:
  /// Every scale of the session that a reading names, save those set aside.
  void look_at(const rig::Session& session);
  /// Only the scales of one reading.
  void look_at(const rig::Session& session, const rig::Reading& reading);
  /// Says them on standard error; the exit code stays as it is.
  void say(Messages& messages) const;

 private:
  struct Warning {
    std::string words, session;  // of the first session that used it
    std::size_t more = 0;        // sessions after that
  };

  void add(const rig::Session& session, const rig::Scale& scale);

  std::vector<Warning> warnings_;                                     // in the order in which they were found
  std::map<std::pair<std::string, std::string>, std::size_t> known_;  // scale and due date → its warning
};

}  // namespace steelyard::cli
