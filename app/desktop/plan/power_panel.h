// Which of what one owns: every motor, controller and pack of the garage in the setup on the bench, each with its best
// gears, as a table and as speed against what is left of the tightest limit. The bench changes only by the card's
// button.
#pragma once

#include "app/desktop/plan/tab_worker.h"
#include "core/choose/choose_power.h"

#include <QWidget>

class QBoxLayout;
class QScrollArea;

namespace rw {

class Chart;
class PowerCard;
class SizePanel;
class ShortLabel;
class ValueTable;

struct PowerAnswer {
    ChooseSet set;
    ChooseResult result;
};

class PowerPanel : public QWidget {
    Q_OBJECT
public:
    explicit PowerPanel(PlanSession& session);
    [[nodiscard]] bool busy() const;
    [[nodiscard]] std::shared_ptr<const PowerAnswer> answer() const { return answer_; }
    [[nodiscard]] SizePanel& size() { return *size_; }
    [[nodiscard]] ValueTable& table() { return *table_; }
    void pick(int row);
    void putOnBench(); // the picked row
    [[nodiscard]] PowerCard& card() { return *card_; }
    [[nodiscard]] Chart& chart() { return *chart_; }
    void takeCard(); // back under the table, from wherever it stands

protected:
    void resizeEvent(QResizeEvent* event) override;

private:
    [[nodiscard]] QWidget* makeOwned();
    void ask();
    void draw();
    void drawTable();
    void fitColumns();
    void drawTradeOff();
    void drawNote();
    void tellPicked();
    [[nodiscard]] const ChooseRow* picked() const;
    [[nodiscard]] QString nameOf(const ChooseRow& row) const;

    PlanSession& session_;
    std::shared_ptr<const PowerAnswer> answer_;
    std::vector<std::vector<std::size_t>> pointRows_; // of the picture's first series: the rows of their points
    int picked_ = -1;
    QString trouble_;
    ValueTable* table_ = nullptr;
    Chart* chart_ = nullptr;
    ShortLabel *count_ = nullptr, *note_ = nullptr;
    PowerCard* card_ = nullptr;
    QScrollArea* area_ = nullptr;
    QBoxLayout *column_ = nullptr, *owned_ = nullptr;
    SizePanel* size_ = nullptr;
    TabWatch watch_;
    LatestWorker<PowerAnswer> worker_; // last: ends before the rest goes
};

} // namespace rw
