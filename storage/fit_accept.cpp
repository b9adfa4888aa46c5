// From a fit to values: accepted in one transaction, counted once, and seen over time.
#include "core/error.h"
#include "storage/allowed.h"
#include "storage/evidence.h"
#include "storage/item_store.h"
#include "storage/log_store.h"

#include <algorithm>
#include <map>
#include <set>

namespace rw::store {

namespace {

std::vector<Id> acceptedFits(Connection& connection) {
    return connection.ids(ItemKind::Fit,
                          "SELECT i.number FROM fit f JOIN item i ON i.id = f.item WHERE f.accepted IS NOT NULL");
}

// Whether one of the values that came from the fit is the setup's still.
bool holds(const Setup& setup, const Fit& fit) {
    return std::ranges::any_of(fit.parameters, [&setup](const FittedParameter& p) {
        const Value* const found = valueOf(setup.values, p.key);
        return carriedByFits(p.key) && found != nullptr && found->number == p.value &&
               found->uncertainty == p.standardError;
    });
}

// The evidence behind values, each setup looked at once.
class Counting {
public:
    explicit Counting(Connection& connection)
        : connection_(connection) {
        for (const Id id : acceptedFits(connection))
            accepted_.push_back(fit(connection, id));
    }
    void add(Id setupId) {
        if (!seen_.insert(setupId).second) return;
        const Setup one = setup(connection_, setupId);
        if (one.parent) add(*one.parent);
        for (const Fit& fit : accepted_)
            if (reaches(fit, one) && holds(one, fit)) take(fit);
    }
    [[nodiscard]] std::vector<Id> passes() const { return {passes_.begin(), passes_.end()}; }
    [[nodiscard]] const Fit* fitWith(Id pass) const {
        const auto found = std::ranges::find_if(accepted_, [&](const Fit& fit) {
            return counted_.contains(fit.id) && std::ranges::find(fit.passes, pass) != fit.passes.end();
        });
        return found == accepted_.end() ? nullptr : &*found;
    }

private:
    static bool reaches(const Fit& fit, const Setup& setup) {
        const auto parts = partsOf(setup);
        return fit.accepted == setup.id || std::ranges::any_of(fit.taken, [&parts](const FittedValue& value) {
                   return std::ranges::find(parts, value.item) != parts.end();
               });
    }
    void take(const Fit& fit) {
        if (!counted_.insert(fit.id).second) return;
        passes_.insert(fit.passes.begin(), fit.passes.end());
        if (fit.setup) add(*fit.setup); // what it started from
    }

    Connection& connection_;
    std::vector<Fit> accepted_;
    std::set<Id> seen_, counted_, passes_;
};

Value fitted(const Value& before, const FittedParameter& parameter, const Fit& fit) {
    Value out = before;
    out.number = parameter.value;
    out.uncertainty = parameter.standardError;
    if (!parameter.determined) return out; // as it was known, moved by what others taught
    out.source = Source::Fitted;
    out.note = toString(fit.id) + ", " + fit.name;
    return out;
}

void putParameters(Values& values, ItemKind kind, const Fit& fit, Id item, std::vector<FittedValue>& taken) {
    for (const FittedParameter& parameter : fit.parameters) {
        const bool belongs = kind == ItemKind::Setup ? carriedByFits(parameter.key) : keyBelongsTo(kind, parameter.key);
        if (!belongs || !parameter.standardError) continue;
        Value& value = values[parameter.key];
        value = fitted(value, parameter, fit);
        taken.push_back({item, parameter.key});
    }
}

ItemKind kindOfPart(const Setup& setup, Id part) {
    const auto parts = partsOf(setup);
    if (std::ranges::find(parts, part) == parts.end())
        throw InputError("parts", toString(part) + " is no part of " + toString(setup.id) + " that a fit teaches");
    return part.kind;
}

} // namespace

std::vector<Id> passesCounted(Connection& connection, Id setup) {
    Counting counting(connection);
    counting.add(setup);
    return counting.passes();
}

void requireUncounted(Connection& connection, Id setup, const std::vector<Id>& passes) {
    Counting counting(connection);
    counting.add(setup);
    for (const Id pass : passes)
        if (const Fit* const with = counting.fitWith(pass))
            throw GarageError(GarageError::Kind::Refused,
                              toString(pass) + " is counted already: " + toString(setup) + " rests on values that " +
                                  toString(with->id) +
                                  " took from it, and the same pass tells nothing twice; leave it out, or learn from "
                                  "the revision before");
}

Id acceptFit(Connection& connection, Id id, const FitAcceptance& how) {
    Fit taken = fit(connection, id);
    if (taken.accepted)
        throw GarageError(GarageError::Kind::Refused,
                          toString(id) + " was accepted already, as " + toString(*taken.accepted));
    if (!taken.setup)
        throw GarageError(GarageError::Kind::Refused,
                          toString(id) + " belongs to no setup whose values it could change");
    Setup next = setup(connection, how.onto.value_or(*taken.setup));
    requireUncounted(connection, next.id, taken.passes);
    std::vector<FittedValue> places;
    for (const Id partId : how.parts) {
        Part changed = part(connection, partId);
        putParameters(changed.values, kindOfPart(next, partId), taken, partId, places);
        updatePart(connection, changed);
    }
    std::vector<FittedValue> inSetup;
    putParameters(next.values, ItemKind::Setup, taken, next.id, inSetup);
    if (inSetup.empty())
        throw GarageError(GarageError::Kind::Refused, toString(id) + " teaches nothing that a setup could keep");
    next.evidence = evidenceOf(taken, std::move(next.evidence));
    const std::string reason = how.reason.empty() ? "learned: " + taken.name : how.reason;
    const Id revision = insertRevision(connection, next, reason);
    for (FittedValue& value : inSetup)
        places.push_back({revision, std::move(value.key)});
    putTaken(connection, id, revision, places);
    touch(connection, rowOf(connection, id));
    return revision;
}

std::vector<FittedPoint> fittedHistory(Connection& connection, Id partId) {
    static_cast<void>(part(connection, partId));
    std::map<Id, StoredPass> driven;
    for (StoredPass& one : passes(connection, {}))
        driven.emplace(one.id, std::move(one));
    std::vector<FittedPoint> out;
    for (const Fit& fit : fits(connection, {}, false)) {
        bool about = false;
        if (fit.setup) {
            const auto parts = partsOf(setup(connection, *fit.setup));
            about = partId.kind != ItemKind::Pack && std::ranges::find(parts, partId) != parts.end();
        }
        std::string when;
        for (const Id id : fit.passes)
            if (const auto found = driven.find(id); found != driven.end()) {
                when = std::max(when, found->second.when);
                about = about || (partId.kind == ItemKind::Pack && found->second.pack == partId);
            }
        if (!about) continue;
        for (const FittedParameter& p : fit.parameters)
            if (keyBelongsTo(partId.kind, p.key))
                out.push_back({when.empty() ? fit.created : when, fit.id, p.key, p.value, p.standardError, p.before,
                               p.beforeDeviation, p.determined, static_cast<int>(fit.passes.size()), fit.accepted});
    }
    std::ranges::stable_sort(out, {}, [](const FittedPoint& p) { return std::pair(std::string_view(p.when), p.fit); });
    return out;
}

} // namespace rw::store
