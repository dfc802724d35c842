#include "cli/command_seal.hpp"

#include "cli/progress.hpp"
#include "cli/record_text.hpp"
#include "issued/issued.hpp"
#include "reports/words/terminal_text.hpp"

namespace po = boost::program_options;

namespace steelyard::cli {
namespace {

struct Sealed {
  std::string id;
  store::Seal seal;
  std::string not_solved;
};

store::Issued to_store(const issued::Issue& issue) {
  return {issue.engine, issue.build, issue.result};
}

void write(reports::JsonText& out, const Sealed& one) {
  const store::Seal& seal = one.seal;
  out.begin_object().field("session", one.id).field("revision", seal.revision);
  out.field("number", seal.number).field("head", seal.head);
  out.field("content_hash", seal.content_hash).field("by", seal.by).field("at", seal.at);
  out.field("figures", one.not_solved.empty());
  out.field("not_solved", one.not_solved.empty() ? std::nullopt : std::optional(one.not_solved)).end_object();
}

std::string in_words(const Sealed& one) {
  const store::Seal& seal = one.seal;
  std::string out = "sealed " + reports::printable(one.id) + '@' + std::to_string(seal.revision) + " as number " +
                    std::to_string(seal.number) + ", by " + reports::printable(seal.by) + "\n  content " +
                    seal.content_hash + '\n';
  if (!one.not_solved.empty())
    out += reports::paragraph("  ", "no figures were issued: " + reports::printable(one.not_solved));
  return out;
}

}  // namespace

About CommandSeal::about() const {
  return {"seal", "SESSION…|--all [--by NAME] [--store FILE] [--json]", "seals sessions and the figures issued from them",
          "Seals sessions: what the sheet says, every reading and strike, every attachment, and the figures that "
          "`steelyard reconcile` gives now. From then on nothing can be added to that revision, and `steelyard verify` "
          "tells whatever was changed in it. Each seal holds the one before it, so that the last, the chain's head, "
          "stands for all of them: keep it outside the store.\n"
          "Who seals is --by, else who weighed, as the sheet says. --all takes every session that is not sealed yet. A "
          "session that cannot be solved is sealed without figures. All are sealed, or none.\n"
          "A seal is no signature: it shows that a record was changed, not who made it."};
}

void CommandSeal::describe(po::options_description& options) {
  options.add_options()("all", po::bool_switch(&all_), "every session that is not sealed yet");
  options.add_options()("by", po::value(&by_)->value_name("NAME"), "who seals; else who weighed");
  store_.describe(options);
  json_.describe(options, "answer in JSON");
}

void CommandSeal::take(const std::vector<std::string>& words) {
  if (all_ && !words.empty()) throw wrong("--all goes without a session");
  if (!all_) expect(words, 1, words.size());
  sessions_ = words;
}

std::vector<std::string> CommandSeal::names(const store::Store& store) {
  std::vector<std::string> out;
  for (const std::string& word : sessions_) out.push_back(store.resolve(word));
  if (!all_) return out;
  for (const store::Summary& one : store.list()) {
    if (one.sealed)
      ++sealed_before_;
    else
      out.push_back(one.id);
  }
  return out;
}

void CommandSeal::check_who(const store::Store& store, const std::vector<std::string>& names) const {
  if (!by_.empty()) return;
  for (const std::string& name : names)
    if (const rig::Session session = store.load(name); who(by_, session).empty()) throw wrong(nobody(session));
}

Exit CommandSeal::run(Streams& streams) {
  store::Store store = store::Store::open(store_.path(), store::Access::read_write);
  const std::vector<std::string> to_seal = names(store);
  check_who(store, to_seal);
  std::vector<Sealed> sealed;
  {
    Progress progress(streams.err, "sealing", to_seal.size());
    auto sealing = store.begin_sealing();
    for (const std::string& name : to_seal) {
      const rig::Session session = store.load(name);
      issued::Issue issue = issued::issue(session);
      sealed.push_back({session.id, sealing.add(session, who(by_, session), to_store(issue)),
                        std::move(issue.not_solved)});
      progress.step();
    }
    sealing.commit();
  }
  const store::Chain chain = store.chain();
  if (json_.wanted()) {
    reports::JsonText out;
    out.begin_object().key("sealed").begin_array();
    for (const Sealed& one : sealed) write(out, one);
    out.end_array().field("sealed_before", static_cast<std::int64_t>(sealed_before_)).key("chain");
    write_chain(out, chain);
    streams.out.line(out.end_object().text());
    return Exit::done;
  }
  for (const Sealed& one : sealed) streams.out.write(in_words(one));
  if (all_)
    streams.out.line(counted(sealed.size(), "session") + " sealed now, " + std::to_string(sealed_before_) + " before");
  streams.out.write(head_to_keep(chain));
  return Exit::done;
}

}  // namespace steelyard::cli
