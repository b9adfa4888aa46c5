// The garage's actions: each a read or a write of what the stores do. Opening: garage_open.cpp; copies:
// garage_backup.cpp.
#include "storage/garage.h"

#include "core/error.h"
#include "storage/garage_impl.h"
#include "storage/item_store.h"
#include "storage/log_store.h"

namespace rw {

namespace {

std::string act(const char* verb, ItemKind kind, const std::string& name) {
    return std::string(verb) + " " + std::string(kindName(kind)) + " " + name.substr(0, 60);
}
std::string act(const char* verb, const auto& thing) { return act(verb, thing.id.kind, thing.name); }

} // namespace

Garage::Garage(std::unique_ptr<Impl> impl)
    : impl_(std::move(impl)) {}
Garage::Garage(Garage&&) noexcept = default;
Garage& Garage::operator=(Garage&&) noexcept = default;
Garage::~Garage() = default;

Garage::Access Garage::access() const { return impl_->access; }
const std::string& Garage::path() const { return impl_->path; }
const std::vector<std::string>& Garage::problems() const { return impl_->problems; }

std::int64_t Garage::count(ItemKind kind, bool retired) { return impl_->read(store::count, kind, retired); }

std::uint64_t Garage::changeCounter() {
    return translated(impl_->path, [&] {
        return static_cast<std::uint64_t>(impl_->connection->numberAtOnce("PRAGMA data_version")) + impl_->ownChanges;
    });
}
bool Garage::inPlace() const { return impl_->inPlace(); }

std::vector<Part> Garage::parts(ItemKind kind, bool retired) {
    if (!isPart(kind)) throw InputError("kind", "a " + std::string(kindName(kind)) + " is no part");
    return impl_->read([&](Connection& c) {
        auto values = store::valuesOfKind(c, kind);
        std::vector<Part> out;
        for (const store::ItemHead& head : store::heads(c, kind, retired))
            out.push_back(store::partFrom(head, std::move(values[head.row])));
        return out;
    });
}

Part Garage::part(Id id) { return impl_->read(store::part, id); }
Id Garage::add(const Part& part) { return impl_->write(act("add", part), store::addPart, part); }
void Garage::update(const Part& part) { impl_->write(act("change", part), store::updatePart, part); }
Id Garage::duplicate(Id id, const std::string& newName) {
    return impl_->write(act("duplicate", id.kind, newName), [&](Connection& c) {
        Part copy = store::part(c, id);
        copy.name = newName;
        copy.created.clear();
        copy.retired = false;
        return store::addPart(c, copy);
    });
}
std::vector<ListRow> Garage::list(ItemKind kind, bool retired) { return impl_->read(store::list, kind, retired); }
void Garage::retire(Id id, bool retired) {
    impl_->write((retired ? "retire " : "bring back ") + toString(id), store::retire, id, retired);
}
void Garage::remove(Id id) { impl_->write("remove " + toString(id), store::remove, id); }
std::vector<Id> Garage::referredToBy(Id id) { return impl_->read(store::referrers, id); }

std::vector<Setup> Garage::setups(std::optional<Id> vehicle, bool retired) {
    return impl_->read(store::setups, vehicle, retired);
}
Setup Garage::setup(Id id) { return impl_->read(store::setup, id); }
Id Garage::addSetup(const Setup& setup) { return impl_->write(act("add", setup), store::addSetup, setup); }
Id Garage::revise(const Setup& edited, const std::string& reason) {
    return impl_->write(act("revise", edited), store::revise, edited, reason);
}
std::vector<Setup> Garage::revisions(Id setup) { return impl_->read(store::revisions, setup); }
std::vector<Difference> Garage::difference(Id was, Id is) { return impl_->read(store::difference, was, is); }
Setup Garage::composeSetup(Setup setup) {
    return impl_->read([&](Connection& c) { return store::composeSetup(c, std::move(setup)); });
}

PlanInput Garage::planInput(Id setup, Id venue, std::optional<Id> outing) {
    return impl_->read(store::planInput, setup, venue, outing);
}
PlanIds Garage::addSetupFromPlan(const PlanInput& input, const PlanParts& names) {
    return impl_->write(act("add", ItemKind::Setup, names.setup), store::addSetupFromPlan, input, names);
}
Id Garage::reviseFromPlan(Id setup, const PlanInput& edited, const std::string& reason, std::optional<Id> pack) {
    return impl_->write("revise " + toString(setup), store::reviseFromPlan, setup, edited, reason, pack);
}

Id Garage::relabel(const Relabelled& edited) {
    return impl_->write("change labels of " + toString(edited.setup), store::relabel, edited);
}

std::vector<Outing> Garage::outings(bool retired) { return impl_->read(store::outings, retired); }
Outing Garage::outing(Id id) { return impl_->read(store::outing, id); }
Id Garage::addOuting(const Outing& outing) { return impl_->write(act("add", outing), store::addOuting, outing); }
void Garage::updateOuting(const Outing& outing) { impl_->write(act("change", outing), store::updateOuting, outing); }

AddedLog Garage::addLog(const LogRecord& log, const LogCompany& with) {
    return impl_->write(act("add", ItemKind::Log, log.name), store::addLog, log, with);
}
AddedLog Garage::keepLog(const LogRecord& log, const LogCompany& with) {
    return impl_->write(act("keep", ItemKind::Log, log.name), store::keepLog, log, with);
}
std::vector<StoredLog> Garage::logs(std::optional<Id> outing, bool retired) {
    return impl_->read(store::logs, outing, retired);
}
StoredLog Garage::log(Id id) { return impl_->read(store::log, id); }
std::optional<Id> Garage::findLog(const std::string& sha256) { return impl_->read(store::findLog, sha256); }
std::string Garage::logBytes(Id log) { return store::unpackedLog(impl_->read(store::packedLog, log), log); }
std::string Garage::logReview(Id log) { return impl_->read(store::logReview, log); }
std::string Garage::logTrack(Id log) { return impl_->read(store::logTrack, log); }
void Garage::updateLog(const StoredLog& log) { impl_->write(act("change", log), store::updateLog, log); }
void Garage::replaceReview(Id log, const LogRecord& record) {
    impl_->write("cut " + toString(log) + " anew", store::replaceReview, log, record);
}
std::vector<StoredSession> Garage::sessions(Id log) { return impl_->read(store::sessions, log); }
void Garage::setSession(Id session, std::optional<Id> setup, std::optional<Id> pack) {
    impl_->write("change " + toString(session), store::setSession, session, setup, pack);
}

std::vector<StoredPass> Garage::passes(const PassFilter& filter) { return impl_->read(store::passes, filter); }
StoredPass Garage::pass(Id id) { return impl_->read(store::pass, id); }
Figures Garage::figures(Id pass) { return impl_->read(store::figures, pass); }
void Garage::notePass(Id pass, Direction direction, const std::string& notes) {
    impl_->write("note " + toString(pass), store::notePass, pass, direction, notes);
}
void Garage::noteSpeeds(Id pass, const std::vector<SpeedNote>& noted) {
    impl_->write("note " + toString(pass), store::noteSpeeds, pass, noted);
}
std::string Garage::passesCsv(const PassFilter& filter) { return impl_->read(store::passesCsv, filter); }

std::vector<StoredPlan> Garage::plans(std::optional<Id> setup, bool retired) {
    return impl_->read(store::plans, setup, retired);
}
StoredPlan Garage::plan(Id id) { return impl_->read(store::plan, id); }
Id Garage::addPlan(const StoredPlan& plan) { return impl_->write(act("add", plan), store::addPlan, plan); }
void Garage::updatePlan(const StoredPlan& plan) {
    impl_->write(act("change", plan), store::updateNamed<StoredPlan>, plan);
}
std::vector<Fit> Garage::fits(std::optional<Id> setup, bool retired) {
    return impl_->read(store::fits, setup, retired);
}
Fit Garage::fit(Id id) { return impl_->read(store::fit, id); }
Id Garage::addFit(const Fit& fit) { return impl_->write(act("add", fit), store::addFit, fit); }
Id Garage::acceptFit(Id fit, const FitAcceptance& how) {
    return impl_->write("accept " + toString(fit), store::acceptFit, fit, how);
}
std::vector<Id> Garage::passesCounted(Id setup) { return impl_->read(store::passesCounted, setup); }
void Garage::updateFit(const Fit& fit) { impl_->write(act("change", fit), store::updateNamed<Fit>, fit); }

std::vector<TimeLineEntry> Garage::timeLine(Id vehicle) { return impl_->read(store::timeLine, vehicle); }
std::vector<PackPoint> Garage::packHistory(Id pack) { return impl_->read(store::packHistory, pack); }
std::vector<MotorPoint> Garage::motorHistory(Id motor) { return impl_->read(store::motorHistory, motor); }
std::vector<FittedPoint> Garage::fittedHistory(Id part) { return impl_->read(store::fittedHistory, part); }
std::vector<BestPass> Garage::bestPasses(std::optional<Id> vehicle, int limit) {
    return impl_->read(store::bestPasses, vehicle, limit);
}
std::vector<FoundItem> Garage::search(const std::string& words, int limit) {
    return impl_->read(store::search, words, limit);
}

std::string Garage::exportItem(Id id) { return impl_->read(store::exportItem, id); }
ImportedItems Garage::importItems(const std::string& document, const std::string& fileName) {
    return impl_->write("import " + fileName.substr(0, 60), store::importItems, document, fileName);
}

std::optional<std::string> Garage::undoText() const {
    return impl_->steps.undo.empty() ? std::nullopt : std::optional(impl_->steps.undo.back().text);
}
std::optional<std::string> Garage::redoText() const {
    return impl_->steps.redo.empty() ? std::nullopt : std::optional(impl_->steps.redo.back().text);
}
void Garage::undo() { impl_->stepBack(false); }
void Garage::redo() { impl_->stepBack(true); }
std::shared_ptr<UndoStack> Garage::releaseSteps() {
    return std::make_shared<UndoStack>(std::exchange(impl_->steps, {}));
}
void Garage::giveSteps(const std::shared_ptr<UndoStack>& steps) {
    std::vector<UndoStack::Step> since = std::move(impl_->steps.undo);
    impl_->steps = std::move(*steps);
    for (UndoStack::Step& step : since)
        impl_->steps.done(std::move(step.text), std::move(step.forward));
}
std::size_t Garage::stepSize(bool undo) const {
    const std::vector<UndoStack::Step>& steps = undo ? impl_->steps.undo : impl_->steps.redo;
    return steps.empty() ? 0 : steps.back().forward.size();
}
void Garage::takeSteps(Garage& from) {
    for (UndoStack::Step& step : from.impl_->steps.undo)
        impl_->steps.done(std::move(step.text), std::move(step.forward));
    from.impl_->steps = {};
}

bool Garage::Impl::inPlace() const { return !opened || disk::identityOf(path) == opened; }

void Garage::Impl::requireWritable() const {
    if (access == Access::Damaged)
        throw GarageError(
            GarageError::Kind::Damaged,
            path + ": is damaged and open for reading only; save what can be read with salvage, or restore a backup");
    if (access == Access::ReadOnly)
        throw GarageError(GarageError::Kind::ReadOnly,
                          path + ": is open for reading only; the file or its folder may not be written to");
    // What is written to a file that has lost its name is lost with it.
    if (!inPlace())
        throw GarageError(GarageError::Kind::Gone,
                          path + ": was moved, deleted or replaced while it was open; nothing was changed");
}

void Garage::Impl::commit(Transaction& transaction, ChangeRecorder& recorder, const std::string& text) {
    ChangeSet changes = recorder.changes();
    if (changes.empty()) return transaction.commit();
    store::reindex(*connection, changes.touched());
    transaction.commit();
    ++ownChanges;
    steps.done(text, std::move(changes));
}

void Garage::Impl::stepBack(bool redo) {
    requireWritable();
    std::vector<UndoStack::Step>& from = redo ? steps.redo : steps.undo;
    std::vector<UndoStack::Step>& to = redo ? steps.undo : steps.redo;
    const char* const word = redo ? "redo" : "undo";
    if (from.empty()) throw GarageError(GarageError::Kind::Refused, std::string("there is nothing to ") + word);
    translated(path, [&] {
        Transaction transaction(*connection, Transaction::Kind::Write);
        const UndoStack::Step& step = from.back();
        const bool applied = redo ? step.forward.apply(*connection) : step.forward.inverted().apply(*connection);
        if (!applied) {
            const std::string text = step.text;
            from.clear();
            throw GarageError(GarageError::Kind::Refused,
                              std::string("cannot ") + word + " '" + text +
                                  "': another window or program changed the same things meanwhile");
        }
        store::reindex(*connection, step.forward.touched());
        transaction.commit();
        ++ownChanges;
        to.push_back(std::move(from.back()));
        from.pop_back();
    });
}

} // namespace rw
