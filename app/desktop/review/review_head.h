// Over ribbon and lanes: which log is in view, what was found in it, by what it is judged, its best figures.
#pragma once

#include "app/desktop/review/review_desk.h"

#include <QWidget>

class QComboBox;
class QToolButton;

namespace rw {

class FigureLabel;
class ShortLabel;

class ReviewHead : public QWidget {
    Q_OBJECT
public:
    explicit ReviewHead(ReviewDesk& review, QWidget* parent = nullptr);

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

} // namespace rw
