#include "cli/verify_text.hpp"

#include <cstdint>

#include "cli/record_text.hpp"
#include "cli/solve.hpp"
#include "issued/issued.hpp"
#include "reports/words/terminal_text.hpp"

namespace steelyard::cli {
namespace {

using reports::paragraph;
using reports::printable;
using Weight = store::Remark::Weight;

std::size_t number_of(const std::vector<store::Remark>& remarks, Weight weight) {
  std::size_t number = 0;
  for (const store::Remark& remark : remarks) number += remark.weight == weight ? 1 : 0;
  return number;
}

void write_remarks(reports::JsonText& out, const char* key, const std::vector<store::Remark>& remarks, Weight weight) {
  out.key(key).begin_array();
  for (const store::Remark& remark : remarks) {
    if (remark.weight != weight) continue;
    out.begin_object().field("kind", remark.kind);
    out.field("session", remark.session.empty() ? std::nullopt : std::optional(remark.session));
    out.field("what", remark.what).end_object();
  }
  out.end_array();
}

void write_recomputed(reports::JsonText& out, const std::optional<RecomputedAll>& all) {
  out.key("recomputed");
  if (!all) {
    out.null();
    return;
  }
  const auto number = [](std::size_t n) { return static_cast<std::int64_t>(n); };
  out.begin_object().field("results", number(all->results)).field("exactly", number(all->exactly));
  out.field("to_tolerance", number(all->to_tolerance)).field("differ", number(all->differ)).end_object();
}

/// What verify cannot know of this store, whatever it found.
std::vector<std::string> not_excluded(const Verified& verified) {
  std::vector<std::string> out;
  if (verified.head.empty())
    out = {"that this is an old copy, put back in the store's place",
           "that the last seals and their sessions were cut off",
           "that the whole chain was written anew, with other content"};
  else if (verified.found.head_found && verified.found.after_head > 0)
    out = {"that seals set after the given head were cut off or written anew"};
  if (verified.found.unsealed > 0)
    out.push_back("that unsealed sessions were changed: nothing protects them yet");
  if (!verified.recomputed) out.push_back("that issued figures do not follow from the readings (--quick)");
  return out;
}

std::string counts(const Verified& verified) {
  const store::Verification& found = verified.found;
  const auto size = [](std::int64_t n) { return static_cast<std::size_t>(n); };
  std::string text = counted(size(found.revisions), "revision") + ": " + std::to_string(found.sealed) + " sealed, " +
                     std::to_string(found.unsealed) + " not sealed";
  std::string out = paragraph("  ", text);
  if (!verified.recomputed) return out + "  issued figures were not computed anew (--quick)\n";
  const RecomputedAll& all = *verified.recomputed;
  text = counted(all.results, "issued result") + " computed anew: " + std::to_string(all.exactly) +
         " equal to the last digit";
  if (all.to_tolerance > 0) text += ", " + std::to_string(all.to_tolerance) + " to 1e-9";
  if (all.differ > 0) text += ", " + std::to_string(all.differ) + " not equal";
  return out + paragraph("  ", text);
}

std::string chains(const Verified& verified) {
  std::string out;
  for (const store::Chain& chain : verified.found.chains) {
    out += "  chain " + printable(chain.origin.substr(0, 8)) + (chain.own ? " of this store, " : " of another store, ") +
           counted(static_cast<std::size_t>(chain.seals), "seal");
    out += chain.head.empty() ? "\n" : ", head\n    " + printable(chain.head) + '\n';
  }
  if (verified.found.head_found)
    out += paragraph("  ", "the given head is in it, with " +
                               counted(static_cast<std::size_t>(verified.found.after_head), "seal") + " after it");
  return out;
}

/// Remarks of one weight, those of a session together under its name.
std::string listed(const std::vector<store::Remark>& remarks, Weight weight, const char* title) {
  std::string out, last;
  for (const store::Remark& remark : remarks) {
    if (remark.weight != weight) continue;
    if (out.empty()) out = std::string(title) + '\n';
    if (remark.session != last) out += remark.session.empty() ? "" : "  " + printable(remark.session) + '\n';
    last = remark.session;
    out += paragraph(remark.session.empty() ? "  - " : "    - ", printable(remark.what));
  }
  return out;
}

}  // namespace

std::string verify_json(const Verified& verified) {
  const store::Verification& found = verified.found;
  reports::JsonText out;
  out.begin_object().field("format", "steelyard-verify/1").field("store", verified.store);
  out.field("engine", version()).field("build", issued::build_of_this_program());
  out.field("sound", found.sound()).field("opened", verified.opened);
  out.field("revisions", found.revisions).field("sealed", found.sealed).field("unsealed", found.unsealed);
  write_recomputed(out, verified.recomputed);
  out.key("chains").begin_array();
  for (const store::Chain& chain : found.chains) write_chain(out, chain);
  out.end_array().key("head");
  if (verified.head.empty())
    out.null();
  else
    out.begin_object().field("given", verified.head).field("found", found.head_found)
        .field("seals_after", found.after_head).end_object();
  write_remarks(out, "faults", found.remarks, Weight::fault);
  write_remarks(out, "notices", found.remarks, Weight::notice);
  out.key("not_excluded").begin_array();
  for (const std::string& what : not_excluded(verified)) out.value(what);
  return out.end_array().end_object().text();
}

std::string verify_words(const Verified& verified) {
  const std::vector<store::Remark>& remarks = verified.found.remarks;
  std::string out = printable(verified.store) + '\n';
  if (verified.opened) out += "  a store of Steelyard, its schema as released\n" + counts(verified) + chains(verified);
  out += listed(remarks, Weight::fault, "Faults") + listed(remarks, Weight::notice, "Worth knowing");
  const std::vector<std::string> open = not_excluded(verified);
  if (verified.opened && !open.empty()) {
    out += verified.head.empty() ? "What cannot be excluded without a head kept outside (--head):\n"
                                 : "What cannot be excluded:\n";
    for (const std::string& what : open) out += paragraph("  - ", what);
  }
  const std::size_t faults = number_of(remarks, Weight::fault);
  return out + (faults == 0 ? std::string("Sound.\n") : "Not sound: " + counted(faults, "fault") + ".\n");
}

}  // namespace steelyard::cli
