// Passes laid over each other, of all open logs, from the throttle's start, over time or distance; the plan's
// prediction as one more trace. core/review/README.md.
#pragma once

#include "app/desktop/review/review_desk.h"

#include <QWidget>

#include <utility>
#include <vector>

class QCheckBox;
class QComboBox;
class QListWidget;

namespace rw {

class Chart;

class OverlayPanel : public QWidget {
    Q_OBJECT
public:
    explicit OverlayPanel(ReviewDesk& review, QWidget* parent = nullptr);
    [[nodiscard]] Chart& chart() { return *chart_; }
    [[nodiscard]] QListWidget& passes() { return *passes_; }
    [[nodiscard]] QComboBox& quantity() { return *quantity_; }
    [[nodiscard]] QComboBox& over() { return *over_; }

protected:
    void showEvent(QShowEvent* event) override;

private:
    void fillPasses();
    void noteTicks();
    void addPasses(const ReviewData& log, bool several);
    [[nodiscard]] bool ticked(int log, std::size_t pass) const;
    void fillQuantities();
    void draw();

    ReviewDesk& review_;
    QListWidget* passes_;
    QComboBox *quantity_, *over_;
    QCheckBox* plan_;
    Chart* chart_;
    bool stale_ = true;                       // the list of passes is filled when it is looked at
    std::vector<std::pair<int, int>> chosen_; // log and pass, as ticked
    int shown_ = 0;                           // the log that was in hand when it was filled
};

} // namespace rw
