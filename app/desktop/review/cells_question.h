// Asks where the plan's cell count and the resting voltage do not agree: which of the two was it? The answer is kept
// with the log. Nothing is seen where there is nothing to ask.
#pragma once

#include "app/desktop/review/review_desk.h"

#include <QWidget>

class QPushButton;

namespace rw {

class TextLabel;

struct CellsDispute {
    std::vector<std::size_t> sessions; // that do not agree
    int planned = 0;
    std::vector<int> byVoltage; // of every session, as told by its resting voltage where they differ
};
// none: plan and log agree, or the owner has said it already.
[[nodiscard]] std::optional<CellsDispute> cellsDispute(const ReviewData& data);

class CellsQuestion : public QWidget {
    Q_OBJECT
public:
    explicit CellsQuestion(ReviewDesk& review, QWidget* parent = nullptr);
    [[nodiscard]] QPushButton& byVoltage() { return *byVoltage_; }

private:
    void refresh();
    void answer(std::vector<int> cells);

    ReviewDesk& review_;
    TextLabel* sentence_;
    QPushButton *byVoltage_, *asPlanned_;
};

} // namespace rw
