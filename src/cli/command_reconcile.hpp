// steelyard reconcile: the result of a session, a sheet, a fleet file or the whole store.
#pragma once

#include "cli/command.hpp"
#include "cli/options.hpp"
#include "cli/settings.hpp"
#include "cli/solve.hpp"
#include "rig/session.hpp"

namespace steelyard::cli {

class CommandReconcile : public Command {
 public:
  [[nodiscard]] About about() const override;
  Exit run(Streams& streams) override;

 protected:
  void describe(boost::program_options::options_description& options) override;
  void take(const std::vector<std::string>& words) override;

 private:
  /// Solves and writes one session; a session that cannot be solved is told and counted, and the others go
  /// on.
  void use(Streams& streams, const rig::Session& session, const rig::RecordNote* record = nullptr);
  void one(Streams& streams);
  /// Holds the uncertainties against trials, with progress on a terminal.
  void draw(Streams& streams, Solved& solved);
  void whole_store(Streams& streams);
  void fleet(Streams& streams);
  StoreOption store_;
  WordsOption words_;
  StoredSettings settings_;
  JsonOption json_;
  MonteCarloOption monte_carlo_;
  std::string source_;
  bool all_ = false, strict_ = false, detail_ = false;
  std::size_t written_ = 0, failed_ = 0;
  bool worrying_ = false;
};

}  // namespace steelyard::cli
