// A complaint that stays until it is read: what went wrong and what to do. Never blocks the window.
#pragma once

#include <QString>
#include <QWidget>

namespace rw {

class TextLabel;

class NoticeBar : public QWidget {
    Q_OBJECT
public:
    explicit NoticeBar(QWidget* parent = nullptr);
    void complain(const QString& title, const QString& sentence);
    [[nodiscard]] QString text() const;

protected:
    void paintEvent(QPaintEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;

private:
    TextLabel* title_ = nullptr;
    TextLabel* sentence_ = nullptr;
};

} // namespace rw
