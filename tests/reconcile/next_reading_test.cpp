// The next reading against trying every candidate outright: each further reading is added as a row and the
// whole problem solved again, for every suspect that may be the one that is off. A second algorithm, not a
// publication.
#include <algorithm>
#include <boost/test/unit_test.hpp>
#include <cmath>

#include "reconcile/further.hpp"
#include "reconcile/reconcile.hpp"
#include "reconcile/search.hpp"
#include "reconcile/trust.hpp"
#include "sheets.hpp"

using namespace steelyard;
using namespace steelyard::reconcile;
using adjust::Matrix;
using adjust::Vector;

namespace {

/// A rig's problem and one reading more, which hangs on the unknowns as the candidate says.
class WithReading final : public adjust::Model {
 public:
  WithReading(const RigModel& rig, const Further& further, const Vector& near)
      : rig_(rig), further_(further), near_(near) {}
  Index observations() const override { return rig_.observations() + 1; }
  Index unknowns() const override { return rig_.unknowns(); }
  Index constraints() const override { return rig_.constraints(); }
  void linearise(const Vector& z, adjust::Linearised& out) const override {
    const Index m = rig_.observations(), n = rig_.unknowns(), p = rig_.constraints();
    adjust::Linearised inner{Vector(m), Matrix::Zero(m, n), Vector(p), Matrix::Zero(p, n)};
    rig_.linearise(z, inner);
    out.fitted.head(m) = inner.fitted;
    out.fitted[m] = shown(z);
    out.design.topRows(m) = inner.design;
    out.design.row(m) = further_.gradient.transpose();
    out.misclosure = inner.misclosure;
    out.constraint = inner.constraint;
  }
  void values(const Vector& z, Vector& fitted, Vector& misclosure) const override {
    Vector inner(rig_.observations());
    rig_.values(z, inner, misclosure);
    fitted.head(inner.size()) = inner;
    fitted[inner.size()] = shown(z);
  }
  double shown(const Vector& z) const { return further_.expected + further_.gradient.dot(z - near_); }

 private:
  const RigModel& rig_;
  const Further& further_;
  const Vector& near_;
};

std::size_t set_size(const adjust::Solution& solution) {
  double largest = 0;
  for (Index i = 0; i < solution.redundancy.size(); ++i)
    if (solution.redundancy[i] >= least_redundancy)
      largest = std::max(largest, std::pow(solution.normalised_residual[i], 2));
  std::size_t count = 0;
  for (Index i = 0; i < solution.redundancy.size(); ++i)
    count += solution.redundancy[i] >= least_redundancy &&
             std::pow(solution.normalised_residual[i], 2) >= largest - apart_in_chi_square;
  return count;
}

/// What one suspect session says, and what trying everything says.
struct Tried {
  double chosen = 0, best = INFINITY;
  std::size_t candidates = 0;
};

class EveryOne {
 public:
  EveryOne(const SolvedRig& rig, const Searched& found)
      : rig_(rig), near_(found.sound.unknowns), model_(*rig.layout, rig.observed, rig.bounded) {
    for (const SuspectMember& member : found.sets.front().members) {
      adjust::Observed given = rig.given;
      given.set_aside = {static_cast<Index>(member.observation)};
      without_.push_back(solve_again(rig, given, near_).unknowns);
    }
  }

  /// Mean size of the suspect set that a further reading leaves.
  double leaves(const Further& further) const {
    double sum = 0;
    for (const Vector& truth : without_) {
      const WithReading model(model_, further, near_);
      adjust::Observed given = rig_.given;
      given.value.conservativeResize(model.observations());
      given.u.conservativeResize(model.observations());
      given.value[model.observations() - 1] = model.shown(truth);
      given.u[model.observations() - 1] = further.u;
      auto solution = adjust::solve(model, given, rig_.solution.unknowns, rig_.layout->scale());
      if (!solution.converged) solution = adjust::solve(model, given, near_, rig_.layout->scale());
      if (!solution.converged) return INFINITY;
      sum += static_cast<double>(set_size(solution));
    }
    return sum / static_cast<double>(without_.size());
  }

