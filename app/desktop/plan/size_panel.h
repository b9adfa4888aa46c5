// What to buy or wind: what is left of the tightest limit over cells and speed constant, the gearing free. A click
// chooses a place; the button puts it on the bench.
#pragma once

#include "app/desktop/plan/tab_worker.h"
#include "core/choose/size.h"

#include <QWidget>

class QPushButton;

namespace rw {

class MapChart;
struct MapContent;
class ShortLabel;
class TextLabel;
class ValueTable;

struct SizeAnswer {
    SizeMap map;
    std::optional<PassResult> best; // of the best place, in full
};

class SizePanel : public QWidget {
    Q_OBJECT
public:
    explicit SizePanel(PlanSession& session);
    [[nodiscard]] bool busy() const { return coarse_.busy() || fine_.busy(); }
    [[nodiscard]] const SizeMap* map() const { return answer_ ? &answer_->map : nullptr; } // null: none yet
    [[nodiscard]] MapChart& chart() { return *chart_; }
    void choose(int cellsIndex, int kvIndex);
    void putOnBench(); // the chosen place, else the best

private:
    struct Place {
        int cells = 0;
        double kv = 0.0;
        SizeCell cell;
    };
    void ask();
    void ask(LatestWorker<SizeAnswer>& worker, const SizeOptions& options);
    [[nodiscard]] QWidget* makeFigures();
    void take(std::shared_ptr<const SizeAnswer> answer);
    void tellNothing();
    void draw();
    void addPoints(MapContent& content);
    void drawFigures();
    [[nodiscard]] std::optional<Place> place() const; // chosen, else best
    [[nodiscard]] QString readout(int cellsIndex, int kvIndex) const;

    PlanSession& session_;
    std::shared_ptr<const SizeAnswer> answer_;
    std::optional<std::pair<int, int>> chosen_;
    MapChart* chart_ = nullptr;
    ValueTable* figures_ = nullptr;
    ShortLabel* title_ = nullptr;
    TextLabel *note_ = nullptr, *which_ = nullptr;
    QPushButton* put_ = nullptr;
    TabWatch watch_;
    LatestWorker<SizeAnswer> coarse_, fine_; // last: they end before the rest goes
};

} // namespace rw
