#include "cli/commands.hpp"

#include "cli/command_amend.hpp"
#include "cli/command_attach.hpp"
#include "cli/command_audit.hpp"
#include "cli/command_backup.hpp"
#include "cli/command_compare.hpp"
#include "cli/command_export.hpp"
#include "cli/command_field.hpp"
#include "cli/command_glossary.hpp"
#include "cli/command_help.hpp"
#include "cli/command_history.hpp"
#include "cli/command_import.hpp"
#include "cli/command_init.hpp"
#include "cli/command_list.hpp"
#include "cli/command_merge.hpp"
#include "cli/command_plan.hpp"
#include "cli/command_reconcile.hpp"
#include "cli/command_record.hpp"
#include "cli/command_redact.hpp"
#include "cli/command_register.hpp"
#include "cli/command_report.hpp"
#include "cli/command_seal.hpp"
#include "cli/command_settings.hpp"
#include "cli/command_show.hpp"
#include "cli/command_strike.hpp"
#include "cli/command_template.hpp"
#include "cli/command_verify.hpp"
#include "reports/words/terminal_text.hpp"

namespace steelyard::cli {
namespace {

template <class Kind>
std::unique_ptr<Command> make() {
  return std::make_unique<Kind>();
}

}  // namespace

const std::vector<Make>& commands() {
  static const std::vector<Make> all{
      make<CommandInit>,   make<CommandImport>, make<CommandList>,      make<CommandShow>,   make<CommandPlan>,
      make<CommandRecord>, make<CommandStrike>, make<CommandReconcile>, make<CommandReport>, make<CommandCompare>,
      make<CommandAudit>,
      make<CommandSeal>,   make<CommandAmend>,  make<CommandVerify>,    make<CommandMerge>,  make<CommandBackup>,
      make<CommandAttach>, make<CommandRegister>, make<CommandHistory>, make<CommandExport>, make<CommandRedact>,
      make<CommandSettings>, make<CommandTemplate>, make<CommandGlossary>,
      make<CommandField>,
      make<CommandHelp>,
  };
  return all;
}

std::unique_ptr<Command> find_command(std::string_view name) {
  for (const Make make_one : commands()) {
    auto command = make_one();
    if (command->about().name == name) return command;
  }
  return nullptr;
}

std::vector<std::string> command_names() {
  std::vector<std::string> names;
  for (const Make make_one : commands()) names.emplace_back(make_one()->about().name);
  return names;
}

std::string overview() {
  std::string out =
      "usage: steelyard COMMAND …\n\n" +
      reports::paragraph("",
                         "Reconciles portable-scale readings of a tow vehicle and its trailer: what rests "
                         "where, how much the coupling carries, which rating is nearest.") +
      "\nCommands\n";
  for (const Make make_one : commands()) {
    const auto command = make_one();
    const About about = command->about();
    out += reports::paragraph("  " + reports::pad_right(about.name, 11), about.summary);
  }
  return out + "\n`steelyard help COMMAND` says more of one; `steelyard --version` gives the version.\n" +
         reports::paragraph(
             "",
             "Exit codes: 0 done; 1 the input or the store was refused or a session could not be "
             "solved; 2 wrong usage; 3, with `reconcile --strict` alone, done but a rating is not "
             "passed or a reading is suspect.");
}

}  // namespace steelyard::cli
