// The ladder from a proven speed to the target, as the page that it prints: a stair over speed, and for each step the
// change, what to expect, when to go on and when to stop. A chosen step goes on the bench by the button.
#pragma once

#include "app/desktop/pages/ladder_sheet.h"
#include "app/desktop/plan/tab_worker.h"
#include "core/choose/ladder.h"

#include <QWidget>

#include <optional>

class QDoubleSpinBox;
class QPushButton;

namespace rw {

class PagePrinter;
class ShortLabel;

// The ladder's page on screen, as it prints but as wide as it takes: beyond the window it scrolls. A step can be
// chosen, by a click or the arrow keys; never one that is likely to break a limit unless a person does it.
class StairView : public QWidget {
    Q_OBJECT
public:
    StairView();
    void setSheet(LadderSheet sheet);
    void setEmpty(const QString& words); // nothing but what to do next
    [[nodiscard]] const LadderSheet& sheet() const { return sheet_; }
    [[nodiscard]] std::optional<std::size_t> chosen() const { return chosen_; }
    void choose(std::optional<std::size_t> column);
    // Left and right of a column in the view.
    [[nodiscard]] std::pair<double, double> columnAt(std::size_t column) const;
    [[nodiscard]] bool hasHeightForWidth() const override { return true; }
    [[nodiscard]] int heightForWidth(int width) const override;
    [[nodiscard]] QSize sizeHint() const override { return minimumSizeHint(); }
    [[nodiscard]] QSize minimumSizeHint() const override;

signals:
    void choiceChanged();
    void columnWanted(int left, int right); // bring it into view

protected:
    void paintEvent(QPaintEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;

private:
    [[nodiscard]] bool choosable(std::size_t column) const;

    LadderSheet sheet_;
    QString empty_;
    std::optional<std::size_t> chosen_;
};

class LadderPanel : public QWidget {
    Q_OBJECT
public:
    explicit LadderPanel(PlanSession& session);
    [[nodiscard]] bool busy() const { return worker_.busy(); }
    [[nodiscard]] std::shared_ptr<const Ladder> ladder() const { return ladder_; }
    [[nodiscard]] PagePrinter& printer() { return *printer_; }
    [[nodiscard]] StairView& stair() { return *stair_; }
    void setProven(double metresPerSecond);
    void putOnBench(); // the chosen step; the target stays

private:
    [[nodiscard]] QWidget* makeBar();
    void makePrinting();
    void ask();
    void draw();
    void tellChoice();
    void showUnits();
    [[nodiscard]] LadderSheet sheet() const;
    [[nodiscard]] double provenNow() const; // m/s

    PlanSession& session_;
    std::shared_ptr<const Ladder> ladder_;
    std::optional<double> proven_; // m/s, as the person set it
    double asked_ = 0.0;           // proven speed of what is shown
    PlanInput start_;              // what it starts from
    QString trouble_;
    QDoubleSpinBox *provenField_ = nullptr, *stepField_ = nullptr;
    QPushButton *print_ = nullptr, *put_ = nullptr;
    ShortLabel* note_ = nullptr;
    StairView* stair_ = nullptr;
    PagePrinter* printer_ = nullptr;
    TabWatch watch_;
    LatestWorker<Ladder> worker_; // last: ends before the rest goes
};

} // namespace rw