 private:
  const SolvedRig& rig_;
  const Vector& near_;
  RigModel model_;
  std::vector<Vector> without_;
};

std::optional<Tried> try_all(const rig::Session& session) {
  const auto rig = solve_rig(session, true);
  if (!rig) return std::nullopt;
  Findings findings;
  judge(*rig, findings);
  if (!findings.fit.consistent || *findings.fit.consistent) return std::nullopt;
  const Searched found = search(*rig, findings.observations);
  if (!found.solved || found.sets.size() != 1) return std::nullopt;
  const auto candidates = further_readings(*rig, found.sound.unknowns);
  const RigModel model(*rig->layout, rig->observed, rig->bounded);
  const auto at = adjust::examine(model, rig->given, found.sound.unknowns, rig->layout->scale());
  const auto chosen = separating(*rig, rig->given, found.sound.unknowns, candidates, found.sets.front());
  if (!chosen) return std::nullopt;
  const EveryOne outright(*rig, found);
  Tried tried;
  for (const Further& further : candidates) {
    if (!at.determinable(further.gradient)) continue;
    const double leaves = outright.leaves(further);
    tried.best = std::min(tried.best, leaves);
    ++tried.candidates;
    const NextReading& reading = further.reading;
    if (reading.kind == chosen->kind && reading.state == chosen->state && reading.at == chosen->at) tried.chosen = leaves;
  }
  return tried;
}

/// One reading of a session made too high.
rig::Session off_by(rig::Session session, std::size_t wanted, double kg) {
  std::size_t i = 0;
  for (rig::State& state : session.states)
    for (rig::Reading& reading : state.readings)
      if (i++ == wanted) reading.load = {reading.load.kg().value() + kg, units::LoadUnit::kilogram};
  return session;
}

}  // namespace

BOOST_AUTO_TEST_SUITE(next_reading)

BOOST_AUTO_TEST_CASE(never_worse_than_trying_every_candidate_outright) {
#ifdef __SANITIZE_ADDRESS__
  constexpr int every = 7;  // solving everything outright is slow there
#else
  constexpr int every = 1;
#endif
  int sessions = 0, worse = 0, drawn = 0;
  for (const double error : {18.0, 45.0, -30.0})
    for (const rig::Session& session : test::drawn("rigs"))
      for (const std::size_t which : {std::size_t{1}, std::size_t{6}}) {
        if (drawn++ % every != 0) continue;
        const auto tried = try_all(off_by(session, which, error));
        if (!tried) continue;
        ++sessions;
        BOOST_TEST(tried->candidates > 1u);
        if (tried->chosen <= tried->best + 1e-9) continue;
        ++worse;
        BOOST_TEST_MESSAGE(session.id << ", " << error << " kg: chosen leaves " << tried->chosen << ", best "
                                      << tried->best);
        // A rank-one update knows no curvature: a member whose w² lies at the very edge of the set may come
        // out on the other side of it when everything is solved again.
        BOOST_TEST(tried->chosen <= tried->best + 1);
      }
  BOOST_TEST_MESSAGE(sessions << " sessions, worse in " << worse);
  BOOST_TEST(sessions > 100 / every);
  BOOST_TEST(worse <= std::max(1, sessions / 50));
}

BOOST_AUTO_TEST_CASE(a_reading_that_sharpens_a_quantity_does_so_by_what_was_said) {
  // The same reading taken again, at its fitted load: u then, by the whole solution.
  int checked = 0;
  for (const rig::Session& session : test::sample_fleet()) {
    const Reconciliation before(session);
    const Quantity* mass = before.findings().find("tow_unhitched_total");
    if (!mass || !mass->determinable) continue;
    const auto next = before.settle(*mass);
    BOOST_REQUIRE(next);
    BOOST_TEST(next->after < mass->u);
    if (!next->again || next->new_state || !next->at) continue;
    rig::Session more = session;
    for (rig::State& state : more.states) {
      if (state.name != next->state) continue;
      const auto like = std::find_if(state.readings.begin(), state.readings.end(),
                                     [&](const rig::Reading& r) { return r.at == *next->at && !r.struck; });
      rig::Reading again = *like;
      again.id = "again";
      state.readings.push_back(again);
    }
    const Quantity then = *reconcile::reconcile(more).find("tow_unhitched_total");
    BOOST_TEST(std::abs(then.u - next->after) < 2e-3 * mass->u);
    ++checked;
  }
  BOOST_TEST(checked > 5);
}

BOOST_AUTO_TEST_SUITE_END()
