// A number in a column: figures right-aligned in tabular digits with a soft "± uncertainty" while it is read, a plain
// line to type in while it has the focus. Up and down step it; Ctrl+Backspace puts the kept value back; undo and redo
// are the window's, so that a plan's last change goes whichever field has the focus.
#pragma once

#include <QLineEdit>
#include <QObject>
#include <QPointer>
#include <QString>
#include <QWidget>

#include <functional>

namespace rw {

class FieldEdit : public QLineEdit {
    Q_OBJECT
public:
    enum class State { Same, Changed, Wrong };

    explicit FieldEdit(QWidget* parent = nullptr);
    void setUncertainty(const QString& text); // "0.2" or ""
    void setState(State state);
    void setEstimated(bool estimated); // light, so that an estimate is not read as a fact
    [[nodiscard]] bool estimated() const { return estimated_; }
    void setHelp(const QString& help); // the tool tip, under the whole value where that does not fit
    struct Painted {
        QString value, tail; // as they stand on the screen while it is read; shortened at the right
        bool whole = true;
    };
    [[nodiscard]] Painted painted() const;
    // Asked first where Tab (true) or Shift+Tab (false) shall go; false: wherever it goes anyway.
    void setTabWay(std::function<bool(bool next)> way) { tabWay_ = std::move(way); }
    [[nodiscard]] State state() const { return state_; }

signals:
    void stepped(int steps);
    void putBackWanted();
    void uncertaintyWanted(); // "±" was typed
    void focused();
    void left();

protected:
    bool event(QEvent* event) override;
    bool focusNextPrevChild(bool next) override;
    void resizeEvent(QResizeEvent* event) override;
    void paintEvent(QPaintEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void wheelEvent(QWheelEvent* event) override;
    void focusInEvent(QFocusEvent* event) override;
    void focusOutEvent(QFocusEvent* event) override;

private:
    [[nodiscard]] QFont valueFont() const;
    [[nodiscard]] QString tail() const; // " ± 0.2" or ""
    void tellWhole();

    QString uncertainty_, help_;
    State state_ = State::Same;
    bool estimated_ = false;
    std::function<bool(bool)> tabWay_;
};

// A wheel over a window scrolls it; it changes a value only where a click said so. Fields, choices, spin boxes and
// sliders that slide under the pointer while a page scrolls keep their value and let the page scroll on.
// Watches every widget of the application while it lives: a control takes the wheel only while it has the focus, was
// clicked into, and the pointer has not left it since.
class WheelGuard : public QObject {
    Q_OBJECT
public:
    explicit WheelGuard(QObject* parent = nullptr);

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    QPointer<QWidget> clicked_;
};

} // namespace rw
