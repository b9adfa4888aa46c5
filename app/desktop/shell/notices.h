// What the window says: a complaint on top, and a line at the foot with long work under way.
#pragma once

#include <QString>
#include <QWidget>

class QProgressBar;
class QPushButton;

namespace rw {

class Jobs;
class ShortLabel;
class TextLabel;

class FootLine : public QWidget {
    Q_OBJECT
public:
    explicit FootLine(Jobs& jobs, QWidget* parent = nullptr);
    void say(const QString& sentence);

private:
    void showJobs();

    Jobs& jobs_;
    ShortLabel* said_ = nullptr;
    QWidget* work_ = nullptr;
    TextLabel* workText_ = nullptr;
    QProgressBar* bar_ = nullptr;
    QPushButton* stop_ = nullptr;
    int shownJob_ = 0;
};

// A complaint that stays until it is read: what went wrong and what to do. Never blocks the window.
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
