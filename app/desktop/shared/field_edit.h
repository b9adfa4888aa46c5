// A number in a column: figures right-aligned in tabular digits with a soft "± uncertainty" while it is read, a plain
// line to type in while it has the focus. Up and down step it; Ctrl+Backspace puts the kept value back.
#pragma once

#include <QLineEdit>
#include <QString>

namespace rw {

class FieldEdit : public QLineEdit {
    Q_OBJECT
public:
    enum class State { Same, Changed, Wrong };

    explicit FieldEdit(QWidget* parent = nullptr);
    void setUncertainty(const QString& text); // "0.2" or ""
    void setState(State state);
    [[nodiscard]] State state() const { return state_; }

signals:
    void stepped(int steps);
    void putBackWanted();
    void focused();
    void left();

protected:
    void paintEvent(QPaintEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void wheelEvent(QWheelEvent* event) override;
    void focusInEvent(QFocusEvent* event) override;
    void focusOutEvent(QFocusEvent* event) override;

private:
    QString uncertainty_;
    State state_ = State::Same;
};

} // namespace rw
