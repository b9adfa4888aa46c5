// The bench left, the work in the middle, the limits right. In a window too narrow for three, bench and limits take
// turns, and the answer to "Will it hold?" stands above them in a line.
#pragma once

#include <QWidget>

class QSplitter;
class QToolButton;

namespace rw {

class HoldPanel;
class SetupPanel;
class ShortLabel;

class PlanColumns : public QWidget {
    Q_OBJECT
public:
    PlanColumns(SetupPanel& setup, QWidget& middle, HoldPanel& hold, QWidget* parent = nullptr);
    [[nodiscard]] QByteArray saveState() const;
    void restoreState(const QByteArray& state);
    void setAlone(bool alone); // the middle has all the room: it is a page

protected:
    void resizeEvent(QResizeEvent* event) override;

private:
    void makeAnswerRow();
    void place();

    SetupPanel& setup_;
    HoldPanel& hold_;
    bool alone_ = false;
    QSplitter* columns_ = nullptr;
    QWidget* answerRow_ = nullptr;
    ShortLabel* answer_ = nullptr;
    QToolButton* limits_ = nullptr;
};

} // namespace rw
