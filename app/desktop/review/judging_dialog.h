// What the review cannot know for sure and a person does: cells of each session, the cutoff that was set, by how much
// the clock of the measured speed is off, and the limits and thresholds of one's own.
#pragma once

#include "app/desktop/review/review_desk.h"

#include <QDialog>

class QComboBox;
class QLineEdit;

namespace rw {

class ComplaintLabel;

class JudgingDialog : public QDialog {
    Q_OBJECT
public:
    JudgingDialog(ReviewDesk& review, QWidget* parent = nullptr);
    [[nodiscard]] QLineEdit& cells() { return *cells_; }
    [[nodiscard]] QLineEdit& cutoff() { return *cutoff_; }
    [[nodiscard]] QComboBox& limits() { return *limits_; }
    void accept() override;

private:
    void fillLimits(const Values& said);
    ReviewDesk& review_;
    QLineEdit *cells_, *cutoff_, *nudge_;
    QComboBox* limits_;
    std::vector<Values> sets_; // one an entry of limits_
    ComplaintLabel* problem_;
};

// "3, 6" → {3, 6}; empty → {}. nullopt: not so written, or no count from 1 to 30.
[[nodiscard]] std::optional<std::vector<int>> cellsFromText(const QString& text);

} // namespace rw
