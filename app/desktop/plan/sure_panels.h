// How sure a plan is: how likely the target is made and each limit kept, with 90 % intervals, and what matters most.
#pragma once

#include "app/desktop/plan/tab_worker.h"
#include "core/plan/sensitivity.h"
#include "core/plan/worth.h"

#include <QWidget>

#include <vector>

class QCheckBox;
class QComboBox;
class QProgressBar;
class QPushButton;

namespace rw {

class BarList;
class IntervalList;
class PlanSession;
class ShortLabel;
class SpreadController;
class TextLabel;
struct IntervalRow;

class ChancesPanel : public QWidget {
    Q_OBJECT
public:
    ChancesPanel(PlanSession& session, SpreadController& spread);
    [[nodiscard]] IntervalList& intervals() { return *intervals_; }

private:
    void draw();
    [[nodiscard]] QString headline() const;
    [[nodiscard]] std::vector<IntervalRow> intervalRows() const;
    [[nodiscard]] QString driversText() const;

    PlanSession& session_;
    SpreadController& spread_;
    TextLabel *headline_ = nullptr, *drivers_ = nullptr;
    QPushButton *more_ = nullptr, *stop_ = nullptr;
    QProgressBar* bar_ = nullptr;
    IntervalList* intervals_ = nullptr;
};

// What matters most: each uncertain input moved by its standard uncertainty, and what that does to a figure; beside
// each what measuring it would do to the band of the zone speed.
class MattersPanel : public QWidget {
    Q_OBJECT
public:
    MattersPanel(PlanSession& session, SpreadController& spread);
    [[nodiscard]] bool busy() const { return worker_.busy(); }
    [[nodiscard]] BarList& bars() { return *bars_; }

signals:
    void fieldWanted(const QString& key);

private:
    void draw();
    // What measuring the input does to the band of the zone speed; null: not known yet, or nothing.
    [[nodiscard]] const Worth* worthOf(const std::string& key) const;
    [[nodiscard]] QString worthText(const Worth& worth, const PlanField& field) const;

    PlanSession& session_;
    SpreadController& spread_;
    QComboBox* figure_ = nullptr;
    QCheckBox* byWorth_ = nullptr;
    BarList* bars_ = nullptr;
    ShortLabel* note_ = nullptr;
    TabWorker<SensitivityResult> worker_;
};

} // namespace rw
