// What the review cannot know for sure and a person does: cells of each session, the cutoff that was set, and by how
// much the clock of the measured speed is off.
#pragma once

#include "app/desktop/review/review_desk.h"

#include <QDialog>

class QLineEdit;

namespace rw {

class ComplaintLabel;

class JudgingDialog : public QDialog {
    Q_OBJECT
public:
    JudgingDialog(ReviewDesk& review, QWidget* parent = nullptr);
    [[nodiscard]] QLineEdit& cells() { return *cells_; }
    [[nodiscard]] QLineEdit& cutoff() { return *cutoff_; }
    void accept() override;

private:
    ReviewDesk& review_;
    QLineEdit *cells_, *cutoff_, *nudge_;
    ComplaintLabel* problem_;
};

// "3, 6" → {3, 6}; empty → {}. nullopt: not so written, or no count from 1 to 30.
[[nodiscard]] std::optional<std::vector<int>> cellsFromText(const QString& text);

} // namespace rw
