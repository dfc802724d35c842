// steelyard show: one session as its sheet says, with later readings and strikes.
#pragma once

#include "cli/command.hpp"
#include "cli/options.hpp"
#include "store/records.hpp"

namespace steelyard::cli {

class CommandShow : public Command {
 public:
  [[nodiscard]] About about() const override;
  Exit run(Streams& streams) override;

 protected:
  void describe(boost::program_options::options_description& options) override;
  void take(const std::vector<std::string>& words) override;

 private:
  void write_record_json(Streams& streams, const std::vector<store::Record>& revisions) const;
  StoreOption store_;
  WordsOption words_;
  JsonOption json_;
  std::string session_;
  bool record_ = false;
};

}  // namespace steelyard::cli
