// The bench left, the work in the middle, the limits right. In a window too narrow for three, bench and limits take
// turns, and the answer to "Will it hold?" stands above them in a line; too narrow for two, the bench is folded to a
// rail at the window's edge and comes back by a click. Where the middle is a page, both are folded so.
#pragma once

#include <QAbstractButton>
#include <QSplitter>
#include <QWidget>

class QToolButton;

namespace rw {

class HoldPanel;
class SetupPanel;
class ShortLabel;

// What is left of a column that is folded away: a thin strip with its words written upwards. Pressed, the column stands
// beside it; pressed again, it is folded.
class EdgeRail : public QAbstractButton {
    Q_OBJECT
public:
    explicit EdgeRail(Qt::Edge edge);
    void setWords(const QString& strong, const QString& rest);
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override { return {sizeHint().width(), 0}; }

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    Qt::Edge edge_;
    QString strong_, rest_;
};

class PlanColumns : public QWidget {
    Q_OBJECT
public:
    PlanColumns(SetupPanel& setup, QWidget& middle, HoldPanel& hold);
    [[nodiscard]] QByteArray saveState() const { return columns_->saveState(); }
    void restoreState(const QByteArray& state) { columns_->restoreState(state); }
    void setAlone(bool alone); // the middle is a page
    void showBench();          // whatever hides it
    void setBenchWords(const QString& words);
    [[nodiscard]] bool limitsShown() const;

signals:
    void placed(); // limitsShown() answers anew

protected:
    void resizeEvent(QResizeEvent* event) override;

private:
    void makeAnswerRow();
    void makeRails();
    void place();

    SetupPanel& setup_;
    HoldPanel& hold_;
    bool alone_ = false;
    QSplitter* columns_ = nullptr;
    QWidget* answerRow_ = nullptr;
    ShortLabel* answer_ = nullptr;
    QToolButton* limits_ = nullptr;
    EdgeRail *benchRail_ = nullptr, *limitsRail_ = nullptr;
};

} // namespace rw
