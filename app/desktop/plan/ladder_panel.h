// The ladder from a proven speed to the target: a stair over speed, and for each step the change, what to expect, when
// to go on and when to stop.
#pragma once

#include "app/desktop/plan/plan_session.h"
#include "core/choose/ladder.h"

#include <QWidget>

class QDoubleSpinBox;
class QPushButton;

namespace rw {

class FigureTable;
class PagePrinter;
class StairView;
class TextLabel;
class ValueTableModel;

class LadderPanel : public QWidget {
    Q_OBJECT
public:
    explicit LadderPanel(PlanSession& session, QWidget* parent = nullptr);
    ~LadderPanel() override;
    [[nodiscard]] bool busy() const { return worker_.busy(); }
    [[nodiscard]] std::shared_ptr<const Ladder> ladder() const { return ladder_; }
    [[nodiscard]] PagePrinter& printer() { return *printer_; }
    [[nodiscard]] FigureTable& table() { return *table_; }
    void setProven(double metresPerSecond);

protected:
    void showEvent(QShowEvent* event) override;
    void hideEvent(QHideEvent* event) override;

private:
    [[nodiscard]] QWidget* makeBar();
    void makePrinting();
    void ask();
    void draw();
    void drawStair();
    void drawSteps();
    void showUnits();
    [[nodiscard]] double provenNow() const; // m/s

    PlanSession& session_;
    std::shared_ptr<const Ladder> ladder_;
    std::optional<double> proven_; // m/s, as the person set it
    double asked_ = 0.0;           // proven speed of what is shown
    bool wanted_ = false, stale_ = true;
    QString trouble_;
    QDoubleSpinBox *provenField_ = nullptr, *stepField_ = nullptr;
    QPushButton* print_ = nullptr;
    TextLabel *title_ = nullptr, *note_ = nullptr;
    StairView* stair_ = nullptr;
    ValueTableModel* model_ = nullptr;
    FigureTable* table_ = nullptr;
    PagePrinter* printer_ = nullptr;
    LatestWorker<Ladder> worker_; // last: ends before the rest goes
};

} // namespace rw
