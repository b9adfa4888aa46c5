// What a person says of a log: by what it is judged, and what was noted of a pass.
#pragma once

#include "app/desktop/review/review_data.h"
#include "app/desktop/review/review_desk.h"
#include "app/desktop/shared/units.h"

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

// Speeds of a kept pass that were only read off, and which way it ran: kept with the pass, and learned from.
class NotedDialog : public QDialog {
    Q_OBJECT
public:
    NotedDialog(std::size_t pass, const PassNote& note, const Units& units, QWidget* parent = nullptr);
    [[nodiscard]] const PassNote& note() const { return note_; } // valid after accept()
    [[nodiscard]] QLineEdit& peak() { return *peak_.speed; }
    [[nodiscard]] QLineEdit& zone() { return *zone_.speed; }

    void accept() override;

private:
    struct Row {
        QLineEdit *speed = nullptr, *spread = nullptr;
    };
    [[nodiscard]] Row makeRow(const QString& name, SpeedKind kind);
    void read(const Row& row, SpeedKind kind, std::vector<SpeedNote>& notes) const; // throws InputError

    const Units& units_;
    PassNote note_;
    Row peak_, zone_;
    QComboBox* direction_ = nullptr;
    ComplaintLabel* complaint_ = nullptr;
};

} // namespace rw
