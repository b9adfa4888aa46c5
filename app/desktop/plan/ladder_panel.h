// The ladder from a proven speed to the target, as the page that it prints: a stair over speed, and for each step the
// change, what to expect, when to go on and when to stop. A chosen step goes on the bench by the button.
#pragma once

#include "app/desktop/pages/ladder_sheet.h"
#include "app/desktop/plan/plan_session.h"
#include "core/choose/ladder.h"

#include <QWidget>

class QDoubleSpinBox;
class QPushButton;

namespace rw {

class PagePrinter;
class ShortLabel;
class StairView;

class LadderPanel : public QWidget {
    Q_OBJECT
public:
    explicit LadderPanel(PlanSession& session, QWidget* parent = nullptr);
    ~LadderPanel() override;
    [[nodiscard]] bool busy() const { return worker_.busy(); }
    [[nodiscard]] std::shared_ptr<const Ladder> ladder() const { return ladder_; }
    [[nodiscard]] PagePrinter& printer() { return *printer_; }
    [[nodiscard]] StairView& stair() { return *stair_; }
    void setProven(double metresPerSecond);
    void putOnBench(); // the chosen step; the target stays

protected:
    void showEvent(QShowEvent* event) override;
    void hideEvent(QHideEvent* event) override;

private:
    [[nodiscard]] QWidget* makeBar();
    void makePrinting();
    void ask();
    void draw();
    void tellChoice();
    void showUnits();
    [[nodiscard]] LadderSheet sheet() const;
    [[nodiscard]] double provenNow() const; // m/s

    PlanSession& session_;
    std::shared_ptr<const Ladder> ladder_;
    std::optional<double> proven_; // m/s, as the person set it
    double asked_ = 0.0;           // proven speed of what is shown
    PlanInput start_;              // what it starts from
    bool wanted_ = false, stale_ = true;
    QString trouble_;
    QDoubleSpinBox *provenField_ = nullptr, *stepField_ = nullptr;
    QPushButton *print_ = nullptr, *put_ = nullptr;
    ShortLabel* note_ = nullptr;
    StairView* stair_ = nullptr;
    PagePrinter* printer_ = nullptr;
    LatestWorker<Ladder> worker_; // last: ends before the rest goes
};

} // namespace rw
