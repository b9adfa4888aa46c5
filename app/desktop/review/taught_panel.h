// "What this day taught": what a log told of the vehicle, how well the last pass was foretold, where model and log
// part, and what to change next. Learning runs beside the interface thread and can be stopped.
#pragma once

#include "app/desktop/review/day_taught.h"
#include "app/desktop/review/review_desk.h"
#include "app/desktop/review/taught_rows.h"
#include "app/desktop/shared/jobs.h"

#include <QWidget>

class QBoxLayout;
class QCheckBox;
class QPushButton;
class QStackedWidget;

namespace rw {

class BarTable;
class FoldHead;
class ResidualView;
class TextLabel;

class TaughtPanel : public QWidget {
    Q_OBJECT
public:
    explicit TaughtPanel(ReviewDesk& review);

    void learn(); // from the log in view
    [[nodiscard]] bool busy() const { return runner_.busy(); }
    [[nodiscard]] std::shared_ptr<const DayTaught> day() const { return day_; } // null: nothing learned of this log
    void setDay(std::shared_ptr<const DayTaught> day);
    void putOnBench();
    void putChange(std::size_t change); // of what to change next
    void keepInGarage();                // asks which parts

    [[nodiscard]] BarTable& parameters() { return *parameters_; }
    [[nodiscard]] BarTable& foretold() { return *foretold_; }
    [[nodiscard]] BarTable& changes() { return *changes_; }

protected:
    void resizeEvent(QResizeEvent* event) override;

private:
    [[nodiscard]] QWidget* makeStart();
    [[nodiscard]] QWidget* makeResult();
    [[nodiscard]] QWidget* makeLast();
    void makeButtons();
    void refresh();
    void fillNotes();
    void fill();
    void fillZone();
    [[nodiscard]] bool benchHoldsSetup() const;

    ReviewDesk& review_;
    std::shared_ptr<const DayTaught> day_;
    QStackedWidget* pages_ = nullptr;
    QBoxLayout* columns_ = nullptr;
    FoldHead* moreNotes_ = nullptr;
    TextLabel *why_ = nullptr, *summary_ = nullptr, *dayWords_ = nullptr, *lastHead_ = nullptr, *lastWords_ = nullptr,
              *first_ = nullptr, *notes_ = nullptr, *restNotes_ = nullptr, *zone_ = nullptr;
    QPushButton *start_ = nullptr, *again_ = nullptr, *bench_ = nullptr, *keep_ = nullptr;
    QCheckBox *coast_ = nullptr, *trust_ = nullptr;
    QWidget* nextPart_ = nullptr; // hidden where there is nothing to choose from
    BarTable *parameters_ = nullptr, *foretold_ = nullptr, *changes_ = nullptr, *followed_ = nullptr,
             *zoneBars_ = nullptr;
    ResidualView* residuals_ = nullptr;
    JobRunner runner_; // last: ends before the rest goes
};

} // namespace rw
