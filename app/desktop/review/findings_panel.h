// What the log says: a card per finding, the most serious first; a click or Enter goes to its evidence.
// Below them what could not be judged, and why: silence must mean fine.
#pragma once

#include "app/desktop/review/review_desk.h"

#include <QFrame>
#include <QTimer>
#include <QWidget>

class QPushButton;
class QVBoxLayout;

namespace rw {

class TextLabel;

// Acts as a button.
class FindingCard : public QFrame {
    Q_OBJECT
public:
    FindingCard(const ReviewData& current, std::size_t finding, const Units& units);
    [[nodiscard]] std::size_t finding() const { return finding_; }
    void setShown(bool shown); // its evidence is in view

signals:
    void activated(std::size_t finding);

protected:
    void mouseReleaseEvent(QMouseEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void paintEvent(QPaintEvent* event) override;

private:
    std::size_t finding_;
    bool shown_ = false;
};

class FindingsPanel : public QWidget {
    Q_OBJECT
public:
    explicit FindingsPanel(ReviewDesk& review);
    [[nodiscard]] QList<FindingCard*> cards() const;
    [[nodiscard]] bool filling() const { return pace_.isActive(); } // cards are still being added

private:
    void refresh();
    void addSome(); // a handful of cards at a time, a page of them: a season of findings does not hold up the window
    void showMore();
    void addTail(const LogReview& review);
    void addNotJudged(const LogReview& review);
    void addNotes(const LogReview& review);

    ReviewDesk& review_;
    std::vector<std::size_t> order_; // findings, the most serious first
    std::size_t next_ = 0;           // of the order, to be added
    std::size_t page_ = 0;           // as far as cards are wanted
    QTimer pace_;
    TextLabel* heading_;
    QVBoxLayout *cards_, *tail_; // findings; what was not judged and how the log was read
    QPushButton* more_;
};

// Numbers from 1 of rising indices: "1–4, 7".
[[nodiscard]] QString rangesText(const std::vector<std::size_t>& indices);

// "session 1, pass 3, 5.1–8.2 s"
[[nodiscard]] QString placeOf(const ReviewData& current, const Finding& finding);

} // namespace rw
