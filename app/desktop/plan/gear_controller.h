// When and where the gear table is computed: beside the interface thread, for the input on the bench, dropped when stale.
#pragma once

#include "app/desktop/latest_worker.h"
#include "core/plan/gears.h"

#include <QObject>

#include <memory>

namespace rw {

class PlanSession;

class GearController : public QObject {
    Q_OBJECT
public:
    explicit GearController(PlanSession& session, QObject* parent = nullptr);

    // Only while somebody looks: nothing is swept for a tab that is not seen.
    void setWanted(bool wanted);
    void setRank(GearRank rank);
    [[nodiscard]] GearRank rank() const { return rank_; }
    [[nodiscard]] std::shared_ptr<const GearTable> table() const { return table_; }
    [[nodiscard]] bool busy() const { return worker_.busy(); }

signals:
    void swept();

private:
    void sweep();

    PlanSession& session_;
    GearRank rank_ = GearRank::Fastest;
    std::shared_ptr<const GearTable> table_;
    bool wanted_ = false, stale_ = true;
    LatestWorker<GearTable> worker_;
};

} // namespace rw
