#include "cli/command_verify.hpp"

#include <algorithm>
#include <cctype>

#include "cli/progress.hpp"
#include "cli/record_text.hpp"
#include "cli/verify_text.hpp"
#include "store/store.hpp"

namespace po = boost::program_options;

namespace steelyard::cli {
namespace {

constexpr std::size_t head_digits = 64;

void fault(Verified& verified, const char* kind, const char* what) {
  verified.found.remarks.push_back({store::Remark::Weight::fault, kind, {}, what});
}

void verify_store(Verified& verified, const store::Store& store, Messages& messages) {
  Progress progress(messages, "revisions", 0);
  verified.found = store.verify(verified.head, [&](std::size_t done, std::size_t) { progress.reach(done); });
}

void recompute(Verified& verified, const store::Store& store, Messages& messages) {
  Progress progress(messages, "computing anew", static_cast<std::size_t>(verified.found.sealed));
  verified.recomputed.emplace();
  try {
    *verified.recomputed = recompute_all(store, [&](std::size_t done) { progress.reach(done); });
  } catch (const store::Refused& refused) {
    fault(verified, "unreadable", refused.what());
    return;
  }
  const auto& remarks = verified.recomputed->remarks;
  verified.found.remarks.insert(verified.found.remarks.end(), remarks.begin(), remarks.end());
}

}  // namespace

About CommandVerify::about() const {
  return {"verify", "[--head HEX] [--quick] [--store FILE] [--json]", "whether the record stands as it was sealed",
          "Checks the file, its schema, every seal and its chain, that every sealed session holds what was sealed, every "
          "attachment, and computes every issued figure anew: equal to the last digit where version and build are the "
          "same, else to 1e-9. Says what was changed, from what to what. Exit code 0 where the store is sound, else 1.\n"
          "--head is a chain's head that was kept outside the store. Without it nothing can tell an old copy from the "
          "store, seals cut off at the end, or a chain written anew; and nothing protects what is not sealed. --quick "
          "leaves out the figures."};
}

void CommandVerify::describe(po::options_description& options) {
  options.add_options()("head", po::value<std::string>()->value_name("HEX")->notifier([this](const std::string& text) {
    head_ = text;
    if (text.empty()) throw wrong("--head is empty");
  }),
                        "a chain's head, 64 hexadecimal digits, kept outside the store");
  options.add_options()("quick", po::bool_switch(&quick_), "issued figures are not computed anew");
  store_.describe(options);
  json_.describe(options, "answer in JSON, steelyard-verify/1");
}

void CommandVerify::take(const std::vector<std::string>& words) {
  expect(words, 0, 0);
  // A head may come off paper: capitals are the same digits, and reports print them in groups.
  std::erase(head_, ' ');
  std::transform(head_.begin(), head_.end(), head_.begin(),
                 [](unsigned char digit) { return static_cast<char>(std::tolower(digit)); });
  const bool hexadecimal = head_.find_first_not_of("0123456789abcdef") == std::string::npos;
  if (!head_.empty() && (head_.size() != head_digits || !hexadecimal))
    throw wrong("--head must be 64 hexadecimal digits, is " + head_);
}

Exit CommandVerify::run(Streams& streams) {
  Verified verified;
  verified.store = store_.path().string();
  verified.head = head_;
  try {
    const store::Store store = store::Store::open(store_.path(), store::Access::read_only);
    verified.opened = true;
    verify_store(verified, store, streams.err);
    if (!quick_) recompute(verified, store, streams.err);
  } catch (const store::Refused& refused) {
    fault(verified, verified.opened ? "unreadable" : "not_opened", refused.what());
  }
  if (json_.wanted())
    streams.out.line(verify_json(verified));
  else
    streams.out.write(verify_words(verified));
  if (verified.found.sound()) return Exit::done;
  streams.err.say(verified.store + ": not sound");
  return Exit::refused;
}

}  // namespace steelyard::cli
