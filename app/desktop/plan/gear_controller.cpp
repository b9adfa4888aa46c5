#include "app/desktop/plan/gear_controller.h"

#include "app/desktop/plan/plan_session.h"

namespace rw {

GearController::GearController(PlanSession& session, QObject* parent)
    : QObject(parent)
    , session_(session)
    , worker_(
          this,
          [this](std::shared_ptr<const GearTable> table) {
              table_ = std::move(table);
              emit swept();
          },
          [this](const QString&) {  // the session says what is wrong with the input
              table_.reset();
              emit swept();
          }) {
    // After the pass itself: the first picture comes first.
    connect(&session_, &PlanSession::inputChanged, this, [this] { stale_ = true; });
    connect(&session_, &PlanSession::outcomeChanged, this, &GearController::sweep);
}

void GearController::setWanted(bool wanted) {
    wanted_ = wanted;
    if (wanted_) sweep();
}

void GearController::setRank(GearRank rank) {
    if (rank == rank_) return;
    rank_ = rank;
    if (!table_) return;
    auto again = std::make_shared<GearTable>(*table_);
    rankGears(*again, rank);
    table_ = std::move(again);
    emit swept();
}

void GearController::sweep() {
    if (!wanted_ || !stale_ || session_.empty() || !session_.current()) return;
    stale_ = false;
    worker_.ask([input = session_.shared(), rank = rank_](std::stop_token stop) {
        return sweepGears(*input, rank, {.stop = stop, .progress = {}, .threads = 0});
    });
}

} // namespace rw
