// The gear table and its trade-off picture: speed against current, the efficient pairs joined.
#pragma once

#include "app/desktop/plan/tab_worker.h"
#include "app/desktop/shared/figure_table.h"
#include "core/plan/gears.h"

#include <QWidget>

class QComboBox;
class QToolButton;

namespace rw {

class Chart;
class ShortLabel;

// Rows of the gear table as cells; the pair on the bench stands out.
class GearTableModel : public ValueTableModel {
    Q_OBJECT
public:
    enum Column { Pair, Ratio, ZoneSpeed, PeakCurrent, MotorCase, Tightest };
    explicit GearTableModel(QObject* parent = nullptr)
        : ValueTableModel(1, parent) {}
    void show(const GearTable* table, int pinion, int spur, const Units& units); // the pair on the bench
    [[nodiscard]] int fittedRow() const { return fitted_; }                      // -1: not among them

private:
    int fitted_ = -1;
};

class GearPanel : public QWidget {
    Q_OBJECT
public:
    explicit GearPanel(PlanSession& session);
    [[nodiscard]] bool busy() const { return worker_.busy(); }
    [[nodiscard]] GearTableModel& model() { return *model_; }
    [[nodiscard]] FigureTable& table() { return *table_; }
    void fit(int row); // puts a row's pair on the bench

protected:
    void resizeEvent(QResizeEvent* event) override;

private:
    void draw();
    void rank(GearRank order);
    void drawTradeOff();
    void arrange();

    PlanSession& session_;
    GearTableModel* model_ = nullptr;
    FigureTable* table_ = nullptr;
    Chart* chart_ = nullptr;
    QComboBox* rank_ = nullptr;
    QToolButton* pictureButton_ = nullptr;
    ShortLabel* note_ = nullptr;
    TabWorker<GearTable> worker_;
};

} // namespace rw
