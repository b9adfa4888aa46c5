// The gear table and its trade-off picture: speed against current, the efficient pairs joined.
#pragma once

#include "app/desktop/plan/tab_worker.h"
#include "core/plan/gears.h"

#include <QWidget>

class QBoxLayout;
class QComboBox;
class QToolButton;

namespace rw {

class Chart;
class FigureTable;
class GearTableModel;
class ShortLabel;

class GearPanel : public QWidget {
    Q_OBJECT
public:
    explicit GearPanel(PlanSession& session, QWidget* parent = nullptr);
    [[nodiscard]] bool busy() const { return worker_.busy(); }
    [[nodiscard]] GearTableModel& model() { return *model_; }
    [[nodiscard]] FigureTable& table() { return *table_; }
    void fit(int row); // puts a row's pair on the bench

protected:
    void showEvent(QShowEvent* event) override;
    void hideEvent(QHideEvent* event) override;
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
