#include <algorithm>
#include <chrono>
#include <iterator>
#include <tuple>

#include "storage/ledger/database.h"
#include "storage/ledger/plan_order.h"
#include "storage/ledger/rows.h"
#include "storage/trial/record_line.h"

namespace ligule::ledger {
namespace {

Result<Plan> plan_in_row(Connection& connection, std::int64_t row, const std::string& path) {
  const auto record = record_in_row(connection, row, path);
  if (!record) return std::unexpected(record.error());
  return parse_plan_text(record->details);
}

Result<std::optional<KnownPlan>> plan_of(Connection& connection, TrialId trial,
                                         const std::string& path) {
  const auto revision = in_force(revisions_of(connection, trial));
  if (!revision) return std::nullopt;
  auto plan = plan_in_row(connection, revision->row, path);
  if (!plan) return std::unexpected(plan.error());
  return KnownPlan{*std::move(plan), revision->digest};
}

std::vector<TrialId> trials_of(Connection& connection) {
  Query query(connection, "SELECT DISTINCT trial FROM plan ORDER BY trial");
  std::vector<TrialId> trials;
  while (query.step()) trials.push_back({query.uuid(0)});
  return trials;
}

}  // namespace

std::vector<Revision> revisions_of(Connection& connection, TrialId trial) {
  const Shifts shifts = shifts_in(connection);
  Query query(connection,
              "SELECT p.digest, p.parent, p.utc_ms, p.row, r.stream, r.seq FROM plan p"
              " JOIN record r ON r.row=p.row WHERE p.trial=? ORDER BY p.digest, p.row");
  query.bind(1, trial.uuid);
  std::vector<Revision> revisions;
  while (query.step()) {
    const Stamp written{UtcInstant(std::chrono::milliseconds(query.integer(2))), {}, {}};
    const auto shift = shifts.of(StreamId{query.uuid(4)}, query.integer(5));
    const std::int64_t utc_ms = shifted(written, shift).utc.time_since_epoch().count();
    if (!revisions.empty() && revisions.back().digest == query.text(0)) {
      revisions.back().utc_ms = std::min(revisions.back().utc_ms, utc_ms);
      continue;
    }
    revisions.push_back(
        {std::string(query.text(0)), std::string(query.text(1)), utc_ms, query.integer(3)});
  }
  return revisions;
}

std::optional<Revision> in_force(const std::vector<Revision>& revisions) {
  const auto is_followed = [&](const Revision& revision) {
    return std::ranges::find(revisions, revision.digest, &Revision::parent) != revisions.end();
  };
  std::optional<Revision> newest;
  for (const Revision& revision : revisions) {
    if (is_followed(revision)) continue;
    if (!newest ||
        std::tie(newest->utc_ms, newest->digest) < std::tie(revision.utc_ms, revision.digest)) {
      newest = revision;
    }
  }
  return newest;
}

Result<bool> plan_fits(Connection& connection, const Plan& plan, const Enrolment& enrolment,
                       std::span<const Plan> before) {
  const auto revisions = revisions_of(connection, plan.id());
  const auto newest = in_force(revisions);
  std::string last;  // digest of the plan that this one has to revise
  if (!before.empty())
    last = sha256(plan_text(before.back())).hex();
  else if (newest)
    last = newest->digest;
  else
    return true;
  const std::string digest = sha256(plan_text(plan)).hex();
  if (std::ranges::find(revisions, digest, &Revision::digest) != revisions.end()) return false;
  if (plan.parent == last) {
    std::vector<Plan> held;
    held.reserve(revisions.size() + before.size());
    for (const Revision& revision : revisions) {
      auto one = plan_in_row(connection, revision.row, {});
      if (!one) return std::unexpected(std::move(one).error());
      held.push_back(*std::move(one));
    }
    std::ranges::copy(before, std::back_inserter(held));
    Query value(connection, "SELECT 1 FROM item WHERE standing=1 AND trial=? LIMIT 1");
    value.bind(1, plan.id().uuid);
    Enrolment known = enrolment;
    known.has_values = value.step();
    if (auto together = check_sown_together(held, plan, known); !together)
      return std::unexpected(std::move(together).error());
    return true;
  }
  // Of two digests the first letters tell them apart; to be named as the parent it is needed whole.
  constexpr std::size_t kTold = 12;
  if (!plan.parent.empty())
    return fail(ErrorKind::kConflict,
                "the plan revises " + plan.parent.substr(0, kTold) + ", but trial " +
                    plan.codes.trial + " at site " + plan.codes.site + " has " +
                    last.substr(0, kTold),
                {}, "revise the plan that is held, and name it as the parent: " + last);
  return fail(
      ErrorKind::kConflict,
      "another plan is enrolled for trial " + plan.codes.trial + " at site " + plan.codes.site, {},
      "if this plan revises it, name it as the parent: " + last);
}

Result<bool> Ledger::can_enrol(const Plan& plan, const Enrolment& enrolment,
                               std::span<const Plan> before) const {
  return database_->read(
      [&](Connection& connection) { return plan_fits(connection, plan, enrolment, before); });
}

Result<std::vector<KnownPlan>> Ledger::plans() const {
  return database_->read([&](Connection& connection) -> Result<std::vector<KnownPlan>> {
    std::vector<KnownPlan> plans;
    for (const TrialId trial : trials_of(connection)) {
      auto known = plan_of(connection, trial, path());
      if (!known) return std::unexpected(known.error());
      if (*known) plans.push_back(**std::move(known));
    }
    std::ranges::sort(plans, {}, [](const KnownPlan& known) {
      const Plan& p = known.plan;
      return std::tie(p.codes.station, p.codes.site, p.field, p.codes.trial);
    });
    return plans;
  });
}

Result<KnownPlan> Ledger::plan(TrialId trial) const {
  return database_->read([&](Connection& connection) -> Result<KnownPlan> {
    auto known = plan_of(connection, trial, path());
    if (!known) return std::unexpected(known.error());
    if (*known) return **std::move(known);
    return fail(ErrorKind::kNotFound, "no plan is enrolled for trial " + trial.text(), path(),
                "enrol its plan");
  });
}

Result<Plan> Ledger::plan_revision(std::string_view digest) const {
  return database_->read([&](Connection& connection) -> Result<Plan> {
    Query query(connection, "SELECT min(row) FROM plan WHERE digest=?");
    query.bind(1, digest);
    if (query.step() && !query.is_null(0)) return plan_in_row(connection, query.integer(0), path());
    return fail(ErrorKind::kNotFound, "the plan " + std::string(digest) + " is not held", path(),
                "gather the season file of the tablet that used it");
  });
}

Result<std::optional<Scale>> Ledger::definition(std::string_view digest) const {
  return database_->read([&](Connection& connection) -> Result<std::optional<Scale>> {
    Query query(connection, "SELECT min(row) FROM definition WHERE digest=?");
    query.bind(1, digest);
    if (!query.step() || query.is_null(0)) return std::nullopt;
    const auto record = record_in_row(connection, query.integer(0), path());
    if (!record) return std::unexpected(record.error());
    auto scale = parse_scale_text(record->details);
    if (!scale) return std::unexpected(scale.error());
    return *std::move(scale);
  });
}

}  // namespace ligule::ledger
