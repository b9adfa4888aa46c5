// Which of what one owns: every motor, controller and pack of the garage in the setup on the bench, each with its best
// gears, as a table and as speed against what is left of the tightest limit. The bench changes only by the button.
#pragma once

#include "app/desktop/plan/plan_session.h"
#include "core/choose/choose_power.h"

#include <QWidget>

class QPushButton;

namespace rw {

class Chart;
class FigureTable;
class SizePanel;
class ShortLabel;
class TextLabel;
class ValueTableModel;

struct PowerAnswer {
    ChooseSet set;
    ChooseResult result;
};

class PowerPanel : public QWidget {
    Q_OBJECT
public:
    explicit PowerPanel(PlanSession& session, QWidget* parent = nullptr);
    ~PowerPanel() override;
    [[nodiscard]] bool busy() const;
    [[nodiscard]] std::shared_ptr<const PowerAnswer> answer() const { return answer_; }
    [[nodiscard]] SizePanel& size() { return *size_; }
    [[nodiscard]] FigureTable& table() { return *table_; }
    void pick(int row);
    void putOnBench(); // the picked row

protected:
    void showEvent(QShowEvent* event) override;
    void hideEvent(QHideEvent* event) override;

private:
    [[nodiscard]] QWidget* makeOwned();
    void ask();
    void draw();
    void drawTable();
    void drawTradeOff();
    void tellPicked();
    [[nodiscard]] const ChooseRow* picked() const;
    [[nodiscard]] QString nameOf(const ChooseRow& row) const;

    PlanSession& session_;
    std::shared_ptr<const PowerAnswer> answer_;
    int picked_ = -1;
    bool wanted_ = false, stale_ = true;
    QString trouble_;
    ValueTableModel* model_ = nullptr;
    FigureTable* table_ = nullptr;
    Chart* chart_ = nullptr;
    ShortLabel* note_ = nullptr;
    TextLabel* change_ = nullptr;
    QPushButton* put_ = nullptr;
    SizePanel* size_ = nullptr;
    LatestWorker<PowerAnswer> worker_; // last: ends before the rest goes
};

} // namespace rw
