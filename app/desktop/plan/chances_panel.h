// Chances: how likely the target is made and each limit kept, with 90 % intervals, and what the spread comes from.
#pragma once

#include <QWidget>

#include <vector>

class QProgressBar;
class QPushButton;

namespace rw {

class IntervalList;
class PlanSession;
class SpreadController;
class TextLabel;
struct IntervalRow;

class ChancesPanel : public QWidget {
    Q_OBJECT
public:
    ChancesPanel(PlanSession& session, SpreadController& spread, QWidget* parent = nullptr);
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

} // namespace rw
