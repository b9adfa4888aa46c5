// Over ribbon and lanes: which log is in view, what was found in it, by what it is judged, its best figures.
#pragma once

#include "app/desktop/review/review_desk.h"

#include <QWidget>

class QComboBox;
class QPushButton;
class QToolButton;

namespace rw {

class FigureLabel;
class ShortLabel;
class TextLabel;

class ReviewHead : public QWidget {
    Q_OBJECT
public:
    explicit ReviewHead(ReviewDesk& review);

signals:
    void importWanted();

private:
    void refresh();
    void fillLogs();
    [[nodiscard]] QWidget* figure(const QString& name, FigureLabel* label) const;

    ReviewDesk& review_;
    QComboBox* logs_;
    ShortLabel* summary_;
    QToolButton* check_;
    FigureLabel *best_, *hottest_;
};

// "2 sessions, 5 passes · 25 rows a second · judged by Heron 26/44"
[[nodiscard]] QString summaryOf(const ReviewData& data, const QString& benchName);
// Columns that a person should look at: used though not certain, or guessed but not used.
[[nodiscard]] int doubtfulColumns(const ImportReport& report);

// Asks where the plan's cell count and the resting voltage do not agree: which of the two was it? The answer is kept
// with the log. Nothing is seen where there is nothing to ask.
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
    explicit CellsQuestion(ReviewDesk& review);
    [[nodiscard]] QPushButton& byVoltage() { return *byVoltage_; }

private:
    void refresh();
    void answer(bool asPlanned);

    ReviewDesk& review_;
    TextLabel* sentence_;
    QPushButton *byVoltage_, *asPlanned_;
};

} // namespace rw
