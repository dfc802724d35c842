// steelyard glossary: the words that a region's tables and workbooks use, and what they mean.
#pragma once

#include "cli/command.hpp"
#include "cli/options.hpp"

namespace steelyard::cli {

class CommandGlossary : public Command {
 public:
  [[nodiscard]] About about() const override;
  Exit run(Streams& streams) override;

 protected:
  void describe(boost::program_options::options_description& options) override;
  void take(const std::vector<std::string>& words) override;

 private:
  WordsOption words_;
  JsonOption json_;
};

}  // namespace steelyard::cli
